"""What must be of one kind at a brake: its mount, the rotor's fixing and the fluid."""

from __future__ import annotations

from enum import StrEnum

from builder.checks.judging import choice, word
from builder.checks.result import Check, CheckResult, Inputs, Provenance, Source, Verdict
from builder.model.facts import RotorMount
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


class BrakeMount(StrEnum):
    """How a brake is fixed to frame or fork; the disc mounts are those of `builder.model.facts.CaliperMount`."""

    RIM_CENTRE_BOLT = "rim-centre-bolt"
    RIM_STUDS = "rim-studs"
    TABS = "tab-mount"
    POST = "post-mount"
    FLAT = "flat-mount"
    REACTION_ARM = "reaction-arm"


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
_ROTOR_MOUNTS = (RotorMount.SIX_BOLT, RotorMount.SPLINED)
_GLYCOL = frozenset({FluidGrade.DOT, FluidGrade.DOT_3, FluidGrade.DOT_4, FluidGrade.DOT_5_1})


def _matching(check: Check, verdict: Verdict, working: tuple[str, ...], advice: str, source: Source) -> CheckResult:
    """A result without a number: two kinds were compared."""
    return CheckResult(
        check=check.name,
        verdict=verdict,
        value=None,
        unit=Unit.ONE,
        working=working,
        source=str(source),
        advice=advice,
    )


def brake_mount(brake: BrakeMount, frame: BrakeMount) -> CheckResult:
    """Whether a brake goes onto the mount of frame or fork, by itself or with an adaptor. Source: common practice."""
    if brake is frame:
        verdict, advice = Verdict.FITS, "The mounts are the same."
    elif (brake, frame) in _ADAPTED:
        verdict = Verdict.WITH_CARE
        advice = "It needs the adaptor that is made for this pair and for the diameter of the rotor."
    else:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a brake for the mount '{frame}'."
    return _matching(BRAKE_MOUNT, verdict, (f"Brake: {brake}", f"Frame or fork: {frame}"), advice, MOUNT_SOURCE)


def rotor_mount(rotor: RotorMount, hub: RotorMount) -> CheckResult:
    """Whether a rotor goes onto a hub. Source: common practice."""
    if RotorMount.NONE in (rotor, hub):
        verdict, advice = Verdict.DOES_NOT_FIT, "There is nothing to hold a rotor: take a hub for disc brakes."
    elif rotor is hub:
        verdict, advice = Verdict.FITS, "Rotor and hub are of one kind."
    elif hub is RotorMount.SPLINED:
        verdict, advice = Verdict.WITH_CARE, "A six-bolt rotor needs an adaptor on a splined hub."
    else:
        verdict, advice = (
            Verdict.DOES_NOT_FIT,
            "A splined rotor does not go onto a six-bolt hub: take a six-bolt rotor.",
        )
    return _matching(ROTOR_MOUNT, verdict, (f"Rotor: {rotor}", f"Hub: {hub}"), advice, MOUNT_SOURCE)


def brake_fluid(brake: FluidGrade, bottle: FluidGrade) -> CheckResult:
    """Whether the fluid in the bottle may go into the brake. Source: common practice; grades of 49 CFR 571.116."""
    if FluidGrade.UNKNOWN in (brake, bottle):
        verdict = Verdict.MEASURE_FIRST
        advice = "Read the kind on the lever's reservoir and on the bottle, or ask the brake's maker. Never guess."
    elif brake is bottle:
        verdict, advice = Verdict.FITS, "The fluid is of the brake's kind. Use it fresh from a sealed bottle."
    elif brake in _GLYCOL and bottle in _GLYCOL:
        verdict = Verdict.WITH_CARE
        advice = "They mix, but their boiling points differ: keep to the grade that the maker names."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Never mix them: the seals swell and the brake fails. Take {brake}."
    return _matching(BRAKE_FLUID, verdict, (f"Brake: {brake}", f"Bottle: {bottle}"), advice, FLUID_SOURCE)


def _run_mount(inputs: Inputs) -> CheckResult:
    return brake_mount(BrakeMount(word(inputs, "brake")), BrakeMount(word(inputs, "frame")))


def _run_rotor_mount(inputs: Inputs) -> CheckResult:
    return rotor_mount(RotorMount(word(inputs, "rotor")), RotorMount(word(inputs, "hub")))


def _run_fluid(inputs: Inputs) -> CheckResult:
    return brake_fluid(FluidGrade(word(inputs, "brake")), FluidGrade(word(inputs, "bottle")))


BRAKE_MOUNT = Check(
    name="brake-mount",
    family="brakes",
    title="Brake mount",
    purpose="A brake is held by bolts in one place or not at all. This compares its mount with that of frame or fork.",
    formula=r"m_{brake} = m_{frame}",
    inputs=(
        choice("brake", "mount that the brake is made for", tuple(BrakeMount)),
        choice("frame", "mount of frame or fork", tuple(BrakeMount)),
    ),
    source=MOUNT_SOURCE,
    run=_run_mount,
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
)

ROTOR_MOUNT = Check(
    name="rotor-mount",
    family="brakes",
    title="Rotor and hub",
    purpose="A rotor is held by six bolts or by splines with a lockring; the hub decides.",
    formula=r"m_{rotor} = m_{hub}",
    inputs=(
        choice("rotor", "how the rotor is held", _ROTOR_MOUNTS),
        choice("hub", "what the hub has", _ROTOR_MOUNTS),
    ),
    source=MOUNT_SOURCE,
    run=_run_rotor_mount,
    at_verdict={
        Verdict.FITS: "Fit it with the arrow in the direction of travel, bolts or lockring to their torque.",
        Verdict.WITH_CARE: "Take the adaptor, and see that rotor and caliper still stand in one plane.",
        Verdict.DOES_NOT_FIT: "Take a rotor of the hub's kind.",
    },
    example={"rotor": "six-bolt", "hub": "six-bolt"},
    notes=(
        "Six bolts stand on a circle of 44 mm. Adaptors go from six bolts to splines only. Common practice, no source."
    ),
)

BRAKE_FLUID = Check(
    name="brake-fluid",
    family="brakes",
    title="Brake fluid",
    purpose="Mineral oil and DOT fluid are never mixed: the wrong one swells the seals, and the brake fails later.",
    formula=r"f_{bottle} = f_{brake}",
    inputs=(
        choice("brake", "fluid that the brake's maker states", tuple(FluidGrade)),
        choice("bottle", "fluid in the bottle", tuple(FluidGrade)),
    ),
    source=FLUID_SOURCE,
    run=_run_fluid,
    at_verdict={
        Verdict.FITS: "Use it, with gloves and eye protection; wipe every drop off pads, rotor and paint.",
        Verdict.WITH_CARE: "DOT 3, 4 and 5.1 mix. Keep to the grade that the maker names, or to a higher boiling one.",
        Verdict.DOES_NOT_FIT: (
            "Don't open the bottle. If the wrong fluid went in, don't ride: see a qualified mechanic."
        ),
        Verdict.MEASURE_FIRST: "Find out which fluid the brake holds: reservoir, manual or maker. Never by smell.",
    },
    example={"brake": "mineral-oil", "bottle": "mineral-oil"},
    notes=(
        "DOT 3, 4 and 5.1 are glycol ethers, DOT 5 is silicone and mixes with none of them (49 CFR 571.116, from "
        "memory). Mineral oils of different makers are not interchangeable by any standard: the maker's own goes "
        "first."
    ),
)

CHECKS = (BRAKE_MOUNT, ROTOR_MOUNT, BRAKE_FLUID)
