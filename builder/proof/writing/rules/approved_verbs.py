"""An instruction uses a verb of the list, where each verb has one meaning.

The list is `catalogue/verbs.yaml`. Words that a verb of the list replaces are found wherever they stand as verbs: "fit"
in "before you fit the wheel", but not in "a good fit".

Passes:
    Install the wheel.
    Make sure that the lever is closed.
    If the check shows a fault, stop.
Fails:
    Check the lever.
    Undo the bolt.
    Before you fit the wheel, clean the axle.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity, nearest
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste
from builder.proof.writing.tagging import Tag, Tagged

ID = "W17"
GRAVITY = Gravity.ERROR
SOURCE = ste("rules 1.1 to 1.4, 1.12, 3.1 and 3.7; the list of verbs is our own")
LIMIT = "verbs of the workshop list, each with its one meaning"
KINDS = (TextKind.INSTRUCTION, TextKind.REASON, TextKind.RESULT, TextKind.STATE, TextKind.CONDITION, *CAUTIONS)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every command that is not on the list, and every other verb that one of the list replaces."""
    words = context.lexicon
    for sentence in text.sentences:
        for place, tag in enumerate(sentence.tags):
            word = sentence.lower[place]
            if tag is Tag.COMMAND:
                if word in words.approved and not _half_of_make_sure(sentence, place):
                    continue
                yield _finding(sentence, place, word, context)
            elif tag is Tag.VERB and word in words.replaced:
                yield _finding(sentence, place, word, context)
            elif tag is Tag.PARTICIPLE and words.participles.get(word, "") in words.replaced:
                yield _finding(sentence, place, words.participles[word], context)


def _half_of_make_sure(sentence: Tagged, place: int) -> bool:
    return sentence.lower[place] == "make" and sentence.lower[place + 1 : place + 2] != ("sure",)


def _finding(sentence: Tagged, place: int, verb: str, context: Context) -> Finding:
    use = context.lexicon.replaced.get(verb) or nearest(verb, context.lexicon.approved)
    hint = f"write “{use}”" if use else "write a verb of catalogue/verbs.yaml"
    return Finding(
        found=f"“{sentence.tokens[place].text}” is not a verb of the workshop list: {quoted(sentence.sentence.text)}",
        repair=f"{hint}; the meaning of each verb stands in the list",
    )
