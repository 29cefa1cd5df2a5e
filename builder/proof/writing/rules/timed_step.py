"""A step that takes a set time gives it as `wait`, and says in `limit` what to do if the time was not kept.

The card then prints a place for the start and the end.

Passes:
    {do: Wait until the sealant is dry., wait: 30 min, limit: "If the time was shorter, wait again."}
Fails:
    {do: Wait until the sealant is dry., wait: 30 min}
    {do: Wait 30 minutes.}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Step
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S13"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="DOE-STD-1029-92", locator="section 4, time-dependent action steps", known=Known.LOOKED_UP)
LIMIT = "'wait' for the time and 'limit' for what to do if it was not kept"
_TIME = re.compile(
    r"\b(?:wait|let|leave|keep|hold)\b[^.]*?\b(?:\d+|one|two|three|five|ten|twenty|thirty)\s*"
    r"(?:min|minutes?|h|hours?|days?)\b|\bovernight\b",
    re.IGNORECASE,
)


def check(element: Element[Step], context: Context) -> Iterator[Finding]:
    """A time in words alone, and a time without what to do if it was not kept."""
    del context
    step = element.record
    if step.wait_min is None:
        if found := _TIME.search(step.do):
            yield Finding(found=f"a time in the text alone: “{found[0]}”", repair="add 'wait'", at=step.places.of("do"))
    elif not step.limit:
        yield Finding(
            found="a timed step that does not say what to do if the time was not kept",
            repair="add 'limit'",
            at=step.places.of("wait"),
        )
