"""A guide says when it is complete: `done-when` names the end state.

Passes:
    (done-when: Every gear runs without a noise, and the brake test is passed.)
Fails:
    (done-when: "")
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S09"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="Degani and Wiener 1990, NASA CR-177549", locator="appendix A, guideline 6", known=Known.RESTATED
)
LIMIT = "an end state in 'done-when'"
LEAST_WORDS = 3


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """No end state."""
    del context
    guide = element.record
    if len(guide.done_when.split()) < LEAST_WORDS:
        yield Finding(
            found="the guide does not say when it is complete",
            repair="name in 'done-when' what is so at the end",
            at=guide.places.of("done-when"),
        )
