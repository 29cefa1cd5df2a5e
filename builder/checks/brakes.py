"""What must be of one kind at a brake: its mount, the rotor's fixing and the fluid."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import BrakeKind, BrakeMount, Fluid, RotorMount
from builder.model.fields import BrakeStandard, Fact, Meaning, RotorStandard
from builder.model.units import Unit

MOUNT_SOURCE = Source(
    title="Workshop rule: mounts by their geometry, and the adaptors that are made",
    provenance=Provenance.COMMON_PRACTICE,
)
FLUID_SOURCE = Source(
    title="49 CFR 571.116 for the grades of DOT fluid; that mineral oil and DOT fluid never mix is common practice",
    locator="glycol ether grades 3, 4 and 5.1, silicone grade 5",
    provenance=Provenance.FROM_MEMORY,
)


class FluidGrade(StrEnum):
    """What fills a hydraulic brake: the kinds of `builder.model.facts.Fluid`, and the grades of DOT fluid."""

    MINERAL_OIL = "mineral-oil"
    DOT = "dot"
    DOT_3 = "dot-3"
    DOT_4 = "dot-4"
    DOT_5_1 = "dot-5.1"
    DOT_5_SILICONE = "dot-5-silicone"
    UNKNOWN = "unknown"


# (brake, frame) pairs that an adaptor joins. Common practice.
_ADAPTED = frozenset(
    {
        (BrakeMount.POST, BrakeMount.TABS),
        (BrakeMount.POST, BrakeMount.FLAT),
        (BrakeMount.FLAT, BrakeMount.POST),
        (BrakeMount.TABS, BrakeMount.POST),
    }
)
# Glycol ethers by their boiling point, the lowest first (49 CFR 571.116, from memory).
_GLYCOL = (FluidGrade.DOT_3, FluidGrade.DOT_4, FluidGrade.DOT_5_1)
_DISC = {"{end}-brake.brake-kind": ("disc",)}


def grade_of(fluid: Fluid) -> FluidGrade:
    """What is known of the grade by the fluid that a part's file names."""
    return FluidGrade.UNKNOWN if fluid is Fluid.NONE else FluidGrade(fluid.value)


def _matching(verdict: Verdict, working: tuple[str, ...], advice: str) -> CheckResult:
    """A result without a number: two kinds were compared."""
    return CheckResult(verdict=verdict, value=None, unit=Unit.ONE, working=working, advice=advice)


@check(
    family=Family.BRAKES,
    title="Brake mount",
    purpose="A brake is held by bolts in one place or not at all. This compares its mount with that of frame or fork.",
    formula=r"m_{brake} = m_{frame}",
    source=MOUNT_SOURCE,
    at_verdict={
        Verdict.FITS: "Bolt it on and tighten to the maker's torque.",
        Verdict.WITH_CARE: "Take the adaptor for this pair and this rotor, with bolts of the length that it asks for.",
        Verdict.DOES_NOT_FIT: "Take a brake for the frame's mount. A home-made bracket can cost a life.",
    },
    example={"brake": "post-mount", "frame": "tab-mount"},
    drawing="brake-mounts",
    notes=(
        "Rim: one bolt through crown or bridge, or two studs beside the rim. Disc: tabs 51 mm apart with bolts across "
        "the wheel, posts 74 mm apart with bolts along it, or a flat face bolted through the stay. Drum and coaster: "
        "an arm strapped to the stay. Adaptors are common practice; each is made for one diameter of rotor."
    ),
    # The arm of a hub brake is strapped to any stay.
    asked=Asked(unless={"{end}-brake.brake-kind": ("coaster", "drum")}, cures=("{end}-brake",)),
)
def brake_mount(
    brake: Annotated[BrakeStandard, Meaning("mount that the brake is made for"), Fact("{end}-brake.caliper-mount")],
    frame: Annotated[
        BrakeStandard, Meaning("mount of frame or fork"), Fact("frame.rear-caliper-mount", front="fork.caliper-mount")
    ],
) -> CheckResult:
    """Whether a brake goes onto the mount of frame or fork, by itself or with an adaptor. Source: common practice."""
    if BrakeMount.NONE in (brake, frame):
        verdict, advice = (
            Verdict.DOES_NOT_FIT,
            "One of the two has no mount: there is nothing to bolt.",
        )
    elif brake == frame:
        verdict, advice = Verdict.FITS, "The mounts are the same."
    elif (brake, frame) in _ADAPTED:
        verdict = Verdict.WITH_CARE
        advice = "It needs the adaptor that is made for this pair and for the diameter of the rotor."
    else:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a brake for the mount '{frame}'."
    return _matching(verdict, (f"Brake: {brake}", f"Frame or fork: {frame}"), advice)


@check(
    family=Family.BRAKES,
    title="Rotor and hub",
    purpose="A rotor is held by six bolts or by splines with a lockring; the hub decides.",
    formula=r"m_{rotor} = m_{hub}",
    source=MOUNT_SOURCE,
    at_verdict={
        Verdict.FITS: "Fit it with the arrow in the direction of travel, bolts or lockring to their torque.",
        Verdict.WITH_CARE: "Take the adaptor, and see that rotor and caliper still stand in one plane.",
        Verdict.DOES_NOT_FIT: "Take a rotor of the hub's kind.",
    },
    example={"rotor": "six-bolt", "hub": "six-bolt"},
    notes="Six bolts stand on a circle of 44 mm. Adaptors go from six bolts to splines only: common practice.",
    asked=Asked(only=_DISC, cures=("{end}-rotor",)),
)
def rotor_mount(
    rotor: Annotated[RotorStandard, Meaning("how the rotor is held"), Fact("{end}-rotor.rotor-mount")],
    hub: Annotated[RotorStandard, Meaning("what the hub has"), Fact("{end}-hub.rotor-mount")],
) -> CheckResult:
    """Whether a rotor goes onto a hub. Source: common practice."""
    if RotorMount.NONE in (rotor, hub):
        verdict, advice = Verdict.DOES_NOT_FIT, "There is nothing to hold a rotor: take a hub for disc brakes."
    elif rotor == hub:
        verdict, advice = Verdict.FITS, "Rotor and hub are of one kind."
    elif (rotor, hub) == (RotorMount.SIX_BOLT, RotorMount.SPLINED):
        verdict, advice = Verdict.WITH_CARE, "A six-bolt rotor needs an adaptor on a splined hub."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"A {rotor} rotor does not go onto a {hub} hub: take a {hub} rotor."
    return _matching(verdict, (f"Rotor: {rotor}", f"Hub: {hub}"), advice)


@check(
    family=Family.BRAKES,
    title="Brake fluid",
    purpose="Mineral oil and DOT fluid are never mixed: the wrong one swells the seals, and the brake fails later.",
    formula=r"f_{bottle} = f_{brake}",
    source=FLUID_SOURCE,
    at_verdict={
        Verdict.FITS: "Use it, with gloves and eye protection; wipe every drop off pads, rotor and paint.",
        Verdict.WITH_CARE: "Mineral oil: only the brake maker's own. DOT: a grade that boils higher may be mixed in.",
        Verdict.DOES_NOT_FIT: (
            "Don't open the bottle. If the wrong fluid went in, don't ride: see a qualified mechanic."
        ),
        Verdict.MEASURE_FIRST: "Find out which fluid the brake holds: reservoir, manual or maker. Never by smell.",
    },
    example={"brake": "mineral-oil", "bottle": "mineral-oil"},
    notes=(
        "DOT 3, 4 and 5.1 are glycol ethers, DOT 5 is silicone and mixes with none of them (49 CFR 571.116, from "
        "memory), and boil higher in that order. No standard makes the mineral oils of two makers interchangeable: "
        "the maker's own goes first."
    ),
    asked=Asked(force=Force.TELLS, only={"{end}-brake.actuation": ("hydraulic",)}),
)
def brake_fluid(
    brake: Annotated[
        FluidGrade,
        Meaning("fluid that the brake's maker states"),
        Fact("{end}-brake.fluid", by=grade_of, called="fluid of the brake"),
    ],
    bottle: Annotated[FluidGrade | None, Meaning("fluid in the bottle")],
) -> CheckResult:
    """Whether the fluid in the bottle may go into the brake. Source: common practice; grades of 49 CFR 571.116."""
    if bottle is None or FluidGrade.UNKNOWN in (brake, bottle):
        verdict = Verdict.MEASURE_FIRST
        advice = "Read the kind on the lever's reservoir and on the bottle, or ask the brake's maker. Never guess."
    elif FluidGrade.MINERAL_OIL is brake is bottle:
        verdict = Verdict.WITH_CARE
        advice = "Only the mineral oil of the brake's own maker: no standard makes two of them alike."
    elif brake is bottle:
        verdict, advice = Verdict.FITS, "The fluid is of the brake's kind. Use it fresh from a sealed bottle."
    elif FluidGrade.DOT in (brake, bottle) and {brake, bottle} <= {*_GLYCOL, FluidGrade.DOT}:
        verdict = Verdict.MEASURE_FIRST
        advice = "Read the grade as well, 3, 4 or 5.1: a lower one than the maker names boils too early."
    elif brake in _GLYCOL and bottle in _GLYCOL and _GLYCOL.index(bottle) > _GLYCOL.index(brake):
        verdict, advice = Verdict.WITH_CARE, "It mixes and boils higher: keep to the grade that the maker names."
    elif brake in _GLYCOL and bottle in _GLYCOL:
        verdict, advice = (
            Verdict.DOES_NOT_FIT,
            f"It boils earlier, and a hot brake then fails: take {brake}.",
        )
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Never mix them: the seals swell and the brake fails. Take {brake}."
    return _matching(verdict, (f"Brake: {brake}", f"Bottle: {bottle or 'not read yet'}"), advice)


@check(
    family=Family.BRAKES,
    title="Pads and brake",
    purpose="Pads of another shape don't go into the caliper, or press beside the rotor. Many shapes look alike.",
    formula=r"k_\text{pads} = k_\text{brake} \qquad s_\text{pads} = s_\text{brake}",
    source=Source(title="Pads are made for one shape of caliper", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Fit them, bed them in, and test at walking pace.",
        Verdict.DOES_NOT_FIT: "Take pads of the brake's kind and shape. Never file a backing plate.",
        Verdict.MEASURE_FIRST: "Lay an old pad on a new one: plate, hole and tongue must be the same.",
    },
    example={"pads": "disc", "brake": "disc", "pads-shape": "wide two-piston", "brake-shape": "wide two-piston"},
    notes="The kind is what the pad presses on. There is no standard for shapes: write what pad and brake say.",
    asked=Asked(unless={"{end}-brake.brake-kind": ("coaster", "drum")}, cures=("{end}-pads",)),
)
def pad_shape(
    pads: Annotated[BrakeKind, Meaning("what the pads are made to press on"), Fact("{end}-pads.brake-kind")],
    brake: Annotated[BrakeKind, Meaning("what the brake works on"), Fact("{end}-brake.brake-kind")],
    pads_shape: Annotated[str | None, Meaning("what their maker calls the pads' shape"), Fact("{end}-pads.shape")],
    brake_shape: Annotated[
        str | None, Meaning("what the brake's maker calls its pads' shape"), Fact("{end}-brake.pad-shape")
    ],
) -> CheckResult:
    """Whether pads are of the brake's kind and shape. Source: common practice."""
    working = (
        f"Pads: {pads}, shape {pads_shape or 'not known'}",
        f"Brake: {brake}, shape {brake_shape or 'not known'}",
    )
    if pads is not brake:
        return _matching(Verdict.DOES_NOT_FIT, working, f"Take pads for a brake that works on a {brake}.")
    if pads_shape is None or brake_shape is None:
        advice = "Read the shape on the pads' packet, or lay an old pad on a new one: they must be the same."
        return _matching(Verdict.MEASURE_FIRST, working, advice)
    if pads_shape.casefold() != brake_shape.casefold():
        return _matching(Verdict.DOES_NOT_FIT, working, f"Take pads of the shape '{brake_shape}'.")
    return _matching(Verdict.FITS, working, "Pads and brake are of one shape.")
