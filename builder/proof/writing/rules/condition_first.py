"""A condition stands before its command, with a comma between them.

A reader who does the act before reading on has done it too soon. A "when" or "if" inside a that-clause says what to
look at, and may stand at the end.

Passes:
    If the chain is worn, replace it.
    Make sure that the lever does not move when you pull it.
    Squeeze the lever until it is hard.
Fails:
    Replace the chain if it is worn.
    Stop when the lever touches the bar.
    If the chain is worn replace the chain.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted
from builder.proof.writing.tagging import Tag, Tagged

ID = "W08"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="ASD-STE100 Simplified Technical English, rule 5.4, and IF/WHEN ... THEN practice of procedure writers",
    known=Known.RESTATED,
)
LIMIT = "the condition first, then a comma, then the command"
KINDS = (TextKind.INSTRUCTION,)
_CONDITIONS = frozenset({"if", "when", "unless", "whenever"})
_OPENS_CLAUSE = frozenset({"that", "whether", "until", "so", "because", "which", "while", "before", "after"})


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Conditions behind their command, and conditions that no comma closes."""
    del context
    for sentence in text.sentences:
        if sentence.opener and sentence.condition_end is None and not _has_comma(sentence):
            yield Finding(
                found=f"no comma closes the condition: {quoted(sentence.sentence.text)}",
                repair="put a comma between the condition and the verb of the command",
            )
        elif (place := _late_condition(sentence)) is not None:
            word = sentence.lower[place]
            yield Finding(
                found=f"the condition “{word} ...” stands behind its command: {quoted(sentence.sentence.text)}",
                repair=f"begin with “{word.capitalize()} ...”, then a comma, then the command",
            )


def _has_comma(sentence: Tagged) -> bool:
    return any(token.is_mark(",") for token in sentence.tokens)


def _late_condition(sentence: Tagged) -> int | None:
    """The place of a condition word that belongs to the command itself, or None."""
    if not sentence.commands:
        return None
    for place in range(sentence.commands[0] + 1, len(sentence.tokens)):
        if sentence.tags[place] is Tag.SUBORDINATOR and sentence.lower[place] in _OPENS_CLAUSE:
            return None
        if sentence.lower[place] in _CONDITIONS and sentence.tokens[place].text == sentence.lower[place]:
            return place
    return None
