"""Brake levers: does the cable pull suit the caliper, and does the hand reach the lever?"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Literal

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import CableEnd, LeverPull
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number

PULL_SOURCE = Source(
    title="Workshop rule: cable pulled by levers and taken by calipers", provenance=Provenance.COMMON_PRACTICE
)
REACH_SOURCE = Source(
    title="16 CFR 1512.5(b)(3), outside grip dimension of hand levers",
    locator="89 mm (3 1/2 in), 76 mm (3 in) for sidewalk bicycles; 90 and 75 mm are ISO 4210-2 from memory",
    provenance=Provenance.LOOKED_UP,
)
# Ordinary hands, small hands [mm], by the rules of the place: the regulation of the United States, and ISO 4210-2 (4.6,
# from memory) elsewhere.
REACH_MM: Mapping[str, tuple[float, float]] = MappingProxyType({"us": (89.0, 76.0), "iso": (90.0, 75.0)})


# A brake with a lever at the hand; a coaster brake has none.
_BY_HAND = {"{end}-brake.actuation": ("cable", "hydraulic")}
# Cable pulled over the lever's useful stroke [mm]; common practice, spread 6 to 8 and 13 to 15.
_PULL_MM = {LeverPull.SHORT: 7.0, LeverPull.LONG: 14.0}


@check(
    family=Family.BRAKES,
    title="Cable pull of lever and caliper",
    purpose="A lever that pulls half of what the caliper takes comes to the bar; one that pulls twice brakes weakly.",
    formula=r"s = 100\,\frac{c_{lever}}{c_{caliper}}",
    source=PULL_SOURCE,
    at_verdict={
        Verdict.FITS: "Connect them, adjust, and test at walking pace.",
        Verdict.DOES_NOT_FIT: "Change the lever or the caliper, so that both are of one pull.",
    },
    example={"lever": "long-pull", "caliper": "long-pull"},
    notes=(
        "Common practice, no source: short pull 6 to 8 mm of cable (centre-bolt rim brakes, older cantilevers, some "
        "discs), long pull 13 to 15 mm (long-armed rim brakes on studs, other discs). 7 and 14 mm stand in the working."
    ),
    asked=Asked(only={"{end}-brake.actuation": ("cable",)}, cures=("{end}-brake",)),
)
def cable_pull(
    lever: Annotated[LeverPull, Meaning("pull of the lever"), Fact("{end}-brake.lever-pull")],
    caliper: Annotated[LeverPull, Meaning("pull that the caliper is made for"), Fact("{end}-brake.caliper-pull")],
) -> CheckResult:
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
        advice=advice,
    )


@check(
    family=Family.BRAKES,
    title="Reach of a brake lever",
    purpose="A lever that the fingers hardly reach can't be pulled hard. This holds its grip against the regulation.",
    formula=r"g \le g_\text{most}",
    source=REACH_SOURCE,
    at_verdict={
        Verdict.FITS: "Let the rider try it with gloves on.",
        Verdict.DOES_NOT_FIT: "Bring the lever nearer with its reach screw, or fit another lever.",
        Verdict.MEASURE_FIRST: "Measure across grip and lever, outside to outside.",
    },
    example={"reach": "80 mm"},
    notes=(
        "16 CFR 1512.5(b)(3), for the United States: 89 mm, and 76 mm for sidewalk bicycles. ISO 4210-2, from memory: "
        "90 mm, and 75 mm for young riders."
    ),
    asked=Asked(force=Force.CONDITION, only=_BY_HAND),
)
def lever_reach(
    reach_mm: Annotated[
        float | None, Meaning("distance across grip and lever, outside to outside"), Fact("measured.{end}-lever-reach")
    ],
    hands: Annotated[Literal["ordinary", "small"], Meaning("whose hands: small for a child's low bike")] = "ordinary",
    rules: Annotated[Literal["iso", "us"], Meaning("iso, or us for 16 CFR 1512 of the United States")] = "iso",
) -> CheckResult:
    """Outside grip dimension of a brake lever [mm] against the limit of the place.

    Source: 16 CFR 1512.5(b)(3); ISO 4210-2 from memory.
    """
    ordinary, small = REACH_MM[rules]
    limit = small if hands == "small" else ordinary
    margin = None if reach_mm is None else limit - reach_mm
    n = write_number
    working = [f"At most by {'16 CFR 1512' if rules == 'us' else 'ISO 4210-2'}: {n(limit)} mm"]
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
        verdict=verdict,
        value=reach_mm,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("limit-small-hands", small, Unit.MILLIMETRE),),
    )


@check(
    family=Family.BRAKES,
    title="Brake lever and brake",
    purpose="A lever that pulls a cable can't push fluid, and one that pulls half the cable comes to the bar.",
    formula=r"l_\text{lever} = l_\text{brake}",
    source=Source(title="Lever and brake work by one line and one pull", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Connect them, adjust or bleed, and test at walking pace.",
        Verdict.WITH_CARE: "Take only a lever that the maker of the brake names, and its own fluid.",
        Verdict.DOES_NOT_FIT: "Take a lever for this brake, or change both.",
        Verdict.MEASURE_FIRST: "Find out the pull of lever and caliper at their makers, or measure it.",
    },
    example={"lever": "cable", "brake": "cable", "lever-pull": "long-pull", "brake-pull": "long-pull"},
    notes="Pull is told by the check of cable pull. A hydraulic lever suits only calipers that its maker names.",
    asked=Asked(only=_BY_HAND, new=("{end}-brake-lever",), cures=("{end}-brake",)),
)
def brake_lever_kind(
    lever: Annotated[
        Literal["cable", "hydraulic"], Meaning("what the lever works by"), Fact("{end}-brake-lever.actuation")
    ],
    brake: Annotated[Literal["cable", "hydraulic"], Meaning("what moves the caliper"), Fact("{end}-brake.actuation")],
    lever_pull: Annotated[LeverPull | None, Meaning("pull of the lever"), Fact("{end}-brake-lever.pull")],
    brake_pull: Annotated[
        LeverPull | None, Meaning("pull that the caliper is made for"), Fact("{end}-brake.caliper-pull")
    ],
) -> CheckResult:
    """Whether a lever works by the line and the pull of the brake. Source: common practice."""
    if lever != brake:
        verdict, advice = (
            Verdict.DOES_NOT_FIT,
            f"A {lever} lever can't move this brake: it takes {brake}.",
        )
    elif lever == "hydraulic":
        verdict, advice = Verdict.WITH_CARE, "Both are hydraulic: take only a lever that the brake's maker names."
    elif lever_pull is None or brake_pull is None:
        verdict, advice = Verdict.MEASURE_FIRST, "Look up the pull of lever and caliper: short or long."
    elif lever_pull is not brake_pull:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a lever of {brake_pull}."
    else:
        verdict, advice = Verdict.FITS, "Lever and brake work by one line and one pull."
    return CheckResult(
        verdict=verdict,
        value=None,
        unit=Unit.ONE,
        working=(
            f"Lever: {lever}, {lever_pull or 'pull not known'}",
            f"Brake: {brake}, {brake_pull or 'pull not known'}",
        ),
        advice=advice,
    )


_SEAT_SOURCE = Source(title="Nipples of cables and the seats that take them", provenance=Provenance.COMMON_PRACTICE)
_SEAT_NOTES = (
    "barrel is the cylinder that lies across a flat bar's brake lever, pear the drop bar's, gear the small one of "
    "shifters. Gear cables are thinner and must never serve in a brake."
)


def _seated(cable: CableEnd, seat: CableEnd) -> CheckResult:
    """Whether the nipple of a cable is that of its seat."""
    same = cable is seat
    return CheckResult(
        verdict=Verdict.FITS if same else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"Cable: {cable}", f"Seat: {seat}"),
        advice="The nipple lies in its seat." if same else f"Take a cable whose nipple is of the kind '{seat}'.",
    )


@check(
    family=Family.BRAKES,
    title="Brake cable and its seat",
    purpose="The nipple of a brake cable must lie in the seat of its lever, or it slips out when the rider pulls.",
    formula=r"e_\text{cable} = e_\text{lever}",
    source=_SEAT_SOURCE,
    at_verdict={
        Verdict.FITS: "Seat the nipple fully, then pull the lever with both hands before anybody rides.",
        Verdict.DOES_NOT_FIT: "Take a cable with the lever's nipple. Never file one down.",
    },
    example={"cable": "barrel", "lever": "barrel"},
    notes=_SEAT_NOTES,
    asked=Asked(only={"{end}-brake.actuation": ("cable",)}, new=("{end}-brake-cable",), cures=("{end}-brake-cable",)),
)
def cable_kind(
    cable: Annotated[CableEnd, Meaning("nipple of the cable"), Fact("{end}-brake-cable.end")],
    lever: Annotated[CableEnd, Meaning("seat in the brake lever"), Fact("{end}-brake-lever.cable-end")],
) -> CheckResult:
    """Whether the nipple of a brake cable is that of its lever. Source: common practice."""
    return _seated(cable, lever)


@check(
    family=Family.GEARS,
    title="Gear cable and its seat",
    purpose="A gear cable has a small nipple: a brake cable doesn't go into a shifter, and another form slips out.",
    formula=r"e_\text{cable} = e_\text{shifter}",
    source=_SEAT_SOURCE,
    at_verdict={
        Verdict.FITS: "Seat the nipple fully, then pull the cable tight by hand.",
        Verdict.DOES_NOT_FIT: "Take a cable with the shifter's nipple.",
    },
    example={"cable": "gear", "shifter": "gear"},
    notes=_SEAT_NOTES,
    asked=Asked(only={"{end}-shifter.actuation": ("cable",)}, new=("{end}-shift-cable",), cures=("{end}-shift-cable",)),
)
def gear_cable_kind(
    cable: Annotated[CableEnd, Meaning("nipple of the cable"), Fact("{end}-shift-cable.end")],
    shifter: Annotated[CableEnd, Meaning("seat in the shifter"), Fact("{end}-shifter.cable-end")],
) -> CheckResult:
    """Whether the nipple of a gear cable is that of its shifter. Source: common practice."""
    return _seated(cable, shifter)
