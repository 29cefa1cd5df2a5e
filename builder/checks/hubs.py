"""Hub against frame or fork: spacing and axle."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.checks.check import Asked, Family, check
from builder.checks.judging import at_least, at_most
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.checks.threads import read_thread, thread_or_none
from builder.model.facts import Axle, Material
from builder.model.fields import Bounds, Fact, In, Meaning
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
# Lengths of one through axle, as makers state them to the millimetre. Common practice.
_LENGTH_MM = 1.0


def steel_or_other(material: Material) -> str:
    """`steel` for what gives a little, `other` for what doesn't."""
    return "steel" if material is Material.STEEL else "other"


def pitch_mm(written: str) -> float | None:
    """Pitch [mm] of a metric thread as it is written, such as `M12x1.5`; None where it is none."""
    thread = thread_or_none(written)
    return None if thread is None else thread.pitch_mm


@check(
    family=Family.WHEELS,
    title="Hub spacing",
    purpose="A hub must go between the dropouts without force: a sprung frame holds its wheel and its hanger askew.",
    formula=r"|w_{hub} - w_{frame}| \le 1\;\mathrm{mm}",
    source=SPACING_SOURCE,
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
    asked=Asked(cures=("{end}-hub",)),
)
def hub_spacing(
    hub_mm: Annotated[float, Meaning("over the locknuts or end caps of the hub"), Fact("{end}-hub.spacing")],
    frame_mm: Annotated[
        float | None,
        Meaning("between the inner faces of the dropouts"),
        Fact("frame.rear-spacing", front="fork.spacing"),
    ],
    axle: Annotated[Axle, Meaning("how the wheel is held"), Fact("{end}-hub.axle")] = Axle.QUICK_RELEASE,
    frame_material: Annotated[
        Literal["steel", "other"],
        Meaning("material of frame or fork"),
        Fact("frame.material", front="fork.material", by=steel_or_other, called="material"),
    ] = "other",
) -> CheckResult:
    """Hub spacing over the locknuts (or over the end caps) against the inner width of the dropouts.

    Source: common practice.
    """
    n = write_number
    easy = _THROUGH_MM if axle is Axle.BOLT_THROUGH else _EASY_MM
    spread = _STEEL_MM if frame_material == "steel" and axle is not Axle.BOLT_THROUGH else easy
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
        verdict=verdict,
        value=difference,
        unit=Unit.MILLIMETRE,
        limit=spread,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )


def _play_margin_mm(play_mm: float, *, through: bool) -> float:
    return _BORE_PLAY_MM - abs(play_mm) if through else min(_LOOSE_SLOT_MM - play_mm, play_mm + _BORE_PLAY_MM)


def _judge_axle(
    hub: Axle, frame: Axle, play_mm: float | None, hub_pitch_mm: float | None, frame_pitch_mm: float | None
) -> tuple[Verdict, str]:
    through = Axle.BOLT_THROUGH
    if (hub is through) != (frame is through):
        return Verdict.DOES_NOT_FIT, f"The frame takes a {frame} axle: take such a hub, or end caps made for this one."
    if play_mm is None:
        what = "bore of the hub and of the frame" if frame is through else "axle and the slots"
        return Verdict.MEASURE_FIRST, f"Measure the {what} with a calliper."
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


@check(
    family=Family.WHEELS,
    title="Axle and dropouts",
    purpose="Kind, diameter and, for a through axle, thread pitch must be those of the frame, or the wheel isn't held.",
    formula=r"d_{frame} - d_{axle} \ge 0",
    source=AXLE_SOURCE,
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
    asked=Asked(cures=("{end}-hub",)),
)
def axle_standard(
    hub: Annotated[Axle, Meaning("kind of the hub's axle"), Fact("{end}-hub.axle")],
    frame: Annotated[Axle, Meaning("kind that frame or fork takes"), Fact("frame.rear-axle", front="fork.axle")],
    hub_diameter_mm: Annotated[
        float | None, Meaning("diameter of the axle, or of the hub's bore"), Fact("{end}-hub.axle-diameter")
    ],
    frame_diameter_mm: Annotated[
        float | None,
        Meaning("width of the slots, or diameter of the bore"),
        Fact("frame.rear-axle-diameter", front="fork.axle-diameter"),
    ],
    axle_pitch_mm: Annotated[
        float | None,
        In(Unit.MILLIMETRE),
        Bounds(0.5, 3),
        Meaning("pitch of the through axle's thread"),
        Fact("{end}-through-axle.thread", by=pitch_mm, called="thread of the axle"),
    ],
    frame_pitch_mm: Annotated[
        float | None,
        In(Unit.MILLIMETRE),
        Bounds(0.5, 3),
        Meaning("pitch of the frame's thread"),
        Fact("frame.rear-axle-thread", front="fork.axle-thread", by=pitch_mm, called="thread for the axle"),
    ],
) -> CheckResult:
    """Axle of the hub against the slots or the bore of frame or fork: kind, diameter, and pitch of a through axle.

    The value is the play: width of the slot or of the bore less the diameter of the axle [mm].

    Source: common practice.
    """
    play = None if frame_diameter_mm is None or hub_diameter_mm is None else frame_diameter_mm - hub_diameter_mm
    through = frame is Axle.BOLT_THROUGH
    verdict, advice = _judge_axle(hub, frame, play, axle_pitch_mm, frame_pitch_mm)
    margin = None if play is None else _play_margin_mm(play, through=through)
    # Another kind or another pitch is no matter of play.
    of_play = margin is not None and (verdict is not Verdict.DOES_NOT_FIT or not at_least(margin, 0.0))
    n = write_number
    working = [f"Kind: hub {hub}, frame {frame}"]
    if play is not None:
        working.append(f"Play: {n(frame_diameter_mm or 0.0)} − {n(hub_diameter_mm or 0.0)} = {n(play)} mm")
    if axle_pitch_mm is not None and frame_pitch_mm is not None:
        working.append(f"Pitch: axle {n(axle_pitch_mm, 2)} mm, frame {n(frame_pitch_mm, 2)} mm")
    return CheckResult(
        verdict=verdict,
        value=play,
        unit=Unit.MILLIMETRE,
        limit=_BORE_PLAY_MM if through else _LOOSE_SLOT_MM,
        margin=margin if of_play else None,
        working=tuple(working),
        advice=advice,
    )


