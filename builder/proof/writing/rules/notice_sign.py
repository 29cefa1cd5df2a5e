"""A message about things alone (NOTICE) carries no warning triangle.

Passes:
    {text: Do not clamp the tube. It can bend., harm: things, severity: damage, likelihood: could}
Fails:
    {text: Do not clamp the tube. It can bend., harm: things, severity: damage, likelihood: could, signs: [W001]}
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import Caution, SignalWord
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource
from builder.tailoring.hazards import signal_word

ID = "H08"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="ANSI Z535.6", locator="definition of NOTICE", known=Known.RESTATED)
LIMIT = "no warning sign (W...) with NOTICE"


def check(element: Element[Caution], context: Context) -> Iterator[Finding]:
    """A NOTICE with a warning sign."""
    del context
    caution = element.record
    warnings = [sign for sign in caution.signs if sign.startswith("W")]
    if signal_word(caution) is SignalWord.NOTICE and warnings:
        yield Finding(
            found=f"a NOTICE with the warning sign {warnings[0]}",
            repair="leave the sign out, or say which person is harmed",
            at=caution.places.of("signs"),
        )
