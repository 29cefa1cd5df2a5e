"""Brake levers: does the cable pull suit the caliper, and does the hand reach the lever?"""

from __future__ import annotations

from builder.checks.judging import at_most, choice, named, number_or_none, quantity, word
from builder.checks.result import Check, CheckResult, Inputs, Provenance, Source, Verdict
from builder.model.facts import LeverPull
from builder.model.units import Unit, write_number

PULL_SOURCE = Source(
    title="Workshop rule: cable pulled by levers and taken by calipers", provenance=Provenance.COMMON_PRACTICE
)
REACH_SOURCE = Source(
    title="16 CFR 1512.5(b)(3), outside grip dimension of hand levers",
    locator="89 mm (3 1/2 in), 76 mm (3 in) for sidewalk bicycles",
    provenance=Provenance.LOOKED_UP,
)
REACH_MM, SMALL_REACH_MM = 89.0, 76.0


# Cable pulled over the lever's useful stroke [mm]; common practice, spread 6 to 8 and 13 to 15.
_PULL_MM = {LeverPull.SHORT: 7.0, LeverPull.LONG: 14.0}


def cable_pull(lever: LeverPull, caliper: LeverPull) -> CheckResult:
    """Cable that the lever pulls against the cable that the caliper takes.

    The value is the lever's share of what the caliper needs, in per cent, from usual figures.

    Source: common practice; 6 to 8 mm for short, 13 to 15 mm for long pull.
    """
    given, needed = _PULL_MM[lever], _PULL_MM[caliper]
    share = 100 * given / needed
    if lever is caliper:
        verdict, advice = Verdict.FITS, "Lever and caliper are made for each other's pull."
    elif lever is LeverPull.SHORT:
        verdict = Verdict.DOES_NOT_FIT
        advice = "The lever comes to the bar before the pads press: take a long-pull lever, or a pull converter."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = "The brake feels hard and stops weakly: take a short-pull lever."
    n = write_number
    return CheckResult(
        check=CABLE_PULL.name,
        verdict=verdict,
        value=share,
        unit=Unit.PERCENT,
        limit=100.0,
        margin=0.0 - abs(share - 100.0),
        working=(
            f"Lever, {lever}: pulls about {n(given)} mm",
            f"Caliper, {caliper}: needs about {n(needed)} mm",
            f"Share: {n(given)} ÷ {n(needed)} × 100 = {n(share)} %",
        ),
        source=str(PULL_SOURCE),
        advice=advice,
    )


def lever_reach(reach_mm: float | None, *, small_hands: bool) -> CheckResult:
    """Outside grip dimension of a brake lever against the regulation's limit. Source: 16 CFR 1512.5(b)(3)."""
    limit = SMALL_REACH_MM if small_hands else REACH_MM
    margin = None if reach_mm is None else limit - reach_mm
    n = write_number
    working = [f"At most: {n(limit)} mm"]
    if reach_mm is None or margin is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Measure across grip and lever, outside to outside, where the middle of the hand lies."
    else:
        working.append(f"Margin: {n(limit)} − {n(reach_mm)} = {n(margin)} mm")
        if at_most(reach_mm, limit):
            verdict, advice = Verdict.FITS, "The hand reaches the lever."
        else:
            verdict, advice = Verdict.DOES_NOT_FIT, "Turn the reach screw in, or fit a lever for smaller hands."
    return CheckResult(
        check=LEVER_REACH.name,
        verdict=verdict,
        value=reach_mm,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        source=str(REACH_SOURCE),
        advice=advice,
        values=(named("limit-small-hands", SMALL_REACH_MM, Unit.MILLIMETRE),),
    )


def _run_pull(inputs: Inputs) -> CheckResult:
    return cable_pull(LeverPull(word(inputs, "lever")), LeverPull(word(inputs, "caliper")))


def _run_reach(inputs: Inputs) -> CheckResult:
    return lever_reach(number_or_none(inputs, "reach"), small_hands=word(inputs, "hands") == "small")


CABLE_PULL = Check(
    name="cable-pull",
    family="brakes",
    title="Cable pull of lever and caliper",
    purpose="A lever that pulls half of what the caliper takes comes to the bar; one that pulls twice brakes weakly.",
    formula=r"s = 100\,\frac{c_{lever}}{c_{caliper}}",
    inputs=(
        choice("lever", "pull of the lever", tuple(LeverPull)),
        choice("caliper", "pull that the caliper is made for", tuple(LeverPull)),
    ),
    source=PULL_SOURCE,
    run=_run_pull,
    at_verdict={
        Verdict.FITS: "Connect them, adjust, and test at walking pace.",
        Verdict.DOES_NOT_FIT: "Change the lever or the caliper, so that both are of one pull.",
    },
    example={"lever": "long-pull", "caliper": "long-pull"},
    notes=(
        "Common practice, no source: short pull 6 to 8 mm of cable (centre-bolt rim brakes, older cantilevers, some "
        "discs), long pull 13 to 15 mm (long-armed rim brakes on studs, other discs). 7 and 14 mm stand in the working."
    ),
)

LEVER_REACH = Check(
    name="lever-reach",
    family="brakes",
    title="Reach of a brake lever",
    purpose="A lever that the fingers hardly reach can't be pulled hard. This holds its grip against the regulation.",
    formula=r"g \le 89\;\mathrm{mm}",
    inputs=(
        quantity("reach", "across grip and lever, outside to outside", Unit.MILLIMETRE, 20, 200, optional=True),
        choice("hands", "whose hands: small for a child's low bike", ("ordinary", "small"), default="ordinary"),
    ),
    source=REACH_SOURCE,
    run=_run_reach,
    at_verdict={
        Verdict.FITS: "Let the rider try it with gloves on.",
        Verdict.DOES_NOT_FIT: "Bring the lever nearer with its reach screw, or fit another lever.",
        Verdict.MEASURE_FIRST: "Measure across grip and lever, outside to outside.",
    },
    example={"reach": "80 mm"},
    notes="Limits of 16 CFR 1512.5(b)(3): 89 mm, and 76 mm for sidewalk bicycles.",
)

CHECKS = (CABLE_PULL, LEVER_REACH)
