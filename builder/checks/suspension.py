"""Suspension: sag as a share of the travel."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Range, Unit, write_number, write_quantity, write_range

SOURCE = Source(title="Workshop rule for sag by kind of riding", provenance=Provenance.COMMON_PRACTICE)
# Usual sag, and how far beyond it is still ridden [% of travel]. Common practice: 15 to 20 % for cross-country, 25 to
# 30 % for trails, 30 to 35 % for descents.
USUAL_SAG = Range(20.0, 30.0)
_CARE = 5.0
# How far a shock may be from the figures that the frame's maker states [mm]. Common practice.
_SIZE_MM = 1.0


def sag_percent(sag_mm: float, travel_mm: float) -> float:
    """Sag as a share of the travel [%]."""
    return 100 * sag_mm / travel_mm


@check(
    family=Family.SUSPENSION,
    title="Suspension sag",
    purpose="How far the suspension settles under its rider. It decides whether wheel and ground keep in touch.",
    formula=r"s = 100\,\frac{x_{sag}}{x_{travel}}",
    source=SOURCE,
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
    asked=Asked(force=Force.CONDITION, unless={"frame.suspension": ("rigid",)}),
)
def suspension_sag(
    travel_mm: Annotated[
        float, Meaning("travel of the fork, or stroke of the shock"), Fact("shock.stroke", front="fork.travel")
    ],
    sag_mm: Annotated[
        float | None, Meaning("movement under the rider at rest"), Fact("measured.shock-sag", front="measured.fork-sag")
    ],
    wanted_low_percent: Annotated[
        float, In(Unit.PERCENT), Bounds(5, 50), Meaning("least sag that is wanted")
    ] = USUAL_SAG.low,
    wanted_high_percent: Annotated[
        float, In(Unit.PERCENT), Bounds(5, 50), Meaning("most sag that is wanted")
    ] = USUAL_SAG.high,
) -> CheckResult:
    """Sag under the rider against the span that is wanted.

    Raises:
        InputError: more sag than travel, or a least that is more than the most.

    Source: common practice.
    """
    if wanted_low_percent > wanted_high_percent:
        raise InputError(
            f"'wanted-low' ({wanted_low_percent:g} %) is more than 'wanted-high' ({wanted_high_percent:g} %)"
        )
    wanted_percent = Range(wanted_low_percent, wanted_high_percent)
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
        verdict=verdict,
        value=share,
        unit=Unit.PERCENT,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("least", low, Unit.MILLIMETRE), named("most", high, Unit.MILLIMETRE)),
    )


@check(
    family=Family.SUSPENSION,
    title="Shock and frame",
    purpose="A shock of another length sets the frame askew; with a longer stroke, wheel or links meet the frame.",
    formula=r"l_{shock} = l_{frame} \qquad s_{shock} = s_{frame}",
    source=Source(title="Length and stroke that the frame's maker states", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Go on to bushings and bolts, then let the air out and see that nothing touches.",
        Verdict.WITH_CARE: "Less travel than the frame is made for: ask the frame's maker.",
        Verdict.DOES_NOT_FIT: "Take a shock of the frame's length and stroke.",
        Verdict.MEASURE_FIRST: "Measure the old shock from eye to eye at rest, and look up its stroke.",
    },
    example={"length": "190 mm", "stroke": "45 mm", "frame-length": "190 mm", "frame-stroke": "45 mm"},
    notes=(
        "The length is from eye to eye at rest. A millimetre either way is how makers round; a shorter stroke only "
        "takes travel away. Common practice, no source."
    ),
    asked=Asked(only={"frame.suspension": ("full",)}, cures=("shock",)),
)
def shock_size(
    length_mm: Annotated[float, Meaning("from eye to eye of the shock"), Fact("shock.length")],
    stroke_mm: Annotated[float, Meaning("stroke of the shock"), Fact("shock.stroke")],
    frame_length_mm: Annotated[float | None, Meaning("length that the frame is made for"), Fact("frame.shock-length")],
    frame_stroke_mm: Annotated[float | None, Meaning("stroke that the frame is made for"), Fact("frame.shock-stroke")],
) -> CheckResult:
    """Length and stroke [mm] of a shock against those of the frame. Source: common practice."""
    n = write_number
    working = [f"Shock: {n(length_mm)} × {n(stroke_mm)} mm"]
    margin = None
    if frame_length_mm is not None:
        working.append(f"Length: {n(length_mm)} − {n(frame_length_mm)} = {n(length_mm - frame_length_mm)} mm")
        margin = _SIZE_MM - abs(length_mm - frame_length_mm)
    if frame_stroke_mm is not None:
        working.append(f"Stroke: {n(stroke_mm)} − {n(frame_stroke_mm)} = {n(stroke_mm - frame_stroke_mm)} mm")
    if margin is not None and not at_least(margin, 0.0):
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a shock of {n(frame_length_mm or 0.0)} mm."
    elif frame_stroke_mm is not None and not at_least(frame_stroke_mm + _SIZE_MM, stroke_mm):
        verdict, margin = Verdict.DOES_NOT_FIT, frame_stroke_mm + _SIZE_MM - stroke_mm
        advice = f"Take a shock with a stroke of {n(frame_stroke_mm)} mm at most."
    elif frame_length_mm is None or frame_stroke_mm is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Look up length and stroke that the frame is made for, or measure the shock that was in it."
    elif not at_least(stroke_mm + _SIZE_MM, frame_stroke_mm):
        verdict, advice = Verdict.WITH_CARE, "It fits with less travel than the frame is made for: ask its maker."
    else:
        verdict, advice = Verdict.FITS, "Length and stroke are those of the frame."
    return CheckResult(
        verdict=verdict,
        value=length_mm,
        unit=Unit.MILLIMETRE,
        limit=frame_length_mm,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )
