"""Tyre against rim: bead seat diameter and width, after the designations of ISO 5775."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.checks.tyre_pressure import Bead, bead_of
from builder.model.fields import Fact, Meaning
from builder.model.units import Range, Unit, write_number, write_quantity

BEAD_SOURCE = Source(title="ISO 5775-2, rims", locator="nominal rim diameters", provenance=Provenance.FROM_MEMORY)
WIDTH_SOURCE = Source(
    title="ISO 5775 and ETRTO table before 2020 for rims of 13, 15 and 17 mm; a rule of proportion for the others",
    locator="combinations of rim and tyre; the rule is common practice",
    provenance=Provenance.FROM_MEMORY,
)
# Nominal rim diameters of ISO 5775-2 that a workshop meets [mm], from memory.
BEAD_SEATS_MM = (
    *(203, 251, 254, 288, 298, 305, 317, 330, 337, 340, 349, 355, 357, 369, 381, 387, 390, 400, 406, 419, 428, 432),
    *(438, 440, 451, 457, 484, 489, 490, 498, 501, 507, 520, 531, 534, 540, 541, 547, 559, 565, 571, 584, 587, 590),
    *(597, 599, 609, 622, 630, 635, 642),
)
# Inner rim width -> tyre section [mm]; older table, from memory. Later editions are wider.
WIDTH_TABLE_MM: Mapping[int, Range] = MappingProxyType({13: Range(18, 25), 15: Range(23, 32), 17: Range(25, 50)})
# Tyre section by inner rim width, common practice: usual, and what is still ridden. Newer lists of makers go down to a
# tyre that is hardly wider than its rim, so the lower end is a wide one.
_USUAL_RATIO, _RIDDEN_RATIO = Range(1.4, 2.2), Range(1.1, 3.0)


@check(
    family=Family.TYRES,
    title="Tyre and rim diameter",
    purpose=(
        "Sizes in inches mislead: five different diameters are called 26 inch. The last number of the marking, the "
        "bead seat diameter in millimetres, must be the same on tyre and rim."
    ),
    formula=r"d_{tyre} = d_{rim} \qquad c = \pi\,d",
    source=BEAD_SOURCE,
    at_verdict={
        Verdict.FITS: "Mount the tyre, and see that its line runs evenly round the rim before you pump it up.",
        Verdict.DOES_NOT_FIT: "Never stretch or shrink a tyre onto a rim. Take one with the rim's number.",
        Verdict.MEASURE_FIRST: "Read the rim. Without a mark, measure round the bead seat with a steel tape.",
    },
    example={"tyre": "622 mm", "rim": "622 mm"},
    drawing="tyre-section",
    notes="Nominal diameters, from memory of ISO 5775-2. 630 and 622 mm are both called 27 or 28 inch and never mix.",
    asked=Asked(cures=("{end}-tyre",)),
)
def bead_seat(
    tyre_mm: Annotated[float, Meaning("bead seat diameter on the tyre, 622 of 37-622"), Fact("{end}-tyre.bead-seat")],
    rim_mm: Annotated[float | None, Meaning("bead seat diameter on the rim"), Fact("{end}-rim.bead-seat")],
) -> CheckResult:
    """Bead seat diameter of the tyre against that of the rim: the same number, or the tyre can come off.

    Source: ISO 5775-2, nominal diameters from memory.
    """
    n = write_number
    circumference = math.pi * tyre_mm
    working = [
        f"Round the rim's bead seat: 3.1416 × {n(tyre_mm)} = {write_quantity(circumference, Unit.MILLIMETRE, 0)}"
    ]
    margin = None
    if rim_mm is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Read the number on the rim. Or wrap a thin steel tape round its bead seat, and divide by 3.1416."
    else:
        difference = tyre_mm - rim_mm
        margin = 0.0 - abs(difference)
        working.append(f"Difference: {n(tyre_mm)} − {n(rim_mm)} = {n(difference)} mm")
        if round(difference, 6) != 0:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Take a tyre marked {n(rim_mm)}. The inch size may be the same, and the tyre still comes off."
        elif tyre_mm not in BEAD_SEATS_MM:
            near = min(BEAD_SEATS_MM, key=lambda known: abs(known - tyre_mm))
            verdict = Verdict.MEASURE_FIRST
            advice = f"{n(tyre_mm)} mm is no usual diameter ({near} is near): read the marks of tyre and rim again."
        else:
            verdict, advice = Verdict.FITS, "The diameters are the same."
    return CheckResult(
        verdict=verdict,
        value=tyre_mm,
        unit=Unit.MILLIMETRE,
        limit=rim_mm,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("circumference", circumference, Unit.MILLIMETRE),),
    )


@check(
    family=Family.TYRES,
    title="Tyre width and rim width",
    purpose="Too wide on a narrow rim, a tyre folds in a bend; too narrow on a wide one, it can come off.",
    formula=r"1.4\,w_{rim} \le w_{tyre} \le 2.2\,w_{rim}",
    source=WIDTH_SOURCE,
    at_verdict={
        Verdict.FITS: "A usual pair.",
        Verdict.WITH_CARE: "Ridden by some, outside the usual. Ask the rim's maker and keep to their pressure.",
        Verdict.DOES_NOT_FIT: "Take a tyre that suits the rim.",
        Verdict.MEASURE_FIRST: "Read the rim's marking, or measure between its walls with a calliper.",
    },
    example={"tyre": "37 mm", "rim-inner": "19 mm"},
    drawing="tyre-section",
    notes=(
        "For rims of 13, 15 and 17 mm the table of ISO 5775 and ETRTO before 2020, from memory: 18 to 25, 23 to 32, "
        "25 to 50 mm. Later editions are wider. For other rims a rule of proportion, common practice, no source: "
        "usual 1.4 to 2.2, ridden 1.1 to 3 times the inner width. The rim maker's list goes first, above all on rims "
        "without hooks."
    ),
    asked=Asked(cures=("{end}-tyre",)),
)
def tyre_rim_width(
    tyre_mm: Annotated[float, Meaning("section on the tyre, 37 of 37-622"), Fact("{end}-tyre.width")],
    rim_inner_mm: Annotated[
        float | None, Meaning("inner width of the rim, 19 of 622x19"), Fact("{end}-rim.inner-width")
    ],
    bead: Annotated[
        Bead, Meaning("how the rim holds the bead"), Fact("{end}-rim.hooks", by=bead_of, called="hooks of the rim")
    ] = Bead.HOOKED,
) -> CheckResult:
    """Tyre section against the inner width of the rim.

    Source: the older table of ISO 5775 and ETRTO for narrow rims, from memory; elsewhere common practice.
    """
    if rim_inner_mm is None:
        return CheckResult(
            verdict=Verdict.MEASURE_FIRST,
            value=tyre_mm,
            unit=Unit.MILLIMETRE,
            working=(
                f"Tyre: {write_number(tyre_mm)} mm; usual on rims from {write_number(tyre_mm / _USUAL_RATIO.high)} mm",
            ),
            advice="Read the rim's marking (622x19 means 19 mm inside), or measure between its walls with a calliper.",
        )
    n = write_number
    usual = Range(_USUAL_RATIO.low * rim_inner_mm, _USUAL_RATIO.high * rim_inner_mm)
    ridden = Range(_RIDDEN_RATIO.low * rim_inner_mm, _RIDDEN_RATIO.high * rim_inner_mm)
    row = WIDTH_TABLE_MM.get(round(rim_inner_mm))
    working = [
        f"Usual by proportion: {n(rim_inner_mm)} × 1.4 = {n(usual.low)} mm to {n(rim_inner_mm)} × 2.2 = "
        f"{n(usual.high)} mm",
        f"Still ridden: {n(rim_inner_mm)} × 1.1 = {n(ridden.low)} mm to {n(rim_inner_mm)} × 3 = {n(ridden.high)} mm",
    ]
    if row is not None:
        working.append(f"Table for a rim of {round(rim_inner_mm)} mm: {n(row.low)} to {n(row.high)} mm")
    good = usual if row is None else row
    low_margin, high_margin = tyre_mm - ridden.low, ridden.high - tyre_mm
    near_low = low_margin <= high_margin
    margin = low_margin if near_low else high_margin
    working.append(f"To the nearer end of what is ridden: {n(margin)} mm")
    span = f"{n(good.low, 0)} to {write_quantity(good.high, Unit.MILLIMETRE, 0)}"
    is_usual = at_least(tyre_mm, good.low) and at_most(tyre_mm, good.high)
    if is_usual and bead is Bead.HOOKLESS:
        verdict, advice = (
            Verdict.WITH_CARE,
            f"Good on this rim: {span}. It must be marked for rims without hooks.",
        )
    elif is_usual:
        verdict, advice = Verdict.FITS, f"Good on this rim: {span}."
    elif at_least(margin, 0.0) and bead is Bead.HOOKLESS:
        verdict = Verdict.MEASURE_FIRST
        advice = "Look up the pair in the rim maker's list: a rim without hooks holds only the tyres that it names."
    elif at_least(margin, 0.0):
        verdict = Verdict.WITH_CARE
        advice = f"Outside the usual {span}: follow the rim maker's list, and keep to the pressure that it gives."
    else:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a tyre of {span}, or one that the rim's maker lists."
    return CheckResult(
        verdict=verdict,
        value=tyre_mm,
        unit=Unit.MILLIMETRE,
        limit=ridden.low if near_low else ridden.high,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("narrowest", good.low, Unit.MILLIMETRE), named("widest", good.high, Unit.MILLIMETRE)),
    )
