"""All the gears of a bike: their steps, their range, what overlaps, and what an upgrade changes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.gears import gear_ratio
from builder.checks.inputs import USUAL_CIRCUMFERENCE_MM, Circumference, Rings, Sprockets, TeethList
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, NamedValue, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number

# A step that riders feel as a gap; most cassettes stay at 10 to 20 %.
_LARGE_STEP = 25.0


def _n(value: float, decimals: int = 2) -> str:
    return write_number(value, decimals)


@dataclass(frozen=True, slots=True, kw_only=True)
class GearSet:
    """The gears of rings and sprockets in numbers; ratios from lowest to highest, steps in per cent."""

    ratios: tuple[float, ...]
    steps_percent: tuple[float, ...]
    overlapping: int

    @property
    def lowest(self) -> float:
        """The easiest ratio."""
        return self.ratios[0]

    @property
    def highest(self) -> float:
        """The hardest ratio."""
        return self.ratios[-1]

    @property
    def range_percent(self) -> float:
        """The highest gear as a share of the lowest [%]; 500 means five times as high."""
        return 100 * self.highest / self.lowest


def steps_percent(sprockets: Sequence[int]) -> tuple[float, ...]:
    """By how much each sprocket is larger than the one before [%], from the smallest up; equal ones count once."""
    return tuple(100 * (larger / smaller - 1) for smaller, larger in pairwise(sorted(set(sprockets))))


def gear_set(rings: Sequence[int], sprockets: Sequence[int]) -> GearSet:
    """Every gear of the rings and the sprockets.

    The steps are those between neighbouring sprockets, which is what a rider shifts through. A gear overlaps when its
    ratio also lies within the span of the next smaller ring, so that another ring gives nearly the same.
    """
    ratios = tuple(sorted(gear_ratio(ring, sprocket) for ring in set(rings) for sprocket in set(sprockets)))
    ordered = sorted(set(rings))
    overlapping = 0
    for smaller, larger in pairwise(ordered):
        top = gear_ratio(smaller, min(sprockets))
        overlapping += sum(gear_ratio(larger, sprocket) <= top for sprocket in set(sprockets))
    return GearSet(
        ratios=ratios,
        steps_percent=steps_percent(sprockets),
        overlapping=overlapping,
    )


@check(
    family=Family.GEARS,
    title="Steps between the gears",
    purpose=(
        "A wide cassette buys its range with larger steps. Riders feel a step of more than a quarter as a gap, where "
        "one gear is too easy and the next too hard."
    ),
    formula=r"\Delta_k = 100\,\% \cdot \left(\frac{S_{k+1}}{S_k} - 1\right)",
    source=Source(
        title="Ratio of neighbouring sprockets",
        locator="25 % is this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Nothing to do.",
        Verdict.WITH_CARE: "Show the rider where the gap lies, before the cassette is bought.",
    },
    example={"sprockets": "11,13,15,17,19,22,25,28,32,36"},
    drawing="gear-chart",
    notes="Δ is the step in per cent from one sprocket S to the next larger one.",
    asked=Asked(force=Force.TELLS, when_known=True),
)
def gear_steps(
    sprockets: Sprockets,
) -> CheckResult:
    """The largest step between neighbouring sprockets [%]. Source: definition; 25 % is our own choice."""
    sizes = sorted(set(sprockets))
    steps = steps_percent(sizes)
    pairs = list(pairwise(sizes))
    if not steps:
        return CheckResult(
            verdict=Verdict.FITS,
            value=0.0,
            unit=Unit.PERCENT,
            working=("One sprocket: there is no step.",),
            advice="A single sprocket has no steps.",
        )
    largest = max(steps)
    at = pairs[steps.index(largest)]
    mean = 100 * (math.pow(sizes[-1] / sizes[0], 1 / len(steps)) - 1)
    good = at_most(largest, _LARGE_STEP)
    return CheckResult(
        verdict=Verdict.FITS if good else Verdict.WITH_CARE,
        value=largest,
        unit=Unit.PERCENT,
        working=(
            *(
                f"{low} to {high}: 100 × ({high} / {low} − 1) = {_n(step, 1)} %"
                for (low, high), step in zip(pairs, steps, strict=True)
            ),
            f"Mean step: 100 × (({sizes[-1]} / {sizes[0]})^(1/{len(steps)}) − 1) = {_n(mean, 1)} %",
            f"Felt as a gap above {_n(_LARGE_STEP, 0)} %; the largest step is {_n(largest, 1)} %",
        ),
        advice=(
            "No step is large."
            if good
            else f"From {at[0]} to {at[1]} teeth is a large step: fine for a bail-out gear, a gap in the middle."
        ),
        values=(
            *(named(f"{low}-{high}", step, Unit.PERCENT) for (low, high), step in zip(pairs, steps, strict=True)),
            named("mean", mean, Unit.PERCENT),
            named("smallest", min(steps), Unit.PERCENT),
        ),
    )


def _set_values(gears: GearSet, circumference_mm: float, prefix: str = "") -> tuple[NamedValue, ...]:
    metres = circumference_mm / 1000
    return (
        named(f"{prefix}lowest", gears.lowest, Unit.ONE),
        named(f"{prefix}highest", gears.highest, Unit.ONE),
        named(f"{prefix}lowest-development", gears.lowest * metres, Unit.METRE),
        named(f"{prefix}highest-development", gears.highest * metres, Unit.METRE),
        named(f"{prefix}range", gears.range_percent, Unit.PERCENT),
        named(f"{prefix}gears", float(len(gears.ratios)), Unit.ONE),
        named(f"{prefix}overlap", float(gears.overlapping), Unit.ONE),
    )


def _set_working(word: str, rings: Sequence[int], sprockets: Sequence[int], gears: GearSet) -> tuple[str, ...]:
    return (
        f"{word} lowest: {min(rings)} / {max(sprockets)} = {_n(gears.lowest, 3)}",
        f"{word} highest: {max(rings)} / {min(sprockets)} = {_n(gears.highest, 3)}",
        f"{word} range: 100 × {_n(gears.highest, 3)} / {_n(gears.lowest, 3)} = {_n(gears.range_percent, 0)} %",
    )


@check(
    family=Family.GEARS,
    title="Range of the gears",
    purpose="How far the easiest and the hardest gear lie apart, and how many gears two chainrings share.",
    formula=r"B = 100\,\% \cdot \frac{R_{max}\,S_{max}}{R_{min}\,S_{min}}",
    source=Source(title="Definition: highest by lowest ratio", provenance=Provenance.DERIVABLE),
    at_verdict={Verdict.FITS: "Compare with the range that the rider's hills ask for."},
    example={"rings": "48,31", "sprockets": "11,13,15,17,19,22,25,28,32,36", "circumference": "2200 mm"},
    drawing="gear-chart",
    notes=(
        "B is the range, R the chainrings, S the sprockets. A gear overlaps when its ratio also lies within the span "
        "of the next smaller ring."
    ),
    asked=Asked(force=Force.TELLS, when_known=True),
)
def gear_range(
    rings: Rings,
    sprockets: Sprockets,
    circumference_mm: Circumference = USUAL_CIRCUMFERENCE_MM,
) -> CheckResult:
    """The highest gear as a share of the lowest [%]. Source: definition."""
    gears = gear_set(rings, sprockets)
    return CheckResult(
        verdict=Verdict.FITS,
        value=gears.range_percent,
        unit=Unit.PERCENT,
        working=(
            *_set_working("The", rings, sprockets, gears),
            f"Gears: {len(set(rings))} × {len(set(sprockets))} = {len(gears.ratios)}; "
            f"{gears.overlapping} of them lie within the span of the next smaller ring",
        ),
        advice="The range says how far apart the easiest and the hardest gear lie, not how low the easiest is.",
        values=_set_values(gears, circumference_mm),
    )


@check(
    family=Family.GEARS,
    title="Gears before and after an upgrade",
    purpose=(
        "Somebody wants lower gears. This shows, before a part is bought, how much easier the lowest gear becomes and "
        "what the highest loses."
    ),
    formula=r"\delta = 100\,\% \cdot \left(\frac{i_{after}}{i_{before}} - 1\right)",
    source=Source(
        title="Ratios before and after",
        locator="5 % of loss at the top is this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Go on to capacity, largest sprocket and chain length.",
        Verdict.WITH_CARE: "Show the rider the highest gear that is left.",
        Verdict.DOES_NOT_FIT: "Choose other parts: this change does not make climbing easier.",
    },
    example={
        "rings": "32",
        "sprockets": "11,13,15,17,19,21,24,28,32,36",
        "new-sprockets": "11,13,15,18,21,24,28,34,40,46",
        "circumference": "2200 mm",
    },
    drawing="gear-chart",
    notes="δ is the change of the lowest gear, i its ratio. Negative is easier.",
    asked=Asked(force=Force.TELLS, only={"worked-out.lowest-gear": ("another",)}, when_known=True),
)
def gear_upgrade(
    rings: Annotated[TeethList, Meaning("teeth of every chainring now"), Fact("crankset.rings", before=True)],
    sprockets: Annotated[TeethList, Meaning("teeth of every sprocket now"), Fact("cassette.sprockets", before=True)],
    new_rings: Annotated[
        TeethList | None,
        Meaning("teeth of the chainrings after the upgrade; without it, they stay"),
        Fact("crankset.rings"),
    ] = None,
    new_sprockets: Annotated[
        TeethList | None,
        Meaning("teeth of the sprockets after the upgrade; without it, they stay"),
        Fact("cassette.sprockets"),
    ] = None,
    circumference_mm: Circumference = USUAL_CIRCUMFERENCE_MM,
) -> CheckResult:
    """How much the lowest gear becomes easier or harder [%]; negative is easier. Source: definition."""
    new_rings, new_sprockets = new_rings or rings, new_sprockets or sprockets
    before, after = gear_set(rings, sprockets), gear_set(new_rings, new_sprockets)
    change = 100 * (after.lowest / before.lowest - 1)
    top = 100 * (after.highest / before.highest - 1)
    easier = not at_most(0.0, change)
    if easier and at_most(-5.0, top):
        verdict, advice = (
            Verdict.FITS,
            f"The lowest gear becomes {_n(-change, 0)} % easier, and the highest gear stays.",
        )
    elif easier:
        verdict = Verdict.WITH_CARE
        advice = f"The lowest gear becomes {_n(-change, 0)} % easier, but the highest loses {_n(-top, 0)} %."
    else:
        verdict, advice = (
            Verdict.DOES_NOT_FIT,
            "The lowest gear becomes no easier: a larger sprocket or a smaller ring does.",
        )
    return CheckResult(
        verdict=verdict,
        value=change,
        unit=Unit.PERCENT,
        limit=0.0,
        margin=-change,
        working=(
            *_set_working("Before:", rings, sprockets, before),
            *_set_working("After:", new_rings, new_sprockets, after),
            f"Lowest gear: 100 × ({_n(after.lowest, 3)} / {_n(before.lowest, 3)} − 1) = {_n(change, 1)} %",
            f"Highest gear: 100 × ({_n(after.highest, 3)} / {_n(before.highest, 3)} − 1) = {_n(top, 1)} %",
        ),
        advice=advice,
        values=(
            *_set_values(before, circumference_mm, "before-"),
            *_set_values(after, circumference_mm, "after-"),
            named("highest-change", top, Unit.PERCENT),
        ),
    )
