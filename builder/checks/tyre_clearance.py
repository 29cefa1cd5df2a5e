"""Room round a tyre: between the stays or the fork's blades, and in front of the rider's foot."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number, write_quantity

CLEARANCE_SOURCE = Source(
    title="16 CFR 1512.11(b), clearance of 1.6 mm at any position of the wheel",
    locator="EN 14781 asks new racing bicycles for not less than 4 mm; the 6 mm of others are ISO 4210-2 from memory",
    provenance=Provenance.LOOKED_UP,
)
TOE_SOURCE = Source(
    title="16 CFR 1512.17(d), toe clearance of bicycles without toe clips",
    locator="89 mm (3 1/2 in)",
    provenance=Provenance.LOOKED_UP,
)
LEAST_GAP_MM = 1.6
# What the European standards ask of a new bicycle; between the two a used one runs, but with little to spare.
RACING_GAP_MM, OTHER_GAP_MM = 4.0, 6.0
TOE_CLEARANCE_MM = 89.0


@check(
    family=Family.TYRES,
    title="Room for the tyre",
    purpose="A tyre that touches the frame stops the wheel. This is the gap that is left on each side.",
    formula=r"g = \frac{w_{space} - w_{tyre}}{2}",
    source=CLEARANCE_SOURCE,
    at_verdict={
        Verdict.FITS: "There is room. Turn the wheel once and watch the gap all round.",
        Verdict.WITH_CARE: (
            "More than the least gap of 1.6 mm, less than is asked of a new bicycle: better a narrower tyre."
        ),
        Verdict.DOES_NOT_FIT: "Take a narrower tyre. A stone or a broken spoke would stop the wheel.",
        Verdict.MEASURE_FIRST: "Measure the narrowest space between stays, blades, bridge and mudguard.",
    },
    example={"tyre": "37 mm", "space": "52 mm"},
    drawing="tyre-clearance",
    notes=(
        "A tyre seldom measures what it is marked: 2 mm either way, more on a wide rim. The regulation's 1.6 mm (1/16 "
        "in) must hold at every position of the wheel. A new racing bike must have 4 mm by "
        "EN 14781, another one 6 mm by ISO 4210-2, from memory."
    ),
    asked=Asked(cures=("{end}-tyre",)),
)
def tyre_clearance(
    tyre_mm: Annotated[float, Meaning("width of the tyre as mounted and pumped up"), Fact("{end}-tyre.width")],
    space_mm: Annotated[
        float | None,
        Meaning("narrowest space where the tyre runs"),
        Fact("frame.rear-tyre-room", front="fork.tyre-room"),
    ],
    use: Annotated[Literal["racing", "other"], Meaning("kind of bike")] = "other",
) -> CheckResult:
    """Gap on each side of a tyre, from the space in frame or fork and the tyre's measured width.

    Source: 16 CFR 1512.11(b); EN 14781 for racing bicycles; 6 mm for others, ISO 4210-2 from memory.
    """
    wanted = RACING_GAP_MM if use == "racing" else OTHER_GAP_MM
    n = write_number
    gap = margin = None
    working = [f"Asked of a new bicycle, each side: {n(wanted)} mm; least by regulation: {n(LEAST_GAP_MM)} mm"]
    widest = None if space_mm is None else space_mm - 2 * wanted
    if space_mm is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Measure the narrowest space between stays, blades, bridge and mudguard where the tyre runs."
    else:
        gap = (space_mm - tyre_mm) / 2
        margin = gap - LEAST_GAP_MM
        working += [
            f"Room: {n(space_mm)} − {n(tyre_mm)} = {n(space_mm - tyre_mm)} mm",
            f"Each side: {n(space_mm - tyre_mm)} ÷ 2 = {n(gap, 2)} mm",
            f"Above the least: {n(gap, 2)} − {n(LEAST_GAP_MM)} = {n(margin, 2)} mm",
            f"Widest tyre for the gap asked for: {n(space_mm)} − 2 × {n(wanted)} = {n(widest or 0.0)} mm",
        ]
        if at_least(gap, wanted):
            verdict, advice = Verdict.FITS, "There is room for mud and for a wheel that is a little out of true."
        elif at_least(gap, LEAST_GAP_MM):
            verdict = Verdict.WITH_CARE
            advice = (
                f"Less than the {n(wanted)} mm that is asked of a new bicycle: take a tyre of {n(widest or 0.0, 0)} mm "
                "at most, or keep the wheel true and clean."
            )
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"The tyre can touch: take one of {n(max(widest or 0.0, 0.0), 0)} mm at most."
    return CheckResult(
        verdict=verdict,
        value=gap,
        unit=Unit.MILLIMETRE,
        limit=LEAST_GAP_MM,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("wanted", wanted, Unit.MILLIMETRE),),
    )


@check(
    family=Family.TYRES,
    title="Room for the foot",
    purpose="With a bigger tyre, a mudguard or longer cranks the foot may meet the front wheel in a tight turn.",
    formula=r"a \ge 89\;\mathrm{mm}",
    source=TOE_SOURCE,
    at_verdict={
        Verdict.FITS: "The foot clears the wheel.",
        Verdict.WITH_CARE: "Many sporty bikes have less. Tell the rider, and let them try slow tight turns.",
        Verdict.DOES_NOT_FIT: "Fit shorter cranks, a slimmer tyre or another mudguard, or leave things as they were.",
        Verdict.MEASURE_FIRST: "Turn pedal and wheel as near to each other as they come, then measure.",
    },
    example={"distance": "95 mm"},
    notes="89 mm is the least for bicycles without toe clips or locking pedals in 16 CFR 1512.17(d).",
    asked=Asked(force=Force.CONDITION, new=("front-tyre", "fork", "crankset")),
)
def toe_clearance(
    distance_mm: Annotated[
        float | None,
        Meaning("distance from the middle of the pedal to tyre or mudguard"),
        Fact("measured.toe-clearance"),
    ],
    foot: Annotated[Literal["free", "held"], Meaning("held by clip or cleat, or free")] = "free",
) -> CheckResult:
    """From the middle of the pedal to the front tyre or its mudguard, turned as near as it comes.

    The regulation speaks of bicycles without toe clips; where the foot is held, its limit is only a guide.

    Source: 16 CFR 1512.17(d).
    """
    margin = None if distance_mm is None else distance_mm - TOE_CLEARANCE_MM
    least = write_quantity(TOE_CLEARANCE_MM, Unit.MILLIMETRE)
    working = [f"Least: {least}"]
    if distance_mm is None or margin is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Turn pedal and wheel as near to each other as they come, and measure from the pedal's middle."
    else:
        working.append(f"Margin: {write_number(distance_mm)} − 89 = {write_number(margin)} mm")
        if at_least(margin, 0.0):
            verdict, advice = Verdict.FITS, "The foot clears the tyre in tight turns."
        else:
            verdict = Verdict.WITH_CARE if foot == "held" else Verdict.DOES_NOT_FIT
            advice = (
                "The foot can meet the tyre in tight turns: tell the rider, or fit shorter cranks or a slimmer tyre."
            )
            margin = None if foot == "held" else margin
    return CheckResult(
        verdict=verdict,
        value=distance_mm,
        unit=Unit.MILLIMETRE,
        limit=TOE_CLEARANCE_MM,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )
