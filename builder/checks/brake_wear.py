"""Rotor and pads by measurement: size against the frame's limits, thickness against the least."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, at_most
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number, write_quantity

SIZE_SOURCE = Source(
    title="Limits that the makers of frame, fork and brake state", provenance=Provenance.COMMON_PRACTICE
)
ROTOR_SOURCE = Source(
    title="The least thickness marked on the rotor; 1.5 mm where nothing is marked",
    provenance=Provenance.COMMON_PRACTICE,
)
PAD_SOURCE = Source(
    title="The least thickness that the pad's maker states; usual figures where nothing is stated",
    provenance=Provenance.COMMON_PRACTICE,
)
# Typical least thicknesses [mm]; common practice: rotors 1.5 (1.4 to 1.8), disc pads 2.5 with their backing plate (2.4
# to 3: a plate of about 2 and half a millimetre of lining or more), rim pads 1 above the bottom of their grooves.
TYPICAL_ROTOR_MM = 1.5
# What a look at the brake asks for [mm]; common practice: a lining of more than 1 lasts to the next look, and a brake
# track that is hollow by 0.5 has a wall that can burst; the rubber of a rod brake's pad is replaced below 3, since a
# rod that comes loose or a rim out of round then brings its metal shoe to the rim.
LINING_AT_A_LOOK_MM = 1.0
ROD_RUBBER_MM = 3.0
RIM_HOLLOW_MM = 0.5
_ROTOR_SOON_MM = 0.1
_PAD_SOON_MM = 0.5
# A backing plate measures about 2 mm: a least below it can only be lining. Common practice.
_PLATE_MM = 2.0
_DISC = {"{end}-brake.brake-kind": ("disc",)}
_PADDED = {"{end}-brake.brake-kind": ("disc", "rim")}
_MARK_GOES_FIRST = " 'Least' is a typical value here: a figure marked on the part goes first."


def typical_pad_mm(kind: str, over: str = "plate") -> float:
    """Typical least thickness [mm]: disc pads with their backing plate or lining alone, rim pads above the grooves.

    Common practice, no source.
    """
    if kind == "rim":
        return 1.0
    return 2.5 if over == "plate" else 0.5


def _worn(
    *,
    measured_mm: float | None,
    least_mm: float | None,
    typical_mm: float,
    soon_mm: float,
    how: str,
    replace: str,
) -> CheckResult:
    """A measured thickness against the least, with a stretch in which the part is to be replaced soon."""
    least = typical_mm if least_mm is None else least_mm
    n = write_number
    working = [f"Least: {n(least, 2)} mm{' (typical)' if least_mm is None else ' (marked)'}"]
    margin = None if measured_mm is None else measured_mm - least
    if measured_mm is None or margin is None:
        verdict, advice = Verdict.MEASURE_FIRST, how
    else:
        working.append(f"Left to wear: {n(measured_mm, 2)} − {n(least, 2)} = {n(margin, 2)} mm")
        if at_least(margin, soon_mm):
            verdict, advice = Verdict.FITS, f"{write_quantity(margin, Unit.MILLIMETRE, 2)} are left."
        elif at_least(margin, 0.0):
            verdict, advice = Verdict.WITH_CARE, "Near its end: have the new part ready, and measure again soon."
        else:
            verdict, advice = Verdict.DOES_NOT_FIT, replace
    return CheckResult(
        verdict=verdict,
        value=measured_mm,
        unit=Unit.MILLIMETRE,
        limit=least,
        margin=margin,
        working=tuple(working),
        advice=advice + (_MARK_GOES_FIRST if least_mm is None else ""),
    )


@check(
    family=Family.BRAKES,
    title="Rotor thickness",
    purpose="A rotor that is worn thin runs hot, warps and can break.",
    formula=r"t \ge t_{least}",
    source=ROTOR_SOURCE,
    at_verdict={
        Verdict.FITS: "Clean it and ride on.",
        Verdict.WITH_CARE: "Less than 0.1 mm is left: order a rotor, and measure again at the next pads.",
        Verdict.DOES_NOT_FIT: "Replace the rotor before the bike is ridden.",
        Verdict.MEASURE_FIRST: "Measure with a micrometer. The jaws of a calliper sit on the ridge and read too much.",
    },
    example={"thickness": "1.7 mm", "least": "1.5 mm"},
    notes="New rotors measure 1.8 to 2.3 mm; most are marked with a least of 1.5 mm. Common practice, no source.",
    asked=Asked(force=Force.CONDITION, only=_DISC, kept=("{end}-rotor",), cures=("{end}-rotor",)),
)
def rotor_wear(
    thickness_mm: Annotated[
        float | None, Meaning("thinnest of four places of the braking surface"), Fact("measured.{end}-rotor")
    ],
    least_mm: Annotated[
        float | None, Meaning("least thickness marked on the rotor"), Fact("{end}-rotor.least-thickness")
    ] = None,
) -> CheckResult:
    """Thickness of a rotor against the least that is marked on it, or 1.5 mm, typical, where nothing is marked.

    Source: the mark on the rotor; common practice.
    """
    return _worn(
        measured_mm=thickness_mm,
        least_mm=least_mm,
        typical_mm=TYPICAL_ROTOR_MM,
        soon_mm=_ROTOR_SOON_MM,
        how="Measure the braking surface with a micrometer at four places, and take the thinnest.",
        replace="Replace the rotor, and look at the pads.",
    )


@check(
    family=Family.BRAKES,
    title="Brake pad wear",
    purpose="When the lining is gone, metal meets rotor or rim, and the brake fails when it is needed.",
    formula=r"t \ge t_{least}",
    source=PAD_SOURCE,
    at_verdict={
        Verdict.FITS: "Put them back, and pump the lever before riding.",
        Verdict.WITH_CARE: "They won't last long: have new pads ready.",
        Verdict.DOES_NOT_FIT: "Replace both pads, bed the new ones in, and test at walking pace.",
        Verdict.MEASURE_FIRST: "Take the pads out and measure them where they are thinnest.",
    },
    example={"thickness": "3.2 mm", "kind": "disc"},
    drawing="pad-section",
    notes=(
        "Where the maker states nothing: 2.5 mm with the backing plate for disc pads (2.4 to 3, so that half a "
        "millimetre of lining or more is left) or 0.5 mm of lining alone, and 1 mm of rubber above the bottom of the "
        "grooves for rim pads. "
        "Common practice, no source. An oily or glazed pad is replaced at any thickness."
    ),
    asked=Asked(force=Force.CONDITION, only=_PADDED, kept=("{end}-pads",), cures=("{end}-pads",)),
)
def pad_wear(
    thickness_mm: Annotated[
        float | None, Meaning("disc: lining and plate, or lining; rim: above the grooves"), Fact("measured.{end}-pads")
    ],
    least_mm: Annotated[
        float | None, Meaning("least thickness that the maker states"), Fact("{end}-pads.least-thickness")
    ] = None,
    kind: Annotated[Literal["disc", "rim"], Meaning("what the pad presses on"), Fact("{end}-pads.brake-kind")] = "disc",
    over: Annotated[
        Literal["plate", "lining"], Meaning("disc pads: measured and stated with the backing plate, or lining alone")
    ] = "plate",
) -> CheckResult:
    """Thickness [mm] of a brake pad against the least: disc pads as `over` says, rim pads above the grooves.

    Raises:
        InputError: a least that the backing plate alone is thicker than.

    Source: the pad's maker; typical values by common practice.
    """
    with_plate = kind == "disc" and over == "plate"
    if with_plate and least_mm is not None and least_mm < _PLATE_MM:
        raise InputError(
            f"least: {least_mm:g} mm can't count the backing plate in, which measures about 2 mm; if it is lining, "
            "write over=lining and measure the lining alone"
        )
    return _worn(
        measured_mm=thickness_mm,
        least_mm=least_mm,
        typical_mm=typical_pad_mm(kind, over),
        soon_mm=_PAD_SOON_MM,
        how=(
            "Take the pads out and measure lining and backing plate together, at the thinnest place."
            if with_plate
            else "Measure the lining alone, at the thinnest place."
            if kind == "disc"
            else "Measure how much rubber is left above the bottom of the wear grooves."
        ),
        replace="Replace both pads of this brake.",
    )


@check(
    family=Family.BRAKES,
    title="Rotor diameter",
    purpose="A larger rotor pulls harder on fork and frame than they may bear; a smaller one misses the caliper.",
    formula=r"d_{smallest} \le d_{rotor} \le d_{largest}",
    source=SIZE_SOURCE,
    at_verdict={
        Verdict.FITS: "Fit it with the adaptor that sets the caliper to this diameter.",
        Verdict.DOES_NOT_FIT: "Take a rotor within the limits. Too large a rotor can bend or break a fork.",
        Verdict.MEASURE_FIRST: "Look up the limit in the papers of frame or fork, or ask the maker.",
    },
    example={"rotor": "180 mm", "largest": "180 mm", "smallest": "160 mm"},
    notes="Usual diameters are 140, 160, 180, 203 and 220 mm. No standard limits them: the makers' figures count.",
    asked=Asked(only=_DISC, cures=("{end}-rotor",)),
)
def rotor_size(
    rotor_mm: Annotated[float, Meaning("diameter of the rotor"), Fact("{end}-rotor.diameter")],
    largest_mm: Annotated[
        float | None,
        Meaning("largest that frame or fork allows"),
        Fact("frame.greatest-rear-rotor", front="fork.greatest-rotor"),
    ],
    smallest_mm: Annotated[
        float | None, Meaning("smallest that the mount takes"), Fact("frame.least-rear-rotor", front="fork.least-rotor")
    ] = None,
) -> CheckResult:
    """Diameter of a rotor against the limits of frame or fork.

    Raises:
        InputError: the smallest is more than the largest.

    Source: the makers' limits.
    """
    n = write_number
    if largest_mm is not None and smallest_mm is not None and smallest_mm > largest_mm:
        raise InputError(f"smallest: {smallest_mm:g} mm is more than largest, {largest_mm:g} mm")
    working = [f"Rotor: {n(rotor_mm)} mm"]
    margin = limit = None
    if smallest_mm is not None:
        working.append(f"Above the smallest: {n(rotor_mm)} − {n(smallest_mm)} = {n(rotor_mm - smallest_mm)} mm")
    if largest_mm is not None:
        limit, margin = largest_mm, largest_mm - rotor_mm
        working.append(f"Below the largest: {n(largest_mm)} − {n(rotor_mm)} = {n(margin)} mm")
    if smallest_mm is not None and not at_least(rotor_mm, smallest_mm):
        limit, margin = smallest_mm, rotor_mm - smallest_mm
        verdict = Verdict.DOES_NOT_FIT
        advice = f"The caliper would not reach it: take a rotor of {n(smallest_mm, 0)} mm or more."
    elif largest_mm is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Look up the largest rotor that the makers of frame or fork allow: a larger one can bend it."
    elif at_most(rotor_mm, largest_mm):
        verdict, advice = Verdict.FITS, "Within the limits. The caliper needs the adaptor for this diameter."
    else:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a rotor of {n(largest_mm, 0)} mm or less."
    return CheckResult(
        verdict=verdict,
        value=rotor_mm,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )
