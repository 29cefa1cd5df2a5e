"""Spokes: how long they must be."""

from __future__ import annotations

import math
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.checks.sides import side_fact
from builder.model.facts import BrakeKind, Fitted
from builder.model.fields import Meaning
from builder.model.units import Unit, write_number

SOURCE = Source(
    title="Law of cosines in three dimensions, between a hole of the flange and the nipple's seat in the rim",
    provenance=Provenance.DERIVABLE,
)
# Spoke hole of a usual flange [mm]; common practice, 2.4 to 2.6.
USUAL_HOLE_MM = 2.6
_WIDEST_ANGLE_DEG = 120.0


def lacing_angle_deg(spokes: int, crossings: int) -> float:
    """Angle at the hub between a spoke's hole in the flange and its hole in the rim [deg]: 720 · crossings / spokes."""
    return 720 * crossings / spokes


def tangent_crossings(rim_diameter_mm: float, flange_diameter_mm: float, spokes: int) -> float:
    """Crossings at which a spoke leaves the flange as a tangent: acos(r / R) · spokes / 720 deg."""
    return math.degrees(math.acos(flange_diameter_mm / rim_diameter_mm)) * spokes / 720


def spoke_length_mm(
    rim_diameter_mm: float,
    flange_diameter_mm: float,
    flange_offset_mm: float,
    spokes: int,
    crossings: int,
    hole_mm: float = USUAL_HOLE_MM,
) -> float:
    """Length of a spoke from the inside of its bend to its end [mm].

    Formula: √(R² + r² + w² − 2 R r cos a) − hole/2, with half diameters R and r, offset w and lacing angle a.
    Source: law of cosines.
    """
    big, small = rim_diameter_mm / 2, flange_diameter_mm / 2
    angle = math.radians(lacing_angle_deg(spokes, crossings))
    straight = math.sqrt(big**2 + small**2 + flange_offset_mm**2 - 2 * big * small * math.cos(angle))
    return straight - hole_mm / 2


