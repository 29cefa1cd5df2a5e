"""A safety message begins with a clear command or with a condition.

Passes:
    Keep oil away from the rotor. An oily brake can fail.
    If a carbon part had an impact, remove it from service. It can break.
Fails:
    Oil on the rotor makes the brake fail.
    There is a danger of burns.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage
from builder.proof.writing.rule import Finding, quoted, ste

ID = "H04"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 7.2")
LIMIT = "a command or a condition at the head of the message"
KINDS = CAUTIONS


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """A message whose first sentence begins otherwise."""
    del context
    if not text.sentences:
        return
    first = text.sentences[0]
    start = 0 if first.condition_end is None else first.condition_end + 1
    place = start + 2 if first.lower[start : start + 2] == ("do", "not") else start
    if place not in first.commands:
        yield Finding(
            found=f"the message begins with no command and no condition: {quoted(first.sentence.text)}",
            repair="say first what to do or not to do, then what may follow",
        )
