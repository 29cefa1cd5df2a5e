"""Cautions are few: at most one DANGER on a card, and on average at most one message for each three steps.

A card on which every step warns is read as one that warns of nothing. Counted are the messages ahead of the steps of
the whole guide, those attached by rule included.

Passes:
    (a guide of 12 steps with 4 messages)
Fails:
    (a guide of 12 steps with 5 messages)
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import SignalWord
from builder.model.guide import Guide
from builder.model.inlining import inlined
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource
from builder.tailoring.hazards import cautions_for, signal_word

ID = "H11"
GRAVITY = Gravity.WARNING
SOURCE = RuleSource(
    title="ISO 9244 and the Z535 series (“DANGER shall be used sparingly”)",
    locator="ISO 9244, 4.6.2; the numbers are our own",
    known=Known.RESTATED,
)
MOST_DANGERS = 1
STEPS_A_MESSAGE = 3
LIMIT = f"at most {MOST_DANGERS} DANGER, and one message for each {STEPS_A_MESSAGE} steps on average"


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """Too many DANGERs, and too many messages for the number of steps."""
    library = context.library
    steps = inlined(element.record, library)
    shown = [caution for placed in steps for caution in cautions_for(placed.step, library, {})]
    dangers = {caution.id for caution in shown if signal_word(caution) is SignalWord.DANGER}
    if len(dangers) > MOST_DANGERS:
        yield Finding(
            found=f"{len(dangers)} messages with DANGER: {', '.join(sorted(dangers))}",
            repair="ask whether each of them will, not could, kill or injure seriously",
        )
    if len(shown) * STEPS_A_MESSAGE > len(steps):
        yield Finding(
            found=f"{len(shown)} messages for {len(steps)} steps",
            repair="put what holds for the whole job in the guide's 'cautions', and ask which repeats help nobody",
        )
