"""A wheel in the truing stand: spread of the spoke tension, and run-out."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.checks.sides import side_fact
from builder.model.facts import BrakeKind
from builder.model.fields import Fact, Meaning
from builder.model.units import Range, Unit, write_number, write_quantity

TENSION_SOURCE = Source(
    title="Workshop rule for the tension of the spokes of one side", provenance=Provenance.COMMON_PRACTICE
)
RUNOUT_SOURCE = Source(
    title="TBIS 15194:2019, which follows EN 15194 and ISO 4210: concentricity and lateral tolerance",
    locator="4.3.9.1, table 22, with rim brakes; 2 mm without are from memory, 0.5 mm is common practice",
    provenance=Provenance.LOOKED_UP,
)
# Deviation from the mean of a side [%]. Common practice: 5 to 10 % for a good wheel, 20 % at most.
GOOD_SPREAD, WORST_SPREAD = 10.0, 20.0
_FEWEST_SPOKES = 4
# Tension of a usual wheel's tighter side [N]; common practice, where the rim's maker states no highest.
USUAL_TENSION_N = Range(800.0, 1200.0)
# Twice what is usual [N], a guard of our own, no source: a spoke of 1.8 mm breaks at some 2500 N, at 1000 N/mm².
_NO_WHEEL_N = 2400.0
# Run-out, the whole span over one turn [mm]: TBIS 15194 with rim brakes; without them ISO 4210-2 from memory; a well
# trued wheel by common practice.
RACING_RIM_BRAKE_MM, RIM_BRAKE_MM, OTHER_BRAKE_MM, TRUED_MM = 0.6, 0.8, 2.0, 0.5


def braked_by(kind: BrakeKind) -> str:
    """What a brake acts on: `rim`, `disc` or `hub`."""
    if kind is BrakeKind.ROD:
        return "rim"
    return kind.value if kind in (BrakeKind.RIM, BrakeKind.DISC) else "hub"


def spread_percent(tensions: tuple[float, ...]) -> float:
    """The greatest deviation from the mean [%]."""
    mean = sum(tensions) / len(tensions)
    return 100 * max(abs(tension - mean) for tension in tensions) / mean


@check(
    family=Family.WHEELS,
    title="Spread of spoke tension",
    purpose="A wheel stays true when the spokes of one side pull alike. This compares each with their mean.",
    formula=r"s = 100\,\frac{\max|T_i - \bar{T}|}{\bar{T}}",
    source=TENSION_SOURCE,
    at_verdict={
        Verdict.FITS: "Leave the tension as it is.",
        Verdict.WITH_CARE: "Even it out, or bring it to the usual level, a quarter turn at a time; then true it.",
        Verdict.DOES_NOT_FIT: "More than 20 %, or more than the rim bears: tension the side anew.",
    },
    example={"tensions": "1000, 1050, 980, 1020, 1000, 950, 1040, 990"},
    notes=(
        "One side at a time: the two sides of a dished wheel pull differently. Common practice, no source: within 10 % "
        "is good (careful builders ask for 5), 20 % is the most. 800 to 1200 N are "
        "usual on the tighter side (typical); the rim maker's highest tension goes first."
    ),
    asked=Asked(force=Force.CONDITION),
)
def spoke_tension_spread(
    tensions: Annotated[
        tuple[float, ...],
        Meaning("tension of each spoke of one side, in newtons, with commas between"),
        side_fact("measured.{end}-{side}-tensions"),
    ],
    rim_most: Annotated[
        float | None,
        Meaning("highest tension that the rim's maker states"),
        side_fact("{end}-rim.greatest-tension"),
    ] = None,
) -> CheckResult:
    """Greatest deviation of a spoke's tension [N] from the mean of its side of the wheel, and the level of them all.

    Raises:
        InputError: fewer than four spokes.

    Source: common practice.
    """
    if len(tensions) < _FEWEST_SPOKES:
        raise InputError(f"tensions: {len(tensions)} spokes are too few; measure every spoke of one side")
    n = write_number
    mean = sum(tensions) / len(tensions)
    spread = spread_percent(tensions)
    worst = max(tensions, key=lambda tension: abs(tension - mean))
    margin: float | None = WORST_SPREAD - spread
    if not at_most(spread, WORST_SPREAD):
        verdict = Verdict.DOES_NOT_FIT
        advice = "The wheel won't stay true: slacken all spokes of this side and build the tension up evenly."
    elif rim_most is not None and not at_most(max(tensions), rim_most):
        # The margin is that of the spread, which is good here.
        verdict, margin = Verdict.DOES_NOT_FIT, None
        advice = f"More than the {n(rim_most, 0)} N that the rim's maker states: slacken the whole side evenly."
    elif rim_most is None and not at_most(max(tensions), _NO_WHEEL_N):
        verdict, margin = Verdict.DOES_NOT_FIT, None
        advice = (
            f"More than {n(_NO_WHEEL_N)} N, which no usual rim bears and a thin spoke hardly: read the gauge's table "
            "for this spoke again, and slacken the whole side evenly if it is so."
        )
    elif not at_most(spread, GOOD_SPREAD):
        verdict = Verdict.WITH_CARE
        advice = f"Even the tension: bring the spoke of {n(worst, 0)} N nearer the mean of {n(mean, 0)} N."
    elif rim_most is None and not at_most(max(tensions), USUAL_TENSION_N.high):
        verdict = Verdict.WITH_CARE
        advice = (
            f"Even, but more than the usual {n(USUAL_TENSION_N.high)} N at most: look up the rim's highest tension."
        )
    elif not at_least(mean, USUAL_TENSION_N.low):
        verdict = Verdict.WITH_CARE
        advice = f"Even, but below the usual {n(USUAL_TENSION_N.low)} N: right only for a dished wheel's slack side."
    else:
        verdict, advice = Verdict.FITS, "The tension is even and of a usual level."
    return CheckResult(
        verdict=verdict,
        value=spread,
        unit=Unit.PERCENT,
        limit=WORST_SPREAD,
        margin=margin,
        working=(
            f"Sum of {len(tensions)} spokes: {n(sum(tensions))} N",
            f"Mean: {n(sum(tensions))} ÷ {len(tensions)} = {n(mean)} N",
            f"Farthest from it: {n(worst)} N, by {n(abs(worst - mean))} N",
            f"Deviation: {n(abs(worst - mean))} ÷ {n(mean)} × 100 = {n(spread)} %",
            f"Highest: {n(max(tensions))} N; "
            + (f"the rim's most: {n(rim_most)} N" if rim_most is not None else "the rim's most is not known"),
        ),
        advice=advice,
        values=(
            named("mean", mean, Unit.NEWTON),
            named("lowest", min(tensions), Unit.NEWTON),
            named("highest", max(tensions), Unit.NEWTON),
        ),
    )


@check(
    family=Family.WHEELS,
    title="Run-out of a wheel",
    purpose="How far the rim moves from side to side and up and down in one turn, and whether it may be ridden so.",
    formula=r"\max(a_{lateral},\; a_{radial}) \le a_{limit}",
    source=RUNOUT_SOURCE,
    at_verdict={
        Verdict.FITS: "The wheel is true.",
        Verdict.WITH_CARE: "It may be ridden. True it when it is in the stand anyway; see that no brake rubs.",
        Verdict.DOES_NOT_FIT: "True it before riding. If a spoke is slack or the rim is bent, see a mechanic.",
        Verdict.MEASURE_FIRST: "Turn the wheel past a fixed pointer and measure the span both ways.",
    },
    example={"lateral": "0.4 mm", "radial": "0.3 mm", "brake": "rim"},
    drawing="wheel-runout",
    notes=(
        "With rim brakes 0.8 mm, and 0.6 mm on racing bikes (TBIS 15194:2019, table 22); 2 mm without rim brakes from "
        "memory of ISO 4210-2. Half a millimetre for a freshly trued wheel is common practice; builders ask for "
        "0.2 mm."
    ),
    asked=Asked(force=Force.CONDITION, kept=("{end}-rim",)),
)
def wheel_runout(
    lateral_mm: Annotated[
        float | None, Meaning("span from side to side over one turn"), Fact("measured.{end}-runout-sideways")
    ],
    radial_mm: Annotated[
        float | None, Meaning("span up and down over one turn"), Fact("measured.{end}-runout-upwards")
    ],
    brake: Annotated[
        Literal["rim", "disc", "hub"],
        Meaning("what the brake acts on"),
        Fact("{end}-brake.brake-kind", by=braked_by, called="kind of brake"),
    ] = "rim",
    use: Annotated[Literal["racing", "other"], Meaning("kind of bike")] = "other",
) -> CheckResult:
    """Lateral and radial run-out of a rim over one turn, each the span between the extremes [mm].

    Source: TBIS 15194:2019, table 22, with rim brakes; 2 mm without them from memory of ISO 4210-2; 0.5 mm for a trued
    wheel, common practice.
    """
    limit = OTHER_BRAKE_MM if brake != "rim" else RACING_RIM_BRAKE_MM if use == "racing" else RIM_BRAKE_MM
    n = write_number
    known = [span for span in (lateral_mm, radial_mm) if span is not None]
    worst = max(known, default=None)
    working = [f"Limit with {'rim brakes' if brake == 'rim' else 'other brakes'}: {n(limit)} mm"]
    margin = None if worst is None else limit - worst
    if worst is not None and margin is not None:
        working.append(f"Larger of {' and '.join(n(span, 2) for span in known)}: {n(worst, 2)} mm")
        working.append(f"Margin: {n(limit)} − {n(worst, 2)} = {n(margin, 2)} mm")
    if worst is not None and not at_most(worst, limit):
        verdict, advice = Verdict.DOES_NOT_FIT, "True the wheel before it is ridden."
    elif worst is None or lateral_mm is None or radial_mm is None:
        missing = "side to side" if lateral_mm is None else "up and down"
        verdict = Verdict.MEASURE_FIRST
        advice = f"Turn the wheel against a fixed pointer and measure the span {missing}."
    elif at_most(worst, TRUED_MM):
        verdict, advice = Verdict.FITS, "The wheel is true."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            f"Within the limit, but true it to {write_quantity(TRUED_MM, Unit.MILLIMETRE)}; see that no brake rubs."
        )
    return CheckResult(
        verdict=verdict,
        value=worst,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )


@check(
    family=Family.WHEELS,
    title="Spokes of rim and hub",
    purpose="Every spoke joins a hole of the hub to a hole of the rim. With another count the wheel can't be laced.",
    formula=r"n_\text{rim} = n_\text{hub}",
    source=Source(title="A hole in the hub for each hole in the rim", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Go on to the length of the spokes.",
        Verdict.DOES_NOT_FIT: "Take a rim with as many holes as the hub, or the other way round.",
    },
    example={"rim": "32", "hub": "32"},
    notes="Usual counts are 20, 24, 28, 32 and 36. Half of the hub's holes are in each flange.",
    asked=Asked(cures=("{end}-rim", "{end}-hub")),
)
def spoke_count(
    rim: Annotated[int, Meaning("holes of the rim"), Fact("{end}-rim.spokes")],
    hub: Annotated[int, Meaning("holes of both flanges of the hub"), Fact("{end}-hub.spoke-holes")],
) -> CheckResult:
    """Whether rim and hub have as many holes. Source: common practice."""
    apart = abs(rim - hub)
    return CheckResult(
        verdict=Verdict.DOES_NOT_FIT if apart else Verdict.FITS,
        value=float(rim),
        unit=Unit.ONE,
        limit=float(hub),
        margin=0.0 - apart,
        working=(f"Rim: {rim} holes; hub: {hub} holes; apart: {apart}",),
        advice=f"Take a rim with {hub} holes, or a hub with {rim}." if apart else "Each spoke has its hole in the rim.",
    )