@check(
    family=Family.WHEELS,
    title="Spoke length",
    purpose="Two millimetres wrong and a spoke is useless. The length follows from four measurements and the lacing.",
    formula=r"L = \sqrt{R^2 + r^2 + w^2 - 2 R r \cos\left(720^\circ\,\frac{k}{n}\right)} - \frac{s}{2}",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: (
            "Work out the other side of the wheel too: its flange often sits elsewhere. Buy one spare a side."
        ),
        Verdict.MEASURE_FIRST: "Ask the hub's maker before you lace a wheel whose spokes cross none.",
        Verdict.DOES_NOT_FIT: "Cross the spokes: such a hub can't bear radial ones.",
        Verdict.WITH_CARE: (
            "It can be laced, but the spokes press on their neighbours' heads: one crossing less is better."
        ),
    },
    example={
        "rim-diameter": "600 mm",
        "flange-diameter": "45 mm",
        "flange-offset": "35 mm",
        "spokes": "32",
        "crossings": "3",
    },
    drawing="spoke-triangle",
    notes=(
        "For spokes with a bend at the head; straight ones are measured otherwise. Measure the effective rim diameter "
        "on the rim itself, with two cut spokes and nipples. Tension stretches a spoke by some half a millimetre "
        "(common practice). Half of the hole is taken off because the spoke pulls at its edge."
    ),
    asked=Asked(force=Force.TELLS),
)
def spoke_length(
    rim_diameter_mm: Annotated[
        float, Meaning("effective, between the seats of opposite nipples"), side_fact("{end}-rim.spoke-bed")
    ],
    flange_diameter_mm: Annotated[
        float, Meaning("circle of the spoke holes in the flange"), side_fact("{end}-hub.flange-diameter")
    ],
    flange_offset_mm: Annotated[
        float, Meaning("middle of the wheel to the flange"), side_fact("{end}-hub.{side}-flange-offset")
    ],
    spokes: Annotated[int, Meaning("spokes in the whole wheel"), side_fact("{end}-rim.spokes")],
    crossings: Annotated[int, Meaning("spokes of its side that each spoke crosses"), side_fact("{end}-rim.crossings")],
    hole_mm: Annotated[
        float, Meaning("diameter of the holes in the flange"), side_fact("{end}-hub.spoke-hole")
    ] = USUAL_HOLE_MM,
    brake: Annotated[BrakeKind | None, Meaning("what the brake acts on"), side_fact("{end}-brake.brake-kind")] = None,
    radial: Annotated[
        Fitted | None,
        Meaning("fitted where the hub's maker allows spokes that cross none"),
        side_fact("{end}-hub.radial-spokes"),
    ] = None,
) -> CheckResult:
    """Spoke length for one side of a wheel.

    Raises:
        InputError: an odd number of spokes, a flange as large as the rim, or more crossings than can be laced.

    Source: law of cosines.
    """
    if spokes % 2:
        raise InputError(f"spokes: {spokes} is odd; write the number in the whole wheel, which is even")
    if flange_diameter_mm >= rim_diameter_mm / 2:
        raise InputError("flange-diameter: a flange of half the rim or more makes no spoked wheel; are they swapped?")
    angle = lacing_angle_deg(spokes, crossings)
    if angle > _WIDEST_ANGLE_DEG:
        most = int(_WIDEST_ANGLE_DEG * spokes / 720)
        raise InputError(f"crossings: {crossings} can't be laced with {spokes} spokes; at most {most}")
    length = spoke_length_mm(rim_diameter_mm, flange_diameter_mm, flange_offset_mm, spokes, crossings, hole_mm)
    tangent = tangent_crossings(rim_diameter_mm, flange_diameter_mm, spokes)
    big, small, cosine = rim_diameter_mm / 2, flange_diameter_mm / 2, math.cos(math.radians(angle))
    product = 2 * big * small * cosine
    squared = big**2 + small**2 + flange_offset_mm**2 - product
    n = write_number
    if crossings == 0 and brake in (BrakeKind.DISC, BrakeKind.DRUM, BrakeKind.COASTER):
        verdict = Verdict.DOES_NOT_FIT
        advice = "Never radial at a brake in the hub: braking would turn the hub in its spokes. Cross two or three."
    elif crossings == 0 and radial is Fitted.NONE:
        verdict, advice = Verdict.DOES_NOT_FIT, "This hub's maker forbids spokes that cross none: its flange can break."
    elif crossings == 0 and radial is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Look up whether the hub's maker allows spokes that cross none: they can break the flange."
    elif at_most(crossings, tangent + 0.5):
        verdict = Verdict.FITS
        advice = "Take the length that is sold nearest to it: up to 1 mm shorter is good, longer hardly."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            f"Spokes leave the flange past the tangent ({n(tangent)} crossings): heads may lie in each other's way."
        )
    return CheckResult(
        verdict=verdict,
        value=length,
        unit=Unit.MILLIMETRE,
        working=(
            f"Half the rim: {n(rim_diameter_mm)} ÷ 2 = {n(big, 2)} mm",
            f"Half the flange: {n(flange_diameter_mm)} ÷ 2 = {n(small, 2)} mm",
            f"Angle at the hub: 720° × {crossings} ÷ {spokes} = {n(angle, 2)}°",
            f"2 × {n(big, 2)} × {n(small, 2)} × cos {n(angle, 2)}° = {n(product, 1)} mm²",
            f"{n(big, 2)}² + {n(small, 2)}² + {n(flange_offset_mm, 2)}² − {n(product, 1)} = {n(squared, 1)} mm²",
            f"Straight from hole to nipple: √{n(squared, 1)} = {n(math.sqrt(squared), 2)} mm",
            f"Less half the hole: {n(math.sqrt(squared), 2)} − {n(hole_mm, 2)} ÷ 2 = {n(length, 2)} mm",
        ),
        advice=advice,
        values=(named("tangent-crossings", tangent),),
    )
