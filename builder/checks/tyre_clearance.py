"""Room round a tyre: between the stays or the fork's blades, and in front of the rider's foot."""

from __future__ import annotations

from builder.checks.judging import at_least, choice, named, number, number_or_none, quantity, word
from builder.checks.result import Check, CheckResult, Inputs, Provenance, Source, Verdict
from builder.model.units import Unit, write_number, write_quantity

CLEARANCE_SOURCE = Source(
    title="16 CFR 1512.11(b), clearance of 1.6 mm at any position of the wheel",
    locator="the comfortable 4 mm (racing) and 6 mm (others) are those of ISO 4210-2 from memory",
    provenance=Provenance.LOOKED_UP,
)
TOE_SOURCE = Source(
    title="16 CFR 1512.17(d), toe clearance of bicycles without toe clips",
    locator="89 mm (3 1/2 in)",
    provenance=Provenance.LOOKED_UP,
)
LEAST_GAP_MM = 1.6
RACING_GAP_MM, OTHER_GAP_MM = 4.0, 6.0
TOE_CLEARANCE_MM = 89.0


def tyre_clearance(*, space_mm: float | None, tyre_mm: float, racing: bool) -> CheckResult:
    """Gap on each side of a tyre, from the space in frame or fork and the tyre's measured width.

    Args:
        space_mm: narrowest space where the tyre runs [mm], None where it has still to be measured.
        tyre_mm: width of the tyre as mounted [mm].
        racing: whether it is a racing bike, for which the standard asks for less.

    Source: 16 CFR 1512.11(b); the comfortable gaps are ISO 4210-2 from memory.
    """
    wanted = RACING_GAP_MM if racing else OTHER_GAP_MM
    n = write_number
    gap = margin = None
    working = [f"Wanted each side: {n(wanted)} mm; least: {n(LEAST_GAP_MM)} mm"]
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
            f"Widest tyre for the gap wanted: {n(space_mm)} − 2 × {n(wanted)} = {n(widest or 0.0)} mm",
        ]
        if at_least(gap, wanted):
            verdict, advice = Verdict.FITS, "There is room for mud and for a wheel that is a little out of true."
        elif at_least(gap, LEAST_GAP_MM):
            verdict = Verdict.WITH_CARE
            advice = f"Little room: keep the wheel true, or take a tyre of {n(widest or 0.0, 0)} mm at most."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"The tyre can touch: take one of {n(max(widest or 0.0, 0.0), 0)} mm at most."
    return CheckResult(
        check=TYRE_CLEARANCE.name,
        verdict=verdict,
        value=gap,
        unit=Unit.MILLIMETRE,
        limit=LEAST_GAP_MM,
        margin=margin,
        working=tuple(working),
        source=str(CLEARANCE_SOURCE),
        advice=advice,
        values=(named("wanted", wanted, Unit.MILLIMETRE),),
    )


def toe_clearance(distance_mm: float | None, *, foot_held: bool = False) -> CheckResult:
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
            verdict = Verdict.WITH_CARE if foot_held else Verdict.DOES_NOT_FIT
            advice = (
                "The foot can meet the tyre in tight turns: tell the rider, or fit shorter cranks or a slimmer tyre."
            )
            margin = None if foot_held else margin
    return CheckResult(
        check=TOE_CLEARANCE.name,
        verdict=verdict,
        value=distance_mm,
        unit=Unit.MILLIMETRE,
        limit=TOE_CLEARANCE_MM,
        margin=margin,
        working=tuple(working),
        source=str(TOE_SOURCE),
        advice=advice,
    )


def _run_clearance(inputs: Inputs) -> CheckResult:
    return tyre_clearance(
        space_mm=number_or_none(inputs, "space"),
        tyre_mm=number(inputs, "tyre"),
        racing=word(inputs, "use") == "racing",
    )


def _run_toe(inputs: Inputs) -> CheckResult:
    return toe_clearance(number_or_none(inputs, "distance"), foot_held=word(inputs, "foot") == "held")


TYRE_CLEARANCE = Check(
    name="tyre-clearance",
    family="tyres",
    title="Room for the tyre",
    purpose="A tyre that touches the frame stops the wheel. This is the gap that is left on each side.",
    formula=r"g = \frac{w_{space} - w_{tyre}}{2}",
    inputs=(
        quantity("tyre", "width of the tyre as mounted and pumped up", Unit.MILLIMETRE, 16, 130),
        quantity("space", "narrowest space where the tyre runs", Unit.MILLIMETRE, 16, 200, optional=True),
        choice("use", "kind of bike", ("racing", "other"), default="other"),
    ),
    source=CLEARANCE_SOURCE,
    run=_run_clearance,
    at_verdict={
        Verdict.FITS: "There is room. Turn the wheel once and watch the gap all round.",
        Verdict.WITH_CARE: (
            "More than the least gap of 1.6 mm, less than is comfortable: keep the wheel true and clean."
        ),
        Verdict.DOES_NOT_FIT: "Take a narrower tyre. A stone or a broken spoke would stop the wheel.",
        Verdict.MEASURE_FIRST: "Measure the narrowest space between stays, blades, bridge and mudguard.",
    },
    example={"tyre": "37 mm", "space": "52 mm"},
    drawing="tyre-clearance",
    notes=(
        "A tyre seldom measures what it is marked: 2 mm either way, more on a wide rim. The regulation's 1.6 mm (1/16 "
        "in) must hold at every position of the wheel. 4 mm for racing and 6 mm for other bikes are ISO 4210-2 "
        "from memory."
    ),
)

TOE_CLEARANCE = Check(
    name="toe-clearance",
    family="tyres",
    title="Room for the foot",
    purpose="With a bigger tyre, a mudguard or longer cranks the foot may meet the front wheel in a tight turn.",
    formula=r"a \ge 89\;\mathrm{mm}",
    inputs=(
        quantity("distance", "middle of the pedal to tyre or mudguard", Unit.MILLIMETRE, 1, 400, optional=True),
        choice("foot", "held by clip or cleat, or free", ("free", "held"), default="free"),
    ),
    source=TOE_SOURCE,
    run=_run_toe,
    at_verdict={
        Verdict.FITS: "The foot clears the wheel.",
        Verdict.WITH_CARE: "Many sporty bikes have less. Tell the rider, and let them try slow tight turns.",
        Verdict.DOES_NOT_FIT: "Fit shorter cranks, a slimmer tyre or another mudguard, or leave things as they were.",
        Verdict.MEASURE_FIRST: "Turn pedal and wheel as near to each other as they come, then measure.",
    },
    example={"distance": "95 mm"},
    notes="89 mm is the least for bicycles without toe clips or locking pedals in 16 CFR 1512.17(d).",
)

CHECKS = (TYRE_CLEARANCE, TOE_CLEARANCE)
