"""A guide says how long it takes: time to prepare and time to work, both more than nothing.

Passes:
    (prepare-time: 15 min, work-time: 75 min)
Fails:
    (prepare-time: 15 min, work-time: 0 min)
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S19"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="schema.org HowTo", locator="prepTime, performTime, totalTime", known=Known.RESTATED)
LIMIT = "both times above 0 min; the builder adds them up"


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """A time that is nothing or less."""
    del context
    guide = element.record
    for key, minutes in (("prepare-time", guide.prepare_time_min), ("work-time", guide.work_time_min)):
        if minutes <= 0:
            yield Finding(
                found=f"a '{key}' of {minutes:g} min", repair="give the time in minutes", at=guide.places.of(key)
            )
