"""Bolts: the preload that a torque gives, and whether a fastener's torque suits its thread at all."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_most, named
from builder.checks.preload import (
    SOURCE,
    USUAL_FRICTION,
    assembly_preload_kn,
    assembly_torque_nm,
    preload_kn,
    proof_load_kn,
    strength_working,
    thread_working,
    torque_per_preload_mm,
    yield_working,
)
from builder.checks.result import CheckResult, Verdict
from builder.checks.threads import (
    BearingFace,
    ClassName,
    PropertyClass,
    Thread,
    bearing_face,
    known_class,
    read_class,
    read_thread,
    standard_face,
    thread_or_none,
)
from builder.checks.torque_inputs import BoltThread, TorqueHigh, TorqueLow, range_of
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Range, Unit, write_number, write_quantity, write_range

# Below this share of the proof load a bolted joint on a bike is hardly clamped: a decimal point may have slipped.
# Our own guard, no source.
LEAST_SHARE = 0.1
# ISO 4210-2, security of fasteners: bolts of bar, stem, saddle and post stand half as much again as recommended.
FAILURE_MARGIN = 1.5
NOT_APPLICABLE = (
    "The thread is not that of a plain metric bolt, so preload against proof load says nothing; "
    "the component maker's figure or the usual trade range serves."
)
_FORMULA = (
    r"F = \frac{T}{0.16\,P + 0.58\,d_2\,\mu + \frac{D}{2}\,\mu} \qquad "
    r"F_M = \frac{0.9\,R_{p}\,A_s}{\sqrt{1 + 3\left(\frac{3}{2}\,\frac{d_2}{d_0}"
    r"\left(\frac{P}{\pi d_2} + 1.155\,\mu\right)\right)^2}} \qquad "
    r"A_s = \frac{\pi}{4}\left(\frac{d_2 + d_3}{2}\right)^2"
)
_NOTES = (
    "Good for steel bolts in a metric thread with a flat face under the head. Friction decides: dry stainless steel "
    "reaches 0.2 to 0.3, grease brings it to 0.08 to 0.12, so a computed preload is good to a quarter either way. The "
    "bearing face is that of a standard hexagon head unless 'face' and 'hole' are given; socket heads are a few per "
    "cent wider. Stainless steel has no proof load in its standard: its 0.2 % proof strength stands in. The check "
    "knows nothing of the part that is clamped: a light or carbon part often bears far less than its bolt."
)
_Class = Annotated[ClassName, Meaning("property class marked on the head"), Fact("fastener.property-class")]
_Friction = Annotated[float, Bounds(0.04, 0.5), Meaning("coefficient of friction in thread and under head")]
_Face = Annotated[float, In(Unit.MILLIMETRE), Bounds(3, 80), Meaning("outer diameter of the face under the head")]
_Hole = Annotated[float, In(Unit.MILLIMETRE), Bounds(2, 60), Meaning("diameter of the hole under the head")]


def _bolt_of(
    thread: str, class_: ClassName, face_mm: float | None, hole_mm: float | None
) -> tuple[Thread, PropertyClass, BearingFace]:
    read = read_thread(thread)
    return read, read_class(class_, read), bearing_face(read, face_mm, hole_mm)


@check(
    family=Family.BOLTS,
    title="Preload of a bolt at a torque",
    purpose=(
        "A torque is only a way to a clamping force. This works out the force, and how near it comes to stretching "
        "the bolt for good."
    ),
    formula=_FORMULA,
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "The bolt bears this torque. What it clamps may bear less: the maker's figure goes first.",
        Verdict.WITH_CARE: (
            "Between 90 % of yield and the proof load. Make sure of the class on the head, use a torque wrench, and "
            "don't grease a bolt whose torque is meant for a dry one."
        ),
        Verdict.DOES_NOT_FIT: "Don't tighten to this torque. Look the figure up again: has a decimal point slipped?",
    },
    example={"thread": "M6", "class": "8.8", "torque": "8 N·m"},
    drawing="bolt-section",
    notes=_NOTES,
    asked=Asked(force=Force.TELLS),
)
def bolt_preload(
    thread: BoltThread,
    class_: _Class,
    torque_nm: Annotated[
        float, In(Unit.NEWTON_METRE), Bounds(0.1, 500), Meaning("tightening torque"), Fact("fastener.torque-high")
    ],
    friction: _Friction = USUAL_FRICTION,
    face_mm: _Face | None = None,
    hole_mm: _Hole | None = None,
) -> CheckResult:
    """Preload at a torque, held against the bolt's proof load.

    Raises:
        InputError: the thread has no standard head and no face is given.

    Source: VDI 2230 Part 1, ISO 898-1, ISO 3506-1.
    """
    bolt, strength, face = _bolt_of(thread, class_, face_mm, hole_mm)
    n = write_number
    lever = torque_per_preload_mm(bolt, face, friction)
    preload = preload_kn(torque_nm, bolt, face, friction)
    proof = proof_load_kn(bolt, strength)
    share = preload / proof
    most_preload = assembly_preload_kn(bolt, strength, friction)
    most_torque = most_preload * lever
    if at_most(preload, most_preload):
        verdict = Verdict.FITS
        advice = (
            f"The bolt bears up to {write_quantity(most_torque, Unit.NEWTON_METRE)}; the clamped part may bear less."
        )
    elif at_most(preload, proof):
        verdict = Verdict.WITH_CARE
        advice = (
            f"More than 90 % of yield: stay below {write_quantity(most_torque, Unit.NEWTON_METRE)}, "
            "or use a bolt of a higher class."
        )
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = (
            f"The bolt would stretch for good: at most {write_quantity(most_torque, Unit.NEWTON_METRE)} "
            f"for {bolt} of class {strength.name}. Look for a slipped decimal point."
        )
    return CheckResult(
        verdict=verdict,
        value=preload,
        unit=Unit.KILONEWTON,
        limit=proof,
        margin=proof - preload,
        working=(
            *thread_working(bolt, face, friction),
            f"Preload: {n(torque_nm, 2)} N·m ÷ {n(lever, 3)} mm = {write_quantity(preload, Unit.KILONEWTON, 2)}",
            strength_working(bolt, strength),
            f"Share of the proof load: {n(preload, 2)} ÷ {n(proof, 2)} = {n(share, 2)} ({n(100 * share, 0)} %)",
            *yield_working(bolt, strength, face, friction),
        ),
        source=f"{SOURCE}; {strength.source}",
        advice=advice,
        values=(
            named("share-of-proof", share),
            named("assembly-preload", most_preload, Unit.KILONEWTON),
            named("assembly-torque", most_torque, Unit.NEWTON_METRE),
            named("proof-load", proof, Unit.KILONEWTON),
        ),
    )


@check(
    family=Family.BOLTS,
    title="Does a torque suit its thread?",
    purpose=(
        "Holds the torque range of a fastener against the strength of its thread, so that 40 N·m on an M5 bolt is "
        "noticed before anybody reaches for a wrench. It runs on every fastener of the library."
    ),
    formula=r"s = 100\,\frac{T_{high}}{\left(0.16\,P + 0.58\,d_2\,\mu + \frac{D}{2}\,\mu\right) R_{proof}\,A_s}",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "Thread, class and torque go together.",
        Verdict.WITH_CARE: (
            "Near the limit of the bolt, or so little that it hardly clamps. Make sure of thread, class and figure."
        ),
        Verdict.DOES_NOT_FIT: (
            "The figure can't be meant for this thread and class. Read them again; where the maker prints them so, "
            "ask the maker, and never put a figure of your own in its place."
        ),
    },
    example={"thread": "M5", "class": "10.9", "torque-low": "5 N·m", "torque-high": "6 N·m"},
    drawing="bolt-section",
    notes=f"{_NOTES} {NOT_APPLICABLE}",
)
def torque_plausibility(
    thread: BoltThread,
    class_: _Class,
    torque_low_nm: TorqueLow,
    torque_high_nm: TorqueHigh,
    friction: _Friction = USUAL_FRICTION,
    face_mm: _Face | None = None,
    hole_mm: _Hole | None = None,
) -> CheckResult:
    """Whether a fastener's torque range can be meant for its thread and class: the slipped decimal point is caught.

    The upper end of the range is held against the proof load; a preload of less than a tenth of it is doubtful too.

    Raises:
        InputError: the thread has no standard head and no face is given.

    Source: VDI 2230 Part 1, ISO 898-1, ISO 3506-1; the lower guard of a tenth is our own.
    """
    bolt, strength, face = _bolt_of(thread, class_, face_mm, hole_mm)
    n = write_number
    torque_nm = range_of("torque", torque_low_nm, torque_high_nm)
    lever = torque_per_preload_mm(bolt, face, friction)
    proof = proof_load_kn(bolt, strength)
    preload = preload_kn(torque_nm.high, bolt, face, friction)
    share = 100 * preload / proof
    most_torque = assembly_torque_nm(bolt, strength, face, friction)
    most = write_quantity(most_torque, Unit.NEWTON_METRE)
    given = write_range(torque_nm, Unit.NEWTON_METRE, 2)
    if not at_most(preload, proof):
        verdict = Verdict.DOES_NOT_FIT
        advice = (
            f"{given} is more than {bolt} of class {strength.name} bears by its standard, {most}. Look thread, class "
            "and figure up again; where the maker prints them so, ask the maker, and put no other figure in its place."
        )
    elif not at_most(torque_nm.high, most_torque):
        verdict = Verdict.WITH_CARE
        advice = f"{given} uses more than 90 % of the bolt's yield strength ({most}). Make sure of thread and class."
    elif share < 100 * LEAST_SHARE:
        verdict = Verdict.WITH_CARE
        advice = f"{given} hardly clamps {bolt}. Make sure that no decimal point has slipped."
    else:
        verdict = Verdict.FITS
        advice = f"{given} suits {bolt} of class {strength.name}, which bears up to {most}."
    failure = FAILURE_MARGIN * torque_nm.high
    return CheckResult(
        verdict=verdict,
        value=share,
        unit=Unit.PERCENT,
        limit=100.0,
        margin=100.0 - share,
        working=(
            *thread_working(bolt, face, friction),
            f"Preload at the upper end: {n(torque_nm.high, 2)} N·m ÷ {n(lever, 3)} mm = "
            f"{write_quantity(preload, Unit.KILONEWTON, 2)}",
            strength_working(bolt, strength),
            f"Share of the proof load: {n(preload, 2)} ÷ {n(proof, 2)} × 100 = {n(share)} %",
            *yield_working(bolt, strength, face, friction),
            f"What a bolt of bar, stem, saddle or post must hold (ISO 4210-2): {n(torque_nm.high, 2)} × 1.5 = "
            f"{write_quantity(failure, Unit.NEWTON_METRE)}",
        ),
        source=f"{SOURCE}; {strength.source}",
        advice=advice,
        values=(
            named("assembly-torque", most_torque, Unit.NEWTON_METRE),
            named("failure-torque", failure, Unit.NEWTON_METRE),
        ),
    )


def fastener_plausibility(
    thread: str | None, property_class: str | None, torque_range_nm: Range, *, friction: float = USUAL_FRICTION
) -> CheckResult | None:
    """The plausibility check for a fastener of the library, or None where it does not apply (see `NOT_APPLICABLE`).

    It applies to a metric thread that a standard bolt head goes with, of a known property class. A lockring, a cup, a
    pedal axle or a hollow crank bolt is none of these.

    Raises:
        InputError: the property class is not one of the standards.
    """
    if thread is None or property_class is None:
        return None
    read = thread_or_none(thread)
    if read is None or standard_face(read) is None:
        return None
    return torque_plausibility(
        thread=thread,
        class_=known_class(property_class),
        torque_low_nm=torque_range_nm.low,
        torque_high_nm=torque_range_nm.high,
        friction=friction,
    )
