"""A step that tightens a fastener shows its torque; where a fastener has none, the step shows what is felt.

Passes:
    {do: "Tighten the lockring to {{ torque }}.", tightens: cassette-lockring}
    {do: Close the lever with the palm of your hand., tightens: rear-skewer}
Fails:
    {do: Tighten the lockring., tightens: cassette-lockring}
    {do: "Tighten the lever to {{ torque }}.", tightens: rear-skewer}
    {do: "Tighten the lockring to {{ torque }}."}
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Step
from builder.model.named_values import names_in
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "N02"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="acceptance criteria of DOE procedure standards; S1000D quantities", known=Known.RESTATED)
LIMIT = "{{ torque }} in every step that tightens a fastener with a torque, and in no other"


def check(element: Element[Step], context: Context) -> Iterator[Finding]:
    """A torque that is not shown, and one that is shown and does not exist."""
    step = element.record
    at = step.places.of("do")
    fastener = context.library.fasteners.get(step.tightens or "")
    shown = any("torque" in names_in(text) for text in (step.do, *(choice.do for choice in step.choose)))
    if fastener is None:
        if shown and step.tightens is None:
            yield Finding(
                found="{{ torque }} in a step that tightens no fastener",
                repair="name the fastener in 'tightens'",
                at=at,
            )
    elif fastener.torque_nm is not None and not shown:
        yield Finding(
            found=f"the torque of '{fastener.id}' is not shown in the step",
            repair="write “... to {{ torque }}.”",
            at=at,
        )
    elif fastener.torque_nm is None and shown:
        yield Finding(
            found=f"{{{{ torque }}}} of '{fastener.id}', which has none",
            repair="say what is felt, or give the fastener a torque",
            at=at,
        )
