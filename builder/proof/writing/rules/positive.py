"""A step says what to do; "do not" is kept for what carries a risk, and then the risk is told.

Passes:
    Keep the lever open.
Fails:
    Do not close the lever.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted

ID = "W22"
GRAVITY = Gravity.NOTE
SOURCE = RuleSource(
    title="Jones 1966, as cited by a guide for procedure writers", locator="guideline 1", known=Known.RESTATED
)
LIMIT = "“do not” only with its risk: a caution or a reason in the same step"
KINDS = (TextKind.INSTRUCTION,)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every "do not" of a step that tells no risk."""
    del context
    if text.step is not None and (text.step.why or text.step.cautions):
        return
    for sentence in text.sentences:
        for place in sentence.commands:
            if sentence.lower[max(place - 2, 0) : place] == ("do", "not"):
                yield Finding(
                    found=f"“Do not” without its risk: {quoted(sentence.sentence.text)}",
                    repair="say what to do instead, or give the reason in 'why'",
                )
