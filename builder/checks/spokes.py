"""Spokes: how long they must be."""

from __future__ import annotations

import math

from builder.checks.judging import at_most, named, number, quantity, whole
from builder.checks.result import Check, CheckResult, Input, InputError, Inputs, Kind, Provenance, Source, Verdict
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


def spoke_length(
    *,
    rim_diameter_mm: float,
    flange_diameter_mm: float,
    flange_offset_mm: float,
    spokes: int,
    crossings: int,
    hole_mm: float = USUAL_HOLE_MM,
) -> CheckResult:
    """Spoke length for one side of a wheel.

    Args:
        rim_diameter_mm: effective diameter, between the seats of opposite nipples [mm].
        flange_diameter_mm: circle of the spoke holes in the flange [mm].
        flange_offset_mm: middle of the wheel to the flange [mm].
        spokes: in the whole wheel, an even number.
        crossings: how many spokes of its side each spoke crosses.
        hole_mm: diameter of the holes in the flange [mm].

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
    if at_most(crossings, tangent + 0.5):
        verdict = Verdict.FITS
        advice = "Take the length that is sold nearest to it: up to 1 mm shorter is good, longer hardly."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            f"Spokes leave the flange past the tangent ({n(tangent)} crossings): heads may lie in each other's way."
        )
    return CheckResult(
        check=SPOKE_LENGTH.name,
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
        source=str(SOURCE),
        advice=advice,
        values=(named("tangent-crossings", tangent),),
    )


def _run(inputs: Inputs) -> CheckResult:
    return spoke_length(
        rim_diameter_mm=number(inputs, "rim-diameter"),
        flange_diameter_mm=number(inputs, "flange-diameter"),
        flange_offset_mm=number(inputs, "flange-offset"),
        spokes=whole(inputs, "spokes"),
        crossings=whole(inputs, "crossings"),
        hole_mm=number(inputs, "hole"),
    )


SPOKE_LENGTH = Check(
    name="spoke-length",
    family="wheels",
    title="Spoke length",
    purpose="Two millimetres wrong and a spoke is useless. The length follows from four measurements and the lacing.",
    formula=r"L = \sqrt{R^2 + r^2 + w^2 - 2 R r \cos\left(720^\circ\,\frac{k}{n}\right)} - \frac{s}{2}",
    inputs=(
        quantity("rim-diameter", "effective, between the seats of opposite nipples", Unit.MILLIMETRE, 150, 800),
        quantity("flange-diameter", "circle of the spoke holes in the flange", Unit.MILLIMETRE, 20, 300),
        quantity("flange-offset", "middle of the wheel to the flange", Unit.MILLIMETRE, 0, 80),
        Input(name="spokes", words="spokes in the whole wheel", kind=Kind.WHOLE, low=8, high=72),
        Input(name="crossings", words="spokes of its side that each spoke crosses", kind=Kind.WHOLE, low=0, high=6),
        quantity("hole", "diameter of the holes in the flange", Unit.MILLIMETRE, 0, 4, default=USUAL_HOLE_MM),
    ),
    source=SOURCE,
    run=_run,
    at_verdict={
        Verdict.FITS: (
            "Work out the other side of the wheel too: its flange often sits elsewhere. Buy one spare a side."
        ),
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
)

CHECKS = (SPOKE_LENGTH,)
