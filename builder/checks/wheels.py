"""A wheel in the truing stand: spread of the spoke tension, and run-out."""

from __future__ import annotations

from builder.checks.judging import at_most, choice, named, number_or_none, quantity, wholes, word
from builder.checks.result import Check, CheckResult, Input, InputError, Inputs, Kind, Provenance, Source, Verdict
from builder.model.units import Unit, write_number, write_quantity

TENSION_SOURCE = Source(
    title="Workshop rule for the tension of the spokes of one side", provenance=Provenance.COMMON_PRACTICE
)
RUNOUT_SOURCE = Source(
    title="ISO 4210-2, rotational accuracy of wheels; half a millimetre for a trued wheel is common practice",
    locator="1 mm with rim brakes, 2 mm without",
    provenance=Provenance.FROM_MEMORY,
)
# Deviation from the mean of a side [%]. Common practice: 5 to 10 % for a good wheel, 20 % at most.
GOOD_SPREAD, WORST_SPREAD = 10.0, 20.0
_FEWEST_SPOKES = 4
# Run-out [mm]: ISO 4210-2 from memory; a well trued wheel by common practice.
RIM_BRAKE_MM, OTHER_BRAKE_MM, TRUED_MM = 1.0, 2.0, 0.5


def spread_percent(tensions: tuple[int, ...]) -> float:
    """The greatest deviation from the mean [%]."""
    mean = sum(tensions) / len(tensions)
    return 100 * max(abs(tension - mean) for tension in tensions) / mean


def spoke_tension_spread(tensions_n: tuple[int, ...]) -> CheckResult:
    """Greatest deviation of a spoke's tension from the mean of its side of the wheel.

    Args:
        tensions_n: tension of each spoke of one side [N], or readings of a gauge that rise with it.

    Raises:
        InputError: fewer than four spokes.

    Source: common practice.
    """
    if len(tensions_n) < _FEWEST_SPOKES:
        raise InputError(f"tensions: {len(tensions_n)} spokes are too few; measure every spoke of one side")
    n = write_number
    mean = sum(tensions_n) / len(tensions_n)
    spread = spread_percent(tensions_n)
    worst = max(tensions_n, key=lambda tension: abs(tension - mean))
    if at_most(spread, GOOD_SPREAD):
        verdict, advice = Verdict.FITS, "The tension is even."
    elif at_most(spread, WORST_SPREAD):
        verdict = Verdict.WITH_CARE
        advice = f"Even the tension: bring the spoke of {worst} N nearer the mean of {n(mean, 0)} N."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = "The wheel won't stay true: slacken all spokes of this side and build the tension up evenly."
    return CheckResult(
        check=SPOKE_TENSION_SPREAD.name,
        verdict=verdict,
        value=spread,
        unit=Unit.PERCENT,
        limit=WORST_SPREAD,
        margin=WORST_SPREAD - spread,
        working=(
            f"Sum of {len(tensions_n)} spokes: {sum(tensions_n)} N",
            f"Mean: {sum(tensions_n)} ÷ {len(tensions_n)} = {n(mean)} N",
            f"Farthest from it: {worst} N, by {n(abs(worst - mean))} N",
            f"Deviation: {n(abs(worst - mean))} ÷ {n(mean)} × 100 = {n(spread)} %",
        ),
        source=str(TENSION_SOURCE),
        advice=advice,
        values=(
            named("mean", mean, Unit.NEWTON),
            named("lowest", float(min(tensions_n)), Unit.NEWTON),
            named("highest", float(max(tensions_n)), Unit.NEWTON),
        ),
    )


