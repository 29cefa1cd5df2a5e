"""How a front derailleur goes on: its mount and band, the way and the pull of its cable, the chain in its cage."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.derailleur import LOOK_UP
from builder.checks.inputs import SpeedCount
from builder.checks.judging import at_most
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import CableSide, FrontMount
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

_HAS_FRONT = {"worked-out.transmission": ("derailleur",)}
# Bands come for tubes of 1 1/8, 1 1/4 and 1 3/8 inches, and paint adds a little: common practice, no source.
_SAME_BAND_MM = 0.3
# What the makers' shims make up: from the widest of the usual bands to the two narrower ones. Common practice.
_LEAST_SHIMMED_MM, _MOST_SHIMMED_MM = 2.8, 6.6
_PRACTICE = Provenance.COMMON_PRACTICE


@check(
    family=Family.SPROCKETS,
    title="Mount of the front derailleur",
    purpose=(
        "A front derailleur is held by a band round the seat tube, by a bolt in a brazed-on tab, or by bolts straight "
        "in the frame. One made for another mount can not be set to its height and angle."
    ),
    formula=r"m_\text{derailleur} = m_\text{frame} \qquad |d_\text{band} - d_\text{tube}| \le 0.3\;\mathrm{mm}",
    source=Source(title="Parts that are bolted together have one mount", provenance=_PRACTICE),
    at_verdict={
        Verdict.FITS: "Put it on by hand, set height and angle, then tighten its bolt to the torque.",
        Verdict.WITH_CARE: "Use the part that its maker sells for the pair, and try that it does not turn on the tube.",
        Verdict.DOES_NOT_FIT: "Take a front derailleur for the mount and the tube of this frame.",
        Verdict.MEASURE_FIRST: "Measure the seat tube with a calliper where the band goes, at two places.",
    },
    example={"derailleur": "band", "frame": "band", "band": "31.8 mm", "tube": "31.8 mm"},
    notes=(
        "m is the mount, d a diameter. Usual bands: 28.6, 31.8 and 34.9 mm, which are 1 1/8, 1 1/4 and 1 3/8 inches. A "
        "band of 34.9 mm goes on the narrower tubes with its maker's shim. A band on a carbon tube only where the "
        "maker of the frame allows it. Common practice, no source."
    ),
    asked=Asked(only=_HAS_FRONT, new=("front-derailleur",), cures=("front-derailleur",)),
)
def front_mount(
    derailleur: Annotated[
        FrontMount, Meaning("what the front derailleur is held by"), Fact("front-derailleur.front-mount")
    ],
    frame: Annotated[FrontMount, Meaning("what the frame holds a front derailleur by"), Fact("frame.front-mount")],
    band_mm: Annotated[
        float | None,
        In(Unit.MILLIMETRE),
        Bounds(20, 60),
        Meaning("tube that its band is made for; none without a band"),
        Fact("front-derailleur.band"),
    ] = None,
    tube_mm: Annotated[
        float | None,
        In(Unit.MILLIMETRE),
        Bounds(20, 60),
        Meaning("outside of the seat tube where the band goes"),
        Fact("frame.seat-tube"),
    ] = None,
) -> CheckResult:
    """Mount of a front derailleur against the frame's, and its band against the tube [mm]. Source: common practice."""
    n = write_number
    working = [f"The front derailleur is made for: {derailleur}", f"The frame has: {frame}"]
    play = limit = margin = None
    if derailleur is FrontMount.BRAZE_ON and frame is FrontMount.BAND:
        verdict = Verdict.WITH_CARE
        advice = "Only on a band that carries a tab, made for the diameter of this tube."
    elif derailleur is not frame:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a front derailleur for this mount: {frame}."
    elif frame is not FrontMount.BAND:
        verdict, advice = Verdict.FITS, "Derailleur and frame have the same mount."
    elif band_mm is None or tube_mm is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Measure the seat tube where the band goes, and read the diameter that the band is made for."
    else:
        play = band_mm - tube_mm
        limit, margin = _SAME_BAND_MM, _SAME_BAND_MM - abs(play)
        working.append(f"Play: {n(band_mm)} − {n(tube_mm)} = {n(play)} mm")
        if at_most(abs(play), _SAME_BAND_MM):
            verdict, advice = Verdict.FITS, "The band has the diameter of the tube."
        elif at_most(_LEAST_SHIMMED_MM, play) and at_most(play, _MOST_SHIMMED_MM):
            limit, margin = _MOST_SHIMMED_MM, _MOST_SHIMMED_MM - play
            verdict = Verdict.WITH_CARE
            advice = f"Only with its maker's shim, {n(play / 2, 2)} mm thick, and never a piece of tin."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"It would turn on the tube or crush it: take a band for {n(tube_mm)} mm."
    return CheckResult(
        verdict=verdict,
        value=play,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )


