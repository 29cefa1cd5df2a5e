"""The middle of a torque range, with the deviation that a torque wrench may have, stays within the range.

Reckoned are 4 % above 10 N·m and 6 % up to 10 N·m.

Passes:
    {torque: 35–45 N·m}
Fails:
    {torque: 39.5–40.5 N·m}
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import Fastener
from builder.model.units import Unit, write_range
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "N05"
GRAVITY = Gravity.WARNING
SOURCE = RuleSource(
    title="ISO 6789-1", locator="permissible deviation of setting tools (type II)", known=Known.FROM_MEMORY
)
SPLIT_NM, TO_SPLIT, ABOVE_SPLIT = 10.0, 0.06, 0.04
LIMIT = f"a range wider than ± {ABOVE_SPLIT:.0%} above {SPLIT_NM:g} N·m, ± {TO_SPLIT:.0%} up to it"


def check(element: Element[Fastener], context: Context) -> Iterator[Finding]:
    """A range that a good torque wrench can miss."""
    del context
    span = element.record.torque_nm
    if span is None or span.low >= span.high:
        return
    deviation = span.middle * (ABOVE_SPLIT if span.middle > SPLIT_NM else TO_SPLIT)
    if not (span.holds(span.middle - deviation) and span.holds(span.middle + deviation)):
        yield Finding(
            found=f"{write_range(span, Unit.NEWTON_METRE, 2)} is narrower than a torque wrench is exact",
            repair="widen the range, if the maker's figure allows it",
            at=element.record.places.of("torque"),
        )
