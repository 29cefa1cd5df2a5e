"""A step is in the active voice: it says what to do, not what is done.

What is found is a main clause in the passive. A participle that tells a state may stand in a condition or a
that-clause: "make sure that the lever is closed".

Passes:
    Tighten the bolt.
    If the lever is closed, open it.
    Make sure that the lever is closed.
Fails:
    The bolt is tightened with the torque wrench.
    Hold the axle. The nut is then removed by hand.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste
from builder.proof.writing.tagging import Tag, Tagged

ID = "W10"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 3.6")
LIMIT = "the active voice in a step"
KINDS = (TextKind.INSTRUCTION,)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every sentence of a step whose main clause is in the passive."""
    del context
    for sentence in text.sentences:
        place = _passive(sentence)
        if place is not None:
            yield Finding(
                found=f"“{sentence.lower[place]} ...” in the passive voice: {quoted(sentence.sentence.text)}",
                repair="begin with the verb: “Tighten the bolt”, not “The bolt is tightened”",
            )


def _passive(sentence: Tagged) -> int | None:
    """The place of the form of "be" of a passive main clause, or None."""
    if sentence.commands:
        return None
    for place, tag in enumerate(sentence.tags):
        if tag is Tag.SUBORDINATOR:
            return None
        if tag is not Tag.BE:
            continue
        following = [tag for tag in sentence.tags[place + 1 :] if tag is not Tag.ADVERB]
        if following and following[0] is Tag.PARTICIPLE:
            return place
    return None