@check(
    family=Family.SPROCKETS,
    title="Cable of the front derailleur",
    purpose="Pulled from the wrong side, the lever of a front derailleur does not move, or moves the wrong way.",
    formula=r"s_\text{derailleur} \ni s_\text{frame}",
    source=Source(title="The cable comes from where the lever is pulled", provenance=_PRACTICE),
    at_verdict={
        Verdict.FITS: "Lead the cable as before, on the side of the clamp bolt that its maker shows.",
        Verdict.DOES_NOT_FIT: "Take a front derailleur whose cable comes from the same side.",
    },
    example={"derailleur": "either", "frame": "below"},
    notes="s are the sides from which the cable comes, below or above. Some derailleurs take both. Common practice.",
    asked=Asked(
        only={**_HAS_FRONT, "front-derailleur.actuation": ("cable",)},
        new=("front-derailleur",),
        cures=("front-derailleur",),
    ),
)
def front_cable(
    derailleur: Annotated[
        CableSide, Meaning("from where the front derailleur is pulled"), Fact("front-derailleur.front-cable")
    ],
    frame: Annotated[CableSide, Meaning("from where the cable comes on this frame"), Fact("frame.front-cable")],
) -> CheckResult:
    """The side from which the cable comes against the side that the lever is made for. Source: common practice."""
    # A frame with stops for both leads the cable as the derailleur wants it.
    fits = derailleur is frame or CableSide.EITHER in (derailleur, frame)
    return CheckResult(
        verdict=Verdict.FITS if fits else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"The front derailleur is pulled from: {derailleur}", f"The cable comes from: {frame}"),
        advice="The cable pulls its lever." if fits else f"Take a front derailleur that is pulled from {frame}.",
    )


@check(
    family=Family.SPROCKETS,
    title="Pull of the front shifter",
    purpose=(
        "A click of the front shifter moves a certain length of cable, and the derailleur needs just that for one "
        "chainring. Lines of parts differ in it."
    ),
    formula=r"s_\text{shifter} = s_\text{derailleur}",
    source=Source(title="Parts that index together share a standard", provenance=_PRACTICE),
    at_verdict={
        Verdict.FITS: "Set the cable and the limit screws.",
        Verdict.DOES_NOT_FIT: "Take a front derailleur of the shifter's line, or a shifter of the derailleur's.",
        Verdict.MEASURE_FIRST: "Look both parts up in their makers' lists before a part is bought.",
    },
    example={"shifter": "front, three rings", "derailleur": "front, three rings"},
    notes=(
        "s is the name of the line. Write it in the same words for both: capitals and spaces do not matter. A friction "
        "shifter has no clicks, and is not asked. Common practice, no source."
    ),
    asked=Asked(
        only={**_HAS_FRONT, "front-derailleur.actuation": ("cable",)},
        unless={"front-shifter.indexing": ("friction",)},
        new=("front-derailleur", "front-shifter"),
        cures=("front-derailleur",),
    ),
)
def front_pull(
    shifter: Annotated[
        str | None, Meaning("the line that the front shifter is made for"), Fact("front-shifter.shift-standard")
    ],
    derailleur: Annotated[
        str | None, Meaning("the line that the front derailleur is made for"), Fact("front-derailleur.shift-standard")
    ],
) -> CheckResult:
    """Whether front shifter and front derailleur are of one line. Source: common practice."""
    said = [None if text is None else " ".join(text.split()).casefold() for text in (shifter, derailleur)]
    if None in said:
        verdict, advice = (
            Verdict.MEASURE_FIRST,
            "How much cable a click moves is not known for both. Look both up in their makers' lists.",
        )
    elif said[0] == said[1]:
        verdict, advice = Verdict.FITS, "Shifter and derailleur are made for each other."
    else:
        verdict, advice = (
            Verdict.DOES_NOT_FIT,
            "A click of this shifter moves another length than the derailleur needs.",
        )
    return CheckResult(
        verdict=verdict,
        value=None,
        unit=Unit.ONE,
        working=(f"Front shifter: {shifter or 'not known'}", f"Front derailleur: {derailleur or 'not known'}"),
        advice=advice,
    )


@check(
    family=Family.SPROCKETS,
    title="Chain in the front cage",
    purpose="The cage of a front derailleur is as wide as the chain that it is made for. A wider chain rubs in it.",
    formula=r"n \in N_\text{derailleur}",
    source=Source(title="Number of sprockets by the derailleur's rating", provenance=_PRACTICE),
    at_verdict={
        Verdict.FITS: "Set the limit screws by the chain.",
        Verdict.WITH_CARE: "Set the limit screws with care, and try the gears that cross before it is ridden.",
        Verdict.DOES_NOT_FIT: "Take a front derailleur for this number of sprockets.",
        Verdict.MEASURE_FIRST: "Look up for how many sprockets its maker makes it.",
    },
    example={"sprockets": "9", "made-for": "9,10"},
    notes=(
        "n is the number of sprockets, N those that the maker names. One more or one fewer often works, since the "
        "chains differ by about 0.6 mm. Common practice, no source."
    ),
    asked=Asked(only=_HAS_FRONT, new=("front-derailleur",), cures=("front-derailleur",)),
)
def front_cage(
    sprockets: SpeedCount,
    made_for: Annotated[
        Annotated[tuple[int, ...], Bounds(1, 14)] | None,
        Meaning("numbers of sprockets that its maker names"),
        Fact("front-derailleur.speeds"),
    ],
) -> CheckResult:
    """Number of sprockets, which decides the chain's width, against the rating of the cage. Source: common practice."""
    off = None if not made_for else min(abs(sprockets - one) for one in made_for)
    working = [f"Sprockets: {sprockets}"]
    if made_for:
        working.append(f"The cage is made for: {', '.join(str(one) for one in made_for)}")
    if off is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"For which chain the cage is made is not known. {LOOK_UP}"
    elif off == 0:
        verdict, advice = Verdict.FITS, "The chain has its room in the cage."
    elif off == 1:
        verdict, advice = Verdict.WITH_CARE, "The cage is one step wider or narrower than the chain: it may rub."
    else:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a front derailleur for {sprockets} sprockets."
    return CheckResult(
        verdict=verdict,
        value=None if off is None else float(off),
        unit=Unit.ONE,
        limit=None if off is None else 0.0,
        margin=None if off is None else float(-off),
        working=tuple(working),
        advice=advice,
    )