def wheel_runout(*, lateral_mm: float | None, radial_mm: float | None, rim_brake: bool) -> CheckResult:
    """Lateral and radial run-out of a rim over one turn, each the span between the extremes.

    Source: ISO 4210-2 from memory (1 mm with rim brakes, 2 mm without); 0.5 mm for a trued wheel, common practice.
    """
    limit = RIM_BRAKE_MM if rim_brake else OTHER_BRAKE_MM
    n = write_number
    worst = None if lateral_mm is None or radial_mm is None else max(lateral_mm, radial_mm)
    working = [f"Limit with {'rim brakes' if rim_brake else 'other brakes'}: {n(limit)} mm"]
    margin = None
    if worst is None:
        missing = "side to side" if lateral_mm is None else "up and down"
        verdict = Verdict.MEASURE_FIRST
        advice = f"Turn the wheel against a fixed pointer and measure the span {missing}."
    else:
        margin = limit - worst
        working.append(f"Larger of {n(lateral_mm or 0.0, 2)} and {n(radial_mm or 0.0, 2)}: {n(worst, 2)} mm")
        working.append(f"Margin: {n(limit)} − {n(worst, 2)} = {n(margin, 2)} mm")
        if at_most(worst, TRUED_MM):
            verdict, advice = Verdict.FITS, "The wheel is true."
        elif at_most(worst, limit):
            verdict = Verdict.WITH_CARE
            advice = (
                f"Within the limit, but true it to {write_quantity(TRUED_MM, Unit.MILLIMETRE)}; see that no brake rubs."
            )
        else:
            verdict, advice = Verdict.DOES_NOT_FIT, "True the wheel before it is ridden."
    return CheckResult(
        check=WHEEL_RUNOUT.name,
        verdict=verdict,
        value=worst,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        source=str(RUNOUT_SOURCE),
        advice=advice,
    )


def _run_spread(inputs: Inputs) -> CheckResult:
    return spoke_tension_spread(wholes(inputs, "tensions"))


def _run_runout(inputs: Inputs) -> CheckResult:
    return wheel_runout(
        lateral_mm=number_or_none(inputs, "lateral"),
        radial_mm=number_or_none(inputs, "radial"),
        rim_brake=word(inputs, "brake") == "rim",
    )


SPOKE_TENSION_SPREAD = Check(
    name="spoke-tension-spread",
    family="wheels",
    title="Spread of spoke tension",
    purpose="A wheel stays true when the spokes of one side pull alike. This compares each with their mean.",
    formula=r"s = 100\,\frac{\max|T_i - \bar{T}|}{\bar{T}}",
    inputs=(
        Input(
            name="tensions",
            words="tension of each spoke of one side, in newtons, with commas between",
            kind=Kind.WHOLE_LIST,
            unit=Unit.NEWTON,
            low=50,
            high=3000,
        ),
    ),
    source=TENSION_SOURCE,
    run=_run_spread,
    at_verdict={
        Verdict.FITS: "Leave the tension as it is.",
        Verdict.WITH_CARE: "Between 10 and 20 %: even it out, a quarter turn at a time, and true the wheel again.",
        Verdict.DOES_NOT_FIT: "More than 20 %: the wheel won't stay true and spokes will break. Tension the side anew.",
    },
    example={"tensions": "1000, 1050, 980, 1020, 1000, 950, 1040, 990"},
    notes=(
        "One side at a time: the two sides of a dished wheel pull differently. Common practice, no source: within 10 % "
        "is good (careful builders ask for 5), 20 % is the most. The rim's maker states the highest tension."
    ),
)

WHEEL_RUNOUT = Check(
    name="wheel-runout",
    family="wheels",
    title="Run-out of a wheel",
    purpose="How far the rim moves from side to side and up and down in one turn, and whether it may be ridden so.",
    formula=r"\max(a_{lateral},\; a_{radial}) \le a_{limit}",
    inputs=(
        quantity("lateral", "span from side to side over one turn", Unit.MILLIMETRE, 0, 50, optional=True),
        quantity("radial", "span up and down over one turn", Unit.MILLIMETRE, 0, 50, optional=True),
        choice("brake", "what the brake acts on", ("rim", "disc", "hub"), default="rim"),
    ),
    source=RUNOUT_SOURCE,
    run=_run_runout,
    at_verdict={
        Verdict.FITS: "The wheel is true.",
        Verdict.WITH_CARE: "It may be ridden. True it when it is in the stand anyway; see that no brake rubs.",
        Verdict.DOES_NOT_FIT: "True it before riding. If a spoke is slack or the rim is bent, see a mechanic.",
        Verdict.MEASURE_FIRST: "Turn the wheel past a fixed pointer and measure the span both ways.",
    },
    example={"lateral": "0.4 mm", "radial": "0.3 mm", "brake": "rim"},
    drawing="wheel-runout",
    notes=(
        "The limits of 1 mm with rim brakes and 2 mm without are those of ISO 4210-2 from memory. Half a millimetre "
        "for a freshly trued wheel is common practice; careful builders ask for 0.2 mm."
    ),
)

CHECKS = (SPOKE_TENSION_SPREAD, WHEEL_RUNOUT)