@check(
    family=Family.WHEELS,
    title="Through axle",
    purpose="A through axle holds the wheel only with the thread and the length that frame or fork is made for.",
    formula=r"p_{axle} = p_{frame} \qquad |l_{axle} - l_{frame}| \le 1\;\mathrm{mm}",
    source=Source(
        title="Thread and length as the makers of frame and axle state them", provenance=Provenance.COMMON_PRACTICE
    ),
    at_verdict={
        Verdict.FITS: "Grease it, screw it in by hand, tighten it to its torque.",
        Verdict.DOES_NOT_FIT: "Take the axle that frame or fork is made for. Never force or recut a thread.",
        Verdict.MEASURE_FIRST: "Read thread and length on the old axle, or look them up at the maker of the frame.",
    },
    example={"axle": "M12x1.5", "frame": "M12x1.5", "axle-length": "172 mm", "frame-length": "172 mm"},
    notes=(
        "Too short, and the thread is torn out; too long, and the axle stops before it clamps. Makers measure the "
        "length in different ways: compare figures of one way only."
    ),
    asked=Asked(new=("{end}-through-axle",), cures=("{end}-through-axle",)),
)
def axle_thread(
    axle: Annotated[str, Meaning("thread of the axle, such as M12x1.5"), Fact("{end}-through-axle.thread")],
    frame: Annotated[
        str | None, Meaning("thread in frame or fork"), Fact("frame.rear-axle-thread", front="fork.axle-thread")
    ],
    axle_length_mm: Annotated[float | None, Meaning("length of the axle"), Fact("{end}-through-axle.length")],
    frame_length_mm: Annotated[
        float | None,
        Meaning("length that frame or fork asks for"),
        Fact("frame.rear-axle-length", front="fork.axle-length"),
    ],
    hub: Annotated[Axle, Meaning("kind of the hub's axle"), Fact("{end}-hub.axle")] = Axle.BOLT_THROUGH,
) -> CheckResult:
    """Thread and length [mm] of a through axle against those of frame or fork. Source: common practice."""
    of_axle = read_thread(axle)
    of_frame = None if frame is None else read_thread(frame)
    apart = None if axle_length_mm is None or frame_length_mm is None else axle_length_mm - frame_length_mm
    margin = None if apart is None else _LENGTH_MM - abs(apart)
    n = write_number
    working = [f"Thread of the axle: {of_axle}", f"Thread of the frame: {of_frame or 'not known'}"]
    if apart is not None:
        working.append(f"Length: {n(axle_length_mm or 0.0)} − {n(frame_length_mm or 0.0)} = {n(apart)} mm")
    if hub is not Axle.BOLT_THROUGH:
        verdict, margin = Verdict.DOES_NOT_FIT, None
        advice = f"No through axle goes into a hub of the kind '{hub}': it has an axle of its own."
    elif of_frame is not None and of_axle != of_frame:
        verdict, margin = Verdict.DOES_NOT_FIT, None
        advice = f"Take an axle with a thread of {of_frame}: another one tears the thread of the frame."
    elif margin is not None and not at_least(margin, 0.0):
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take an axle of {n(frame_length_mm or 0.0)} mm."
    elif of_frame is None or apart is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Read thread and length on the old axle, or look them up at the maker of the frame."
    else:
        verdict, advice = Verdict.FITS, "Thread and length are those of the frame."
    return CheckResult(
        verdict=verdict,
        value=apart,
        unit=Unit.MILLIMETRE,
        limit=_LENGTH_MM,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )
