"""Suspension: sag as a share of the travel."""

from __future__ import annotations

from builder.checks.judging import at_least, named, number, number_or_none, quantity
from builder.checks.result import Check, CheckResult, InputError, Inputs, Provenance, Source, Verdict
from builder.model.units import Range, Unit, write_number, write_quantity, write_range

SOURCE = Source(title="Workshop rule for sag by kind of riding", provenance=Provenance.COMMON_PRACTICE)
# Usual sag, and how far beyond it is still ridden [% of travel]. Common practice: 15 to 20 % for cross-country, 25 to
# 30 % for trails, 30 to 35 % for descents.
USUAL_SAG = Range(20.0, 30.0)
_CARE = 5.0


def sag_percent(sag_mm: float, travel_mm: float) -> float:
    """Sag as a share of the travel [%]."""
    return 100 * sag_mm / travel_mm


def suspension_sag(*, sag_mm: float | None, travel_mm: float, wanted_percent: Range = USUAL_SAG) -> CheckResult:
    """Sag under the rider against the span that is wanted.

    Args:
        sag_mm: how far fork or shock moves under the rider at rest [mm], None where it has still to be measured.
        travel_mm: travel of the fork or stroke of the shock, measured at the same place [mm].
        wanted_percent: span of sag that is wanted [%].

    Raises:
        InputError: more sag than travel.

    Source: common practice.
    """
    if sag_mm is not None and sag_mm > travel_mm:
        raise InputError(f"sag: {sag_mm:g} mm is more than the travel, {travel_mm:g} mm; are they swapped?")
    n = write_number
    low, high = (wanted_percent.low / 100 * travel_mm, wanted_percent.high / 100 * travel_mm)
    wanted = f"{n(low, 0)} to {write_quantity(high, Unit.MILLIMETRE, 0)}"
    working = [f"Wanted: {write_range(wanted_percent, Unit.PERCENT)} of {n(travel_mm)} mm = {wanted}"]
    share = margin = None
    limit = wanted_percent.high + _CARE
    if sag_mm is None:
        verdict = Verdict.MEASURE_FIRST
        advice = (
            "Push the ring down to the seal, sit on in riding clothes, get off gently, and measure how far it moved."
        )
    else:
        share = sag_percent(sag_mm, travel_mm)
        above, below = wanted_percent.high - share, share - wanted_percent.low
        near_high = above <= below
        beyond = min(above, below)
        limit = wanted_percent.high + _CARE if near_high else wanted_percent.low - _CARE
        margin = beyond + _CARE
        working.append(f"Sag: {n(sag_mm)} ÷ {n(travel_mm)} × 100 = {n(share)} %")
        what = f"less pressure until the ring moves {wanted}" if below < above else f"more pressure, down to {wanted}"
        if at_least(beyond, 0.0):
            verdict, advice = Verdict.FITS, "The sag is within the wanted span."
        elif at_least(margin, 0.0):
            verdict, advice = Verdict.WITH_CARE, f"A little outside: {what}."
        else:
            verdict, advice = Verdict.DOES_NOT_FIT, f"Well outside: {what}."
    return CheckResult(
        check=SUSPENSION_SAG.name,
        verdict=verdict,
        value=share,
        unit=Unit.PERCENT,
        limit=limit,
        margin=margin,
        working=tuple(working),
        source=str(SOURCE),
        advice=advice,
        values=(named("least", low, Unit.MILLIMETRE), named("most", high, Unit.MILLIMETRE)),
    )


def _run(inputs: Inputs) -> CheckResult:
    low, high = number(inputs, "wanted-low"), number(inputs, "wanted-high")
    if low > high:
        raise InputError(f"'wanted-low' ({low:g} %) is more than 'wanted-high' ({high:g} %)")
    return suspension_sag(
        sag_mm=number_or_none(inputs, "sag"), travel_mm=number(inputs, "travel"), wanted_percent=Range(low, high)
    )


SUSPENSION_SAG = Check(
    name="suspension-sag",
    family="suspension",
    title="Suspension sag",
    purpose="How far the suspension settles under its rider. It decides whether wheel and ground keep in touch.",
    formula=r"s = 100\,\frac{x_{sag}}{x_{travel}}",
    inputs=(
        quantity("travel", "travel of the fork, or stroke of the shock", Unit.MILLIMETRE, 20, 250),
        quantity("sag", "movement under the rider at rest", Unit.MILLIMETRE, 0, 250, optional=True),
        quantity("wanted-low", "least sag that is wanted", Unit.PERCENT, 5, 50, default=USUAL_SAG.low),
        quantity("wanted-high", "most sag that is wanted", Unit.PERCENT, 5, 50, default=USUAL_SAG.high),
    ),
    source=SOURCE,
    run=_run,
    at_verdict={
        Verdict.FITS: "Leave the pressure, and write it down.",
        Verdict.WITH_CARE: "A few per cent off: correct the pressure in small steps and measure again.",
        Verdict.DOES_NOT_FIT: "Far off: set the pressure from the maker's table first, then measure again.",
        Verdict.MEASURE_FIRST: "Push the ring to the seal, sit on, get off gently, measure how far the ring moved.",
    },
    example={"travel": "120 mm", "sag": "30 mm"},
    drawing="suspension-sag",
    notes=(
        "Common practice, no source: 15 to 20 % for cross-country, 25 to 30 % for trails, 30 to 35 % for descents. "
        "Measure sag and travel at the same place: both at the shock, or both at the axle. Never above the highest "
        "pressure marked on fork or shock."
    ),
)

CHECKS = (SUSPENSION_SAG,)
