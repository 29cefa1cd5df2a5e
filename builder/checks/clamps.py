"""Round parts in round clamps: post in seat tube, bar in stem, stem on steerer."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.judging import at_most
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import Fitted, HeadsetKind, RailShape
from builder.model.fields import WHERE, Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

SOURCE = Source(
    title="Workshop rule: clamp and part of one nominal diameter, or a shim made for the pair",
    provenance=Provenance.COMMON_PRACTICE,
)
# Posts come in steps of 0.2 mm, and a wrong step cracks or slips: half a step is the most that passes. Common practice.
SAME_MM = 0.1
_THINNEST_SHIM_MM = 0.5
_THICKEST_SHIM_MM = 5.0


class Joint(StrEnum):
    """Which round part sits in which clamp."""

    POST_IN_SEAT_TUBE = "post-in-seat-tube"
    BAR_IN_STEM = "bar-in-stem"
    STEM_ON_STEERER = "stem-on-steerer"
    UPPER_HEADSET = "upper-headset-in-head-tube"
    LOWER_HEADSET = "lower-headset-in-head-tube"


# Joints whose parts may be made up by a shim; a bar in a wider stem is left to no shim, since it carries the rider.
_SHIMMED = (Joint.POST_IN_SEAT_TUBE, Joint.STEM_ON_STEERER)
_PART = Fact(
    joints=(
        (Joint.POST_IN_SEAT_TUBE.value, "seat-post.diameter"),
        (Joint.BAR_IN_STEM.value, "handlebar.clamp"),
        (Joint.UPPER_HEADSET.value, "headset.upper"),
        (Joint.LOWER_HEADSET.value, "headset.lower"),
    )
)
_CLAMP = Fact(
    joints=(
        (Joint.POST_IN_SEAT_TUBE.value, "frame.seat-tube-bore"),
        (Joint.BAR_IN_STEM.value, "stem.bar-clamp"),
        (Joint.UPPER_HEADSET.value, "frame.upper-head-tube-bore"),
        (Joint.LOWER_HEADSET.value, "frame.lower-head-tube-bore"),
    )
)


@check(
    family=Family.COCKPIT,
    title="Clamp and part diameter",
    purpose="A bar, a steerer or a seat post must have the diameter of its clamp: no bolt makes up for a wrong one.",
    formula=r"|d_{clamp} - d_{part}| \le 0.1\;\mathrm{mm}",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "Clean both, use grease or paste as the makers say, tighten to the torque.",
        Verdict.WITH_CARE: "Take a shim that is made for the pair, as long as the clamp. None between carbon parts.",
        Verdict.DOES_NOT_FIT: "Take a part of the clamp's diameter. Bar, stem and post carry the rider.",
        Verdict.MEASURE_FIRST: "Read the stamped diameter, or measure with a calliper.",
    },
    example={"joint": "post-in-seat-tube", "part": "27.2 mm", "clamp": "27.2 mm"},
    notes=(
        "Usual bars: 25.4, 26.0, 31.8 and 35 mm; steerers 25.4 and 28.6 mm; posts 25.4 to 34.9 mm in steps of 0.2 mm. "
        "Common practice, no source. 25.4 and 26.0 mm look alike and don't go together. A bar never holds by a shim."
    ),
    asked=Asked(cures=("seat-post", "handlebar", "headset")),
)
def clamp_diameter(
    joint: Annotated[Joint, Meaning("which parts they are"), Fact(WHERE)],
    part_mm: Annotated[
        float, In(Unit.MILLIMETRE), Bounds(15, 65), Meaning("outer diameter of bar, steerer, post or cup"), _PART
    ],
    clamp_mm: Annotated[
        float | None, In(Unit.MILLIMETRE), Bounds(15, 65), Meaning("inner diameter of what holds it"), _CLAMP
    ],
) -> CheckResult:
    """Inner diameter of a clamp or tube against the diameter of the part in it; the value is the play between them.

    Source: common practice.
    """
    n = write_number
    play = None if clamp_mm is None else clamp_mm - part_mm
    limit, margin = SAME_MM, None
    working = [f"Same nominal diameter: within {n(SAME_MM)} mm"]
    if clamp_mm is None or play is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Read the diameter stamped on the part, or measure the bore with a calliper at two places."
    else:
        shim = play / 2
        margin = SAME_MM - abs(play)
        working.append(f"Play: {n(clamp_mm, 2)} − {n(part_mm, 2)} = {n(play, 2)} mm")
        if at_most(abs(play), SAME_MM):
            verdict, advice = Verdict.FITS, "One nominal diameter."
        elif play < 0:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"The part is {n(-play, 2)} mm too thick: take one of {n(clamp_mm, 2)} mm. Never spread or sand."
        elif joint in _SHIMMED and at_most(_THINNEST_SHIM_MM, shim) and at_most(shim, _THICKEST_SHIM_MM):
            working.append(f"Wall of a shim: {n(play, 2)} ÷ 2 = {n(shim, 2)} mm")
            limit, margin = 2 * _THICKEST_SHIM_MM, 2 * _THICKEST_SHIM_MM - play
            verdict = Verdict.WITH_CARE
            advice = f"Only with a shim made for this pair, {n(shim, 2)} mm thick, and never a piece of tin."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"It would slip or crack in the clamp: take a part of {n(clamp_mm, 2)} mm."
    return CheckResult(
        verdict=verdict,
        value=play,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=(f"Joint: {joint}", *working),
        advice=advice,
    )


@check(
    family=Family.COCKPIT,
    title="Steerer, headset and stem",
    purpose="A steerer must have the diameter of bearing and stem, and a thread only for a threaded headset.",
    formula=r"d_\text{steerer} = d_\text{headset} = d_\text{stem}",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "Go on to the bearings in the head tube and to the gap above the steerer.",
        Verdict.WITH_CARE: "Take a shim that is made for the pair, as long as the stem's clamp.",
        Verdict.DOES_NOT_FIT: "Take a headset and a stem for this steerer.",
        Verdict.MEASURE_FIRST: "Read the diameters on headset and stem, or measure them with a calliper.",
    },
    example={"steerer": "28.6 mm", "headset": "28.6 mm", "stem": "28.6 mm"},
    notes=(
        "Usual steerers measure 25.4 and 28.6 mm; tapered ones are told by their upper end. Common practice. A "
        "quill stem goes inside: its insertion is a check of its own."
    ),
    asked=Asked(cures=("headset", "stem")),
)
def steerer_fit(
    *,
    steerer_mm: Annotated[float, Meaning("outer diameter of the steerer"), Fact("fork.steerer")],
    headset_mm: Annotated[float | None, Meaning("steerer that the headset is made for"), Fact("headset.steerer")],
    stem_mm: Annotated[float | None, Meaning("steerer that the stem clamps"), Fact("stem.steerer")],
    steerer_kind: Annotated[
        HeadsetKind | None, Meaning("whether the steerer is threaded"), Fact("fork.steerer-kind")
    ] = None,
    headset_kind: Annotated[
        HeadsetKind | None, Meaning("whether the headset is threaded"), Fact("headset.headset-kind")
    ] = None,
    quill: Annotated[
        Fitted | None, Meaning("fitted where the stem goes inside the steerer"), Fact("stem.quill")
    ] = None,
) -> CheckResult:
    """Diameter [mm] and kind of a steerer against headset and stem. Source: common practice."""
    clamps = quill is not Fitted.FITTED
    n = write_number
    working = [f"Steerer: {n(steerer_mm, 2)} mm, {steerer_kind or 'kind not known'}"]
    working.append("Headset: " + ("not known" if headset_mm is None else f"for {n(headset_mm, 2)} mm"))
    if clamps:
        working.append("Stem: " + ("not known" if stem_mm is None else f"for {n(stem_mm, 2)} mm"))
    if steerer_kind is not None and headset_kind is not None and steerer_kind is not headset_kind:
        verdict, advice = Verdict.DOES_NOT_FIT, f"A {steerer_kind} steerer takes a {steerer_kind} headset."
    elif steerer_kind is not None and quill is not None and clamps is (steerer_kind is HeadsetKind.THREADED):
        verdict = Verdict.DOES_NOT_FIT
        advice = (
            "A threaded steerer takes a stem that goes inside it: one clamped round it crushes the thread."
            if clamps
            else "A threadless steerer takes a stem that is clamped round it: nothing holds the bearings under a quill."
        )
    elif headset_mm is not None and not at_most(abs(headset_mm - steerer_mm), SAME_MM):
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a headset for a steerer of {n(steerer_mm, 2)} mm."
    elif clamps and stem_mm is not None and not at_most(abs(stem_mm - steerer_mm), SAME_MM):
        shimmed = at_most(2 * _THINNEST_SHIM_MM, stem_mm - steerer_mm)
        verdict = Verdict.WITH_CARE if shimmed else Verdict.DOES_NOT_FIT
        advice = (
            f"Only with a shim made for the pair, {n((stem_mm - steerer_mm) / 2, 2)} mm thick."
            if shimmed
            else f"Take a stem for a steerer of {n(steerer_mm, 2)} mm."
        )
    elif headset_mm is None or (clamps and stem_mm is None):
        verdict = Verdict.MEASURE_FIRST
        advice = "Read the diameter on headset and stem, or measure the steerer where each sits."
    else:
        verdict, advice = Verdict.FITS, "Steerer, headset and stem are of one diameter."
    return CheckResult(
        verdict=verdict, value=steerer_mm, unit=Unit.MILLIMETRE, limit=headset_mm, working=tuple(working), advice=advice
    )


@check(
    family=Family.COCKPIT,
    title="Saddle rails and clamp",
    purpose="A clamp shaped for round rails cuts into oval ones, and one for oval rails never holds round ones.",
    formula=r"s_\text{rails} = s_\text{clamp}",
    source=Source(title="A clamp holds rails of its own shape", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Clamp it within the marks on the rails, and tighten to the torque.",
        Verdict.DOES_NOT_FIT: "Take the jaws that the post's maker offers for these rails, or another saddle or post.",
    },
    example={"saddle": "round", "post": "round"},
    notes="Round rails measure 7 mm, oval ones mostly 7 by 9 mm, often of carbon. Common practice, no source.",
    asked=Asked(cures=("seat-post", "saddle")),
)
def saddle_rails(
    saddle: Annotated[RailShape, Meaning("section of the saddle's rails"), Fact("saddle.rails")],
    post: Annotated[RailShape, Meaning("rails that the post's clamp is made for"), Fact("seat-post.rails")],
) -> CheckResult:
    """Whether a post's clamp holds the rails of a saddle. Source: common practice."""
    same = saddle is post
    return CheckResult(
        verdict=Verdict.FITS if same else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"Rails: {saddle}", f"Clamp: {post}"),
        advice="The clamp is made for these rails." if same else f"Take jaws or a post for rails that are {saddle}.",
    )
