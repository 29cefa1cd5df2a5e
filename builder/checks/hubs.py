"""Hub against frame or fork: spacing and axle."""

from __future__ import annotations

from builder.checks.judging import at_least, at_most, choice, number, number_or_none, quantity, word
from builder.checks.result import Check, CheckResult, Inputs, Provenance, Source, Verdict
from builder.model.facts import Axle
from builder.model.units import Unit, write_number, write_quantity

SPACING_SOURCE = Source(
    title="Workshop rule for spreading or closing dropouts by hand", provenance=Provenance.COMMON_PRACTICE
)
AXLE_SOURCE = Source(
    title="Workshop rule: kind, diameter and pitch of the axle must be the frame's",
    provenance=Provenance.COMMON_PRACTICE,
)

# Differences of spacing [mm]. Common practice, no source: a millimetre always goes in; a steel frame gives some more.
_THROUGH_MM, _EASY_MM, _STEEL_MM = 0.5, 1.0, 3.0
# Play of an axle in an open slot [mm]. Common practice.
_SLOT_PLAY_MM, _LOOSE_SLOT_MM = 0.5, 1.2
_BORE_PLAY_MM = 0.1
_PITCH_MM = 0.01


def hub_spacing(*, hub_mm: float, frame_mm: float | None, axle: Axle, steel_frame: bool) -> CheckResult:
    """Hub spacing over the locknuts (or over the end caps) against the inner width of the dropouts.

    Args:
        hub_mm: over-locknut distance of the hub [mm].
        frame_mm: between the inner faces of the dropouts [mm], None where it has still to be measured.
        axle: how the wheel is held.
        steel_frame: whether frame or fork is of steel, which gives a little.

    Source: common practice.
    """
    n = write_number
    easy = _THROUGH_MM if axle is Axle.BOLT_THROUGH else _EASY_MM
    spread = _STEEL_MM if steel_frame and axle is not Axle.BOLT_THROUGH else easy
    working = [f"Allowed difference: {n(easy)} mm; with care: {n(spread)} mm"]
    if frame_mm is None:
        verdict, margin, difference = Verdict.MEASURE_FIRST, None, None
        advice = "Measure between the inner faces of the dropouts, with the wheel out and the frame at rest."
    else:
        difference = hub_mm - frame_mm
        margin = spread - abs(difference)
        working.append(f"Difference: {n(hub_mm)} − {n(frame_mm)} = {n(difference)} mm")
        if at_most(abs(difference), easy):
            verdict, advice = Verdict.FITS, "The hub goes in without force."
        elif at_most(abs(difference), spread):
            verdict = Verdict.WITH_CARE
            advice = "The dropouts must be sprung by hand: have a frame builder set and align them instead."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Take a hub of {write_quantity(frame_mm, Unit.MILLIMETRE)} spacing, or end caps for it."
    return CheckResult(
        check=HUB_SPACING.name,
        verdict=verdict,
        value=difference,
        unit=Unit.MILLIMETRE,
        limit=spread,
        margin=margin,
        working=tuple(working),
        source=str(SPACING_SOURCE),
        advice=advice,
    )


def _judge_axle(
    hub: Axle, frame: Axle, play_mm: float, hub_pitch_mm: float | None, frame_pitch_mm: float | None
) -> tuple[Verdict, str]:
    through = Axle.BOLT_THROUGH
    if (hub is through) != (frame is through):
        return Verdict.DOES_NOT_FIT, f"The frame takes a {frame} axle: take such a hub, or end caps made for this one."
    if frame is through:
        if not at_most(abs(play_mm), _BORE_PLAY_MM):
            return Verdict.DOES_NOT_FIT, "The bores differ: take the hub maker's end caps for this axle."
        if hub_pitch_mm is None or frame_pitch_mm is None:
            return (
                Verdict.MEASURE_FIRST,
                "Measure the pitch of the axle's thread and of the frame's with a thread gauge.",
            )
        if not at_most(abs(hub_pitch_mm - frame_pitch_mm), _PITCH_MM):
            wanted = write_number(frame_pitch_mm, 2)
            return Verdict.DOES_NOT_FIT, f"The axle would cut across the thread: take one of {wanted} mm pitch."
        return Verdict.FITS, "The axle screws in by hand to its last turns."
    if not at_least(play_mm, -_BORE_PLAY_MM):
        return Verdict.DOES_NOT_FIT, "The axle is thicker than the slot: never file a dropout; take another axle."
    if not at_most(play_mm, _LOOSE_SLOT_MM):
        return Verdict.DOES_NOT_FIT, "The axle is too thin for the slot: the wheel would not be held straight."
    if not at_most(play_mm, _SLOT_PLAY_MM):
        return Verdict.WITH_CARE, "The axle has play in the slot: centre the wheel by eye before you close it."
    if hub is not frame:
        return Verdict.WITH_CARE, "Quick-release and nutted axles share these slots: see that the ends don't stick out."
    return Verdict.FITS, "The axle sits in the slots without play."


