"""What holds the rider: insertion of seat post and quill stem, and the gap above the steerer."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import Material
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number, write_quantity

POST_SOURCE = Source(
    title="16 CFR 1512.15(b), seat post insertion mark at least two diameters from the lowest point",
    locator="43 FR 60034 (1978), amended 76 FR 27888 (2011); ISO 4210-2, 4.16.2 the same, from memory",
    provenance=Provenance.LOOKED_UP,
)
STEM_SOURCE = Source(
    title="16 CFR 1512.6(a), handlebar stem insertion mark at least two and a half diameters from the bottom",
    locator="ISO 4210-2, 4.7.3 the same",
    provenance=Provenance.FROM_MEMORY,
)
GAP_SOURCE = Source(
    title="TBIS 4210-2:2018, which adopts ISO 4210-2:2014",
    locator="4.7.4 and figure 4, stem and steerer; the least gap is common practice",
    provenance=Provenance.LOOKED_UP,
)
POST_DIAMETERS, STEM_DIAMETERS = 2.0, 2.5
# Gap from the top of stem or spacer down to the steerer [mm]. The most is TBIS 4210-2, 4.7.4; the others are common
# practice: 2 to 3, so that the cap presses on the stem and not on the steerer.
MOST_UNCLAMPED_MM = 5.0
LEAST_GAP_MM, EASY_GAP_MM = 1.0, 2.0


def least_insertion_mm(diameter_mm: float, diameters: float, *marked_mm: float | None) -> float:
    """The insertion that is asked for [mm]: so many diameters, or more if a maker states more."""
    return max(diameters * diameter_mm, *(mark for mark in marked_mm if mark is not None), 0.0)


def _insertion(
    what: str,
    *,
    diameter_mm: float,
    diameters: float,
    inserted_mm: float | None,
    mark_mm: float | None,
    frame_mm: float | None = None,
) -> CheckResult:
    n = write_number
    by_rule = diameters * diameter_mm
    least = least_insertion_mm(diameter_mm, diameters, mark_mm, frame_mm)
    margin = None if inserted_mm is None else inserted_mm - least
    working = [f"By the standard: {n(diameters)} × {n(diameter_mm)} mm = {n(by_rule)} mm"]
    if mark_mm is not None:
        working.append(f"Mark of the {what}: {n(mark_mm)} mm")
    if frame_mm is not None:
        working.append(f"Asked for by the frame: {n(frame_mm)} mm")
    working.append(f"Largest of these: {n(least)} mm")
    if inserted_mm is None or margin is None:
        verdict = Verdict.MEASURE_FIRST
        advice = f"Mark the {what} where it enters, pull it out, and measure from the mark to its lower end."
    else:
        working.append(f"Margin: {n(inserted_mm)} − {n(least)} = {n(margin)} mm")
        if not at_least(margin, 0.0):
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Push it {n(-margin)} mm deeper, or take a longer {what}. It can break, or break what holds it."
        elif mark_mm is None:
            verdict = Verdict.MEASURE_FIRST
            advice = f"Measure from the lower end of the {what} to its mark: that much must be in, whatever the rule."
        else:
            verdict, advice = Verdict.FITS, "Deep enough."
    return CheckResult(
        verdict=verdict,
        value=inserted_mm,
        unit=Unit.MILLIMETRE,
        limit=least,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("by-standard", by_rule, Unit.MILLIMETRE),),
    )


@check(
    family=Family.COCKPIT,
    title="Seat post insertion",
    purpose="A seat post that is pulled out too far breaks, or breaks the frame. This is how much must stay inside.",
    formula=r"l \ge \max(2\,d,\; l_{mark},\; l_{frame})",
    source=POST_SOURCE,
    at_verdict={
        Verdict.FITS: "Tighten the clamp to its torque.",
        Verdict.DOES_NOT_FIT: "Push the post deeper or fit a longer one before anybody sits on it.",
        Verdict.MEASURE_FIRST: "Mark the post at the clamp, pull it out, measure from the mark to its lower end.",
    },
    example={"diameter": "27.2 mm", "inserted": "90 mm", "mark": "80 mm"},
    drawing="post-insertion",
    notes=(
        "The standard places the mark, two diameters up at least; the mark itself tells how deep. Makers often ask for "
        "more, 80 to 120 mm. The post "
        "should also reach below the joint of top tube and seat stays (common practice). Strength is asked for one "
        "diameter below the mark."
    ),
    asked=Asked(force=Force.CONDITION, cures=("seat-post",)),
)
def post_insertion(
    diameter_mm: Annotated[float, Meaning("diameter of the seat post"), Fact("seat-post.diameter")],
    inserted_mm: Annotated[float | None, Meaning("length of post in the seat tube"), Fact("measured.post-inserted")],
    mark_mm: Annotated[
        float | None, Meaning("lower end of the post to its insertion mark"), Fact("seat-post.least-insertion")
    ],
    frame_least_mm: Annotated[
        float | None, Meaning("insertion that the frame's maker asks for"), Fact("frame.least-post-insertion")
    ] = None,
) -> CheckResult:
    """Length of seat post in the seat tube against the least: two diameters, the post's mark, the frame's own figure.

    Source: 16 CFR 1512.15(b); ISO 4210-2 from memory.
    """
    return _insertion(
        "seat post",
        diameter_mm=diameter_mm,
        diameters=POST_DIAMETERS,
        inserted_mm=inserted_mm,
        mark_mm=mark_mm,
        frame_mm=frame_least_mm,
    )


@check(
    family=Family.COCKPIT,
    title="Quill stem insertion",
    purpose="A quill stem that is raised above its mark can break the steerer or come out. The mark must not show.",
    formula=r"l \ge \max(2.5\,d,\; l_{mark})",
    source=STEM_SOURCE,
    at_verdict={
        Verdict.FITS: "Tighten it, then try to twist the bar against the held front wheel.",
        Verdict.DOES_NOT_FIT: "Push the stem deeper or fit a longer one before the bike is ridden.",
        Verdict.MEASURE_FIRST: "Mark the quill where it enters, pull it out, measure from the mark to its lower end.",
    },
    example={"diameter": "22.2 mm", "inserted": "70 mm", "mark": "65 mm"},
    drawing="post-insertion",
    notes="Two and a half diameters are from memory of 16 CFR 1512.6(a) and ISO 4210-2. Grease quill and wedge.",
    asked=Asked(force=Force.CONDITION, only={"stem.quill": ("fitted",)}, cures=("stem",)),
)
def stem_insertion(
    diameter_mm: Annotated[float, Meaning("diameter of the stem's quill"), Fact("stem.quill-diameter")],
    inserted_mm: Annotated[float | None, Meaning("length of quill in the steerer"), Fact("measured.stem-inserted")],
    mark_mm: Annotated[
        float | None, Meaning("lower end of the quill to its insertion mark"), Fact("stem.least-insertion")
    ],
) -> CheckResult:
    """Length of quill stem in the steerer against the least: two and a half diameters, or the stem's mark.

    Source: 16 CFR 1512.6(a) and ISO 4210-2, from memory.
    """
    return _insertion(
        "stem",
        diameter_mm=diameter_mm,
        diameters=STEM_DIAMETERS,
        inserted_mm=inserted_mm,
        mark_mm=mark_mm,
    )


@check(
    family=Family.COCKPIT,
    title="Gap above the steerer",
    purpose=(
        "The cap of a threadless headset presses the stem onto the bearing. It can only do so if the steerer ends a "
        "little below; too far below, the stem holds on too little."
    ),
    formula=r"g \ge 1\;\mathrm{mm} \qquad g - s \le 5\;\mathrm{mm}",
    source=GAP_SOURCE,
    at_verdict={
        Verdict.FITS: "Set the bearing with the cap, line the stem up, tighten the clamp bolts.",
        Verdict.WITH_CARE: "It may do. Add a thin spacer if play remains with the cap tight.",
        Verdict.DOES_NOT_FIT: "Change the spacers. Never ride with a stem that hardly holds the steerer.",
        Verdict.MEASURE_FIRST: "Take the cap off and measure down to the steerer.",
    },
    example={"gap": "3 mm", "steerer": "steel"},
    drawing="spacer-gap",
    notes=(
        "The steerer may end at most 5 mm below the top of the stem (TBIS 4210-2:2018, 4.7.4). The least is common "
        "practice: 2 to 3 mm, never under 1. Carbon steerers often want a spacer above the stem: ask the fork's maker."
    ),
    asked=Asked(force=Force.CONDITION, unless={"stem.quill": ("fitted",)}),
)
def spacer_gap(
    *,
    gap_mm: Annotated[
        float | None, Meaning("topmost edge of stem or spacer down to the steerer"), Fact("measured.steerer-gap")
    ],
    spacer_above_mm: Annotated[float, Meaning("spacer on top of the stem"), Fact("measured.spacer-above")] = 0.0,
    steerer: Annotated[Material | None, Meaning("what the steerer is made of"), Fact("fork.steerer-material")],
) -> CheckResult:
    """Gap between the top of the stem (or of a spacer above it) and the top of the steerer.

    Too little, and the cap presses on the steerer, so that the bearing keeps its play; too much, and the stem's clamp
    holds on too little steerer.

    Source: TBIS 4210-2:2018, 4.7.4 (steerer at most 5 mm below the top of the stem); the least gap is common practice.
    """
    n = write_number
    working = [
        f"Wanted: {n(EASY_GAP_MM)} mm or more above the steerer; unclamped stem: {n(MOST_UNCLAMPED_MM)} mm at most"
    ]
    margin = None
    limit = MOST_UNCLAMPED_MM + spacer_above_mm
    if gap_mm is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Take the cap off and measure from the topmost edge down to the steerer with a calliper's depth rod."
    else:
        unclamped = gap_mm - spacer_above_mm
        below, above = gap_mm - LEAST_GAP_MM, MOST_UNCLAMPED_MM - unclamped
        limit, margin = (LEAST_GAP_MM, below) if below < above else (MOST_UNCLAMPED_MM + spacer_above_mm, above)
        working.append(f"Stem without steerer inside: {n(gap_mm)} − {n(spacer_above_mm)} = {n(unclamped)} mm")
        if not at_least(gap_mm, LEAST_GAP_MM):
            verdict = Verdict.DOES_NOT_FIT
            advice = f"The cap would press on the steerer: add a spacer of {n(EASY_GAP_MM)} mm or more on top or below."
        elif not at_most(unclamped, MOST_UNCLAMPED_MM):
            verdict = Verdict.DOES_NOT_FIT
            advice = (
                f"The clamp holds too little: take out {write_quantity(unclamped - 3, Unit.MILLIMETRE)} of spacers."
            )
        elif steerer is Material.CARBON and not spacer_above_mm:
            verdict = Verdict.WITH_CARE
            advice = (
                "A carbon steerer mostly wants a spacer above the stem, so that all of the clamp holds: ask its maker."
            )
        elif not at_least(gap_mm, EASY_GAP_MM):
            verdict, advice = Verdict.WITH_CARE, "Little room for adjusting: a thin spacer more is better."
        elif steerer is None:
            verdict = Verdict.MEASURE_FIRST
            advice = "Look up what the steerer is made of: of carbon, it mostly wants a spacer above the stem."
        else:
            verdict, advice = Verdict.FITS, "The cap can press on the stem, and the clamp holds the steerer."
    return CheckResult(
        verdict=verdict,
        value=gap_mm,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )
