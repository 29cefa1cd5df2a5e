"""A torque is a range with two limits; a fastener without one says how its tightness is felt.

Passes:
    {torque: 5–6 N·m}
    {feel: The lever leaves a mark in the palm.}
Fails:
    {torque: 5 N·m}
    {feel: ""}
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import Fastener
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "N03"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="DOE-STD-1029, acceptance criteria and tolerances", known=Known.FROM_MEMORY)
LIMIT = "a low and a high limit, or a feel"


def check(element: Element[Fastener], context: Context) -> Iterator[Finding]:
    """A single torque, and neither a torque nor a feel."""
    del context
    fastener = element.record
    if fastener.torque_nm is None:
        if not fastener.feel.strip():
            yield Finding(found="neither a torque nor a feel", repair="give 'torque' as a range, or 'feel'")
    elif fastener.torque_nm.low >= fastener.torque_nm.high:
        value = fastener.torque_nm.low
        yield Finding(
            found=f"a single torque of {value:g} N·m",
            repair=f"give its limits, such as {0.9 * value:.2g} to {1.1 * value:.2g} N·m",
            at=fastener.places.of("torque"),
        )