def axle_standard(
    *,
    hub: Axle,
    frame: Axle,
    hub_diameter_mm: float,
    frame_diameter_mm: float,
    axle_pitch_mm: float | None = None,
    frame_pitch_mm: float | None = None,
) -> CheckResult:
    """Axle of the hub against the slots or the bore of frame or fork: kind, diameter, and pitch of a through axle.

    The value is the play: width of the slot or of the bore less the diameter of the axle [mm].

    Source: common practice.
    """
    play = frame_diameter_mm - hub_diameter_mm
    through = frame is Axle.BOLT_THROUGH
    verdict, advice = _judge_axle(hub, frame, play, axle_pitch_mm, frame_pitch_mm)
    margin = _BORE_PLAY_MM - abs(play) if through else min(_LOOSE_SLOT_MM - play, play + _BORE_PLAY_MM)
    # Another kind or another pitch is no matter of play.
    of_play = verdict is not Verdict.DOES_NOT_FIT or not at_least(margin, 0.0)
    n = write_number
    working = [
        f"Kind: hub {hub}, frame {frame}",
        f"Play: {n(frame_diameter_mm)} − {n(hub_diameter_mm)} = {n(play)} mm",
    ]
    if axle_pitch_mm is not None and frame_pitch_mm is not None:
        working.append(f"Pitch: axle {n(axle_pitch_mm, 2)} mm, frame {n(frame_pitch_mm, 2)} mm")
    return CheckResult(
        check=AXLE_STANDARD.name,
        verdict=verdict,
        value=play,
        unit=Unit.MILLIMETRE,
        limit=_BORE_PLAY_MM if through else _LOOSE_SLOT_MM,
        margin=margin if of_play else None,
        working=tuple(working),
        source=str(AXLE_SOURCE),
        advice=advice,
    )


def _run_spacing(inputs: Inputs) -> CheckResult:
    return hub_spacing(
        hub_mm=number(inputs, "hub"),
        frame_mm=number_or_none(inputs, "frame"),
        axle=Axle(word(inputs, "axle")),
        steel_frame=word(inputs, "frame-material") == "steel",
    )


def _run_axle(inputs: Inputs) -> CheckResult:
    return axle_standard(
        hub=Axle(word(inputs, "hub")),
        frame=Axle(word(inputs, "frame")),
        hub_diameter_mm=number(inputs, "hub-diameter"),
        frame_diameter_mm=number(inputs, "frame-diameter"),
        axle_pitch_mm=number_or_none(inputs, "axle-pitch"),
        frame_pitch_mm=number_or_none(inputs, "frame-pitch"),
    )


HUB_SPACING = Check(
    name="hub-spacing",
    family="wheels",
    title="Hub spacing",
    purpose="A hub must go between the dropouts without force: a sprung frame holds its wheel and its hanger askew.",
    formula=r"|w_{hub} - w_{frame}| \le 1\;\mathrm{mm}",
    inputs=(
        quantity("hub", "over the locknuts or end caps of the hub", Unit.MILLIMETRE, 60, 220),
        quantity("frame", "between the inner faces of the dropouts", Unit.MILLIMETRE, 60, 220, optional=True),
        choice("axle", "how the wheel is held", tuple(Axle), default=Axle.QUICK_RELEASE),
        choice("frame-material", "material of frame or fork", ("steel", "other"), default="other"),
    ),
    source=SPACING_SOURCE,
    run=_run_spacing,
    at_verdict={
        Verdict.FITS: "Put the wheel in.",
        Verdict.WITH_CARE: "A steel frame can be sprung this far by hand. Better have it set and aligned once.",
        Verdict.DOES_NOT_FIT: "Take a hub of the frame's spacing. Never spring aluminium or carbon.",
        Verdict.MEASURE_FIRST: "Measure between the inner faces of the dropouts with the wheel out.",
    },
    example={"hub": "135 mm", "frame": "135 mm"},
    drawing="hub-spacing",
    notes=(
        "Common spacings: front 100 and 110 mm, rear 120, 126, 130, 135, 142 and 148 mm. Limits are common practice: "
        "1 mm goes in by itself, 0.5 mm with a through axle, up to 3 mm in a steel frame with care (some say 4)."
    ),
)

AXLE_STANDARD = Check(
    name="axle-standard",
    family="wheels",
    title="Axle and dropouts",
    purpose="Kind, diameter and, for a through axle, thread pitch must be those of the frame, or the wheel isn't held.",
    formula=r"d_{frame} - d_{axle} \ge 0",
    inputs=(
        choice("hub", "kind of the hub's axle", tuple(Axle)),
        choice("frame", "kind that frame or fork takes", tuple(Axle)),
        quantity("hub-diameter", "diameter of the axle, or of the hub's bore", Unit.MILLIMETRE, 5, 30),
        quantity("frame-diameter", "width of the slots, or diameter of the bore", Unit.MILLIMETRE, 5, 30),
        quantity("axle-pitch", "pitch of the through axle's thread", Unit.MILLIMETRE, 0.5, 3, optional=True),
        quantity("frame-pitch", "pitch of the frame's thread", Unit.MILLIMETRE, 0.5, 3, optional=True),
    ),
    source=AXLE_SOURCE,
    run=_run_axle,
    at_verdict={
        Verdict.FITS: "Put the wheel in, seat it fully, close or tighten the axle.",
        Verdict.WITH_CARE: "It can be held, with attention: centre the wheel, and test it for movement before riding.",
        Verdict.DOES_NOT_FIT: (
            "Don't force, file or shim. Take the axle, the end caps or the hub that the frame is made for."
        ),
        Verdict.MEASURE_FIRST: "Hold a thread gauge to the axle and to the frame's thread, or ask their makers.",
    },
    example={
        "hub": "bolt-through",
        "frame": "bolt-through",
        "hub-diameter": "12 mm",
        "frame-diameter": "12 mm",
        "axle-pitch": "1.5 mm",
        "frame-pitch": "1.5 mm",
    },
    notes=(
        "Usual slots: 9 mm in front, 10 mm behind. Usual through axles: 12, 15 and 20 mm, with pitches of 1, 1.5 and "
        "1.75 mm. A through axle must also be as long as its maker states for this frame."
    ),
)

CHECKS = (HUB_SPACING, AXLE_STANDARD)
