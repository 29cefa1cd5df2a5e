"""How much of the derailleur's take-up each gear uses: the grid of all rings and sprockets, and its verdict."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from builder.checks.chain_geometry import DERAILLEUR_LINKS, even_links, exact_pitches, growth_teeth
from builder.checks.check import Asked, Family, Force, check
from builder.checks.derailleur import BEYOND, CAPACITY_SOURCE, LOOK_UP, TRIAL_TEETH
from builder.checks.inputs import Capacity, Growth, Rings, Sprockets
from builder.checks.judging import named
from builder.checks.result import CheckResult, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit


class TakeUp(StrEnum):
    """How a gear uses the cage: within its reach, at its limit, slack beyond it, or too tight."""

    WITHIN = "within"
    AT_LIMIT = "at the limit"
    SLACK = "slack"
    TOO_TIGHT = "too tight"
    UNKNOWN = "rating wanted"


_VERDICT_OF_TAKE_UP = {
    TakeUp.WITHIN: Verdict.FITS,
    TakeUp.AT_LIMIT: Verdict.FITS,
    TakeUp.SLACK: Verdict.DOES_NOT_FIT,
    TakeUp.TOO_TIGHT: Verdict.DOES_NOT_FIT,
    TakeUp.UNKNOWN: Verdict.MEASURE_FIRST,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeUpCell:
    """One gear of the grid: what it uses of the cage's take-up, in teeth of capacity."""

    ring: int
    sprocket: int
    ratio: float
    development_m: float
    used_teeth: int
    take_up: TakeUp
    verdict: Verdict


def _take_up(used: int, rated: int | None, tight: bool) -> TakeUp:
    if tight:
        return TakeUp.TOO_TIGHT
    if rated is None:
        return TakeUp.UNKNOWN
    if used > rated:
        return TakeUp.SLACK
    return TakeUp.AT_LIMIT if used == rated else TakeUp.WITHIN


def _verdict(take_up: TakeUp, used: int, rated: int | None, grown: int) -> Verdict:
    """The verdict on one gear; a rating says nothing of suspension, so that its share asks for a trial alone."""
    if take_up is TakeUp.SLACK and rated is not None and used - grown - rated <= TRIAL_TEETH:
        return Verdict.WITH_CARE
    return _VERDICT_OF_TAKE_UP[take_up]


def take_up_grid(
    rings: Sequence[int],
    sprockets: Sequence[int],
    rated_teeth: int | None,
    *,
    circumference_mm: float,
    chainstay_mm: float | None = None,
    growth_mm: float = 0.0,
    links: int | None = None,
) -> tuple[TakeUpCell, ...]:
    """Every gear, largest ring first and largest sprocket first, with what it uses of the derailleur's take-up.

    A gear that is smaller than the largest pair by so many teeth, ring and sprocket together, leaves that many teeth
    of slack. Links beyond the sized chain add two teeth each, and so does at rest what the chain needs where a
    suspended axle is farthest away. With the chain's length and the chainstay given, a gear
    whose path with the derailleur is longer than the chain is too tight.

    Args:
        rings: teeth of the chainrings.
        sprockets: teeth of the sprockets.
        rated_teeth: the derailleur's capacity; None where it is not known.
        circumference_mm: what the wheel rolls in a turn [mm], for the development.
        chainstay_mm: bottom bracket to rear axle [mm]; None where it is not known.
        growth_mm: chain growth [mm].
        links: links of the chain on the bike; None for one that is sized to the two largest.

    Source: common practice, no source; the path by plane geometry.
    """
    centre = None if chainstay_mm is None else chainstay_mm + growth_mm
    extra_teeth = growth_teeth(growth_mm)
    if centre is not None and links is not None:
        sized = even_links(exact_pitches(centre, max(rings), max(sprockets)) + DERAILLEUR_LINKS)
        extra_teeth += 2 * max(0, links - sized)
    cells = []
    for ring in sorted(set(rings), reverse=True):
        for sprocket in sorted(set(sprockets), reverse=True):
            used = max(rings) - ring + max(sprockets) - sprocket + extra_teeth
            tight = (
                centre is not None
                and links is not None
                and links < round(exact_pitches(centre, ring, sprocket) + DERAILLEUR_LINKS, 9)
            )
            take_up = _take_up(used, rated_teeth, tight)
            cells.append(
                TakeUpCell(
                    ring=ring,
                    sprocket=sprocket,
                    ratio=ring / sprocket,
                    development_m=circumference_mm * ring / sprocket / 1000,
                    used_teeth=used,
                    take_up=take_up,
                    verdict=_verdict(take_up, used, rated_teeth, growth_teeth(growth_mm)),
                )
            )
    return tuple(cells)


