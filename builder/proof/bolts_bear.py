"""Hold every torque against what its bolt can bear: of each fastener, and each part's own figure for one."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.bolts import fastener_plausibility
from builder.checks.result import CheckResult, InputError, Verdict
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Fastener
from builder.model.library import Library
from builder.model.position import Position
from builder.model.torque import own_figures
from builder.model.units import Range, Unit, write_range

_DECIMAL = 10.0
# Where no class is written: what no bolt bears is wrong for certain; what a usual one does not bear is asked about.
_STRONGEST, _USUAL = "12.9", "8.8"
# The lines of the working that show why: preload against proof load.
_SHOWN_WORKING = ("Preload at the upper end", "Proof load", "Share of the proof load")


def plausible_torques(library: Library) -> tuple[Diagnostic, ...]:
    """Every torque that its bolt could not bear: of each fastener, and each part's own figure for one."""
    found: list[Diagnostic] = []
    for fastener in library.fasteners.values():
        if fastener.torque_nm is not None:
            found.extend(_torque(fastener, fastener.torque_nm, fastener.places.of("torque")))
    for part, fastener, torque in own_figures(library):
        found.extend(_torque(fastener, torque, part.places.of(f"torques.{fastener.id}")))
    return tuple(found)


def _torque(fastener: Fastener, torque: Range, at: Position) -> Iterator[Diagnostic]:
    try:
        result = _plausible(fastener, torque, fastener.property_class or _STRONGEST)
    except InputError as error:
        message, _, hint = str(error).partition("; ")
        at = fastener.places.of("property-class")
        yield Diagnostic(rule="property-class", message=message, at=at, hints=(hint,) if hint else ())
        return
    if result is not None and result.verdict is Verdict.DOES_NOT_FIT:
        yield _too_much(fastener, torque, result, at)
    elif not fastener.property_class and _is_beyond(_plausible(fastener, torque, _USUAL)):
        written = write_range(torque, Unit.NEWTON_METRE, 2)
        yield Diagnostic(
            rule="property-class",
            message=f"the {fastener.thread} bolt of '{fastener.id}' has no property class, and one of {_USUAL} could "
            f"not bear {written}",
            at=at,
            gravity=Gravity.WARNING,
            hints=("write its 'property-class', as it is marked on the head",),
        )


def _too_much(fastener: Fastener, torque: Range, result: CheckResult, at: Position) -> Diagnostic:
    slipped = Range(torque.low / _DECIMAL, torque.high / _DECIMAL)
    tenth = _plausible(fastener, slipped, fastener.property_class or _USUAL)
    meant = f": {write_range(slipped, Unit.NEWTON_METRE, 2)} would suit it" if tenth and _suits(tenth) else ""
    written = write_range(torque, Unit.NEWTON_METRE, 2)
    strength = fastener.property_class or f"{_STRONGEST}, the strongest that there is"
    return Diagnostic(
        rule="torque-plausibility",
        message=f"{written} is more than the {fastener.thread} bolt of '{fastener.id}' can bear",
        at=at,
        label=f"{result.value:.0f} % of its proof load" if result.value is not None else "",
        hints=(
            f"has a decimal point slipped{meant}?",
            f"is the thread {fastener.thread}, and the property class {strength}?",
            *(line for line in result.working if line.startswith(_SHOWN_WORKING)),
        ),
    )


def _is_beyond(result: CheckResult | None) -> bool:
    return result is not None and result.verdict is Verdict.DOES_NOT_FIT


def _plausible(fastener: Fastener, torque: Range, property_class: str) -> CheckResult | None:
    return fastener_plausibility(fastener.thread, property_class, torque)


def _suits(result: CheckResult) -> bool:
    return result.verdict is Verdict.FITS