def take_up_as_json(cells: Sequence[TakeUpCell]) -> list[dict[str, int | float | str]]:
    """The grid as plain data for JSON, one object a gear."""
    return [
        {
            "ring": cell.ring,
            "sprocket": cell.sprocket,
            "ratio": float(f"{cell.ratio:.12g}"),
            "development": float(f"{cell.development_m:.12g}"),
            "take-up": cell.used_teeth,
            "state": cell.take_up.value,
            "verdict": cell.verdict.value,
        }
        for cell in cells
    ]


_WORST_FIRST = (Verdict.DOES_NOT_FIT, Verdict.MEASURE_FIRST, Verdict.WITH_CARE, Verdict.FITS)


@check(
    family=Family.SPROCKETS,
    title="Take-up of the cage, gear by gear",
    purpose=(
        "Capacity says whether the derailleur holds the chain in all gears. This says in which gears it does: how much "
        "of the cage's take-up each ring and sprocket uses."
    ),
    formula=r"u = (R_{max} - R) + (S_{max} - S) + 2 \max(0, n - N) + \left\lceil\frac{4 g}{p}\right\rceil",
    source=CAPACITY_SOURCE,
    at_verdict={
        Verdict.FITS: "Every gear may be used.",
        Verdict.WITH_CARE: "Tell the rider which gear to keep off.",
        Verdict.DOES_NOT_FIT: "Change the derailleur, the sprockets or the chain before the bike is ridden.",
        Verdict.MEASURE_FIRST: "Look up the derailleur's capacity.",
    },
    example={"rings": "48,31", "sprockets": "11,13,15,17,19,22,25,28,32,36", "rated": "41"},
    drawing="takeup-grid",
    notes=(
        "u is the take-up that a gear uses in teeth, R and S its ring and sprocket, n the links on the bike, N the "
        "links of a chain sized to the two largest, g the growth of the axle distance, p the pitch of 12.7 mm. Within: "
        "less than the rated capacity; at the limit: all of it; slack: more than it; too tight: the path with the "
        "derailleur is longer than the chain. Up to two teeth of slack beyond the rating are the owner's decision."
    ),
    asked=Asked(force=Force.TELLS, only={"worked-out.transmission": ("derailleur",)}, when_known=True),
)
def take_up(
    rings: Rings,
    sprockets: Sprockets,
    rated: Capacity,
    chainstay_mm: Annotated[
        float | None,
        Meaning("centre of the bottom bracket to centre of the rear axle, suspension unladen"),
        Fact("frame.chainstay"),
    ] = None,
    growth_mm: Growth = 0.0,
    links: Annotated[
        int | None,
        In(Unit.LINKS),
        Bounds(40, 220),
        Meaning("links of the chain on the bike; without it, a chain sized to the two largest"),
    ] = None,
) -> CheckResult:
    """What the gear that leaves the most slack uses of the cage [teeth]. See `take_up_grid`."""
    cells = take_up_grid(
        rings,
        sprockets,
        rated,
        circumference_mm=1000.0,
        chainstay_mm=chainstay_mm,
        growth_mm=growth_mm,
        links=links,
    )
    most = max(cell.used_teeth for cell in cells)
    working = tuple(_ring_line(cells, ring) for ring in sorted(set(rings), reverse=True))
    bad = [cell for cell in cells if cell.verdict is Verdict.DOES_NOT_FIT]
    tight = [cell for cell in bad if cell.take_up is TakeUp.TOO_TIGHT]
    verdict = next(verdict for verdict in _WORST_FIRST if any(cell.verdict is verdict for cell in cells))
    match verdict:
        case Verdict.DOES_NOT_FIT if tight:
            advice = f"The chain is too short for {_gears(tight)}: fit a longer one before anybody shifts there."
        case Verdict.DOES_NOT_FIT:
            advice = f"The chain hangs slack on {_gears(bad)}: fit a derailleur with more capacity, or a smaller span."
        case Verdict.MEASURE_FIRST:
            advice = f"The derailleur's capacity is not known. {LOOK_UP}"
        case Verdict.WITH_CARE:
            advice = f"{BEYOND} Keep off {_gears([c for c in cells if c.verdict is Verdict.WITH_CARE])}."
        case Verdict.FITS:
            advice = "The cage holds the chain in every gear."
    return CheckResult(
        verdict=verdict,
        value=float(most),
        unit=Unit.TEETH,
        limit=None if rated is None else float(rated),
        margin=None if rated is None or tight else float(rated - most),
        working=working,
        advice=advice,
        values=tuple(named(f"{cell.ring}x{cell.sprocket}", float(cell.used_teeth), Unit.TEETH) for cell in cells),
    )


def _gears(cells: Sequence[TakeUpCell]) -> str:
    return ", ".join(f"{cell.ring}×{cell.sprocket}" for cell in cells)


def _ring_line(cells: Sequence[TakeUpCell], ring: int) -> str:
    mine = [cell for cell in cells if cell.ring == ring]
    return f"Ring {ring}: " + "; ".join(f"{cell.sprocket}: {cell.used_teeth} {cell.take_up}" for cell in mine)
