"""Compose sides: the fewest there can be, then the places that leave the least white and part the least.

Two programs in one another, each over the number of the block that comes next: the outer one chooses where a side
ends, the inner one where its columns do. All ways to end sides and columns are compared, so that a heading that can't
stay with its step on one side is known before that side is begun.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from builder.composing.blocks import Block, End, Frame, Place, TooHigh

# What it costs to end a side or a column, against a column left wholly white, which costs 100.
_SIDE_COST = {End.NOTHING: 6.0, End.PAUSE: 2.0, End.SECTION: 0.0}
_COLUMN_COST = {End.NOTHING: 1.5, End.PAUSE: 0.5, End.SECTION: 0.0}
_WHITE_COST = 100.0
# A side that is under half full, and is not the last, is worse than any breach of a section.
_HALF, _HALF_COST = 0.5, 1000.0
# Heights are read from a layout in pixels; what lies under a hundredth of a millimetre is rounding.
_SLACK_MM = 0.01


@dataclass(frozen=True, slots=True)
class _Filled:
    """The blocks of one column, from the first up to and without `end`, and how high they stand [mm]."""

    start: int
    end: int
    used_mm: float


@dataclass(frozen=True, slots=True)
class _Best:
    """The best way to place all blocks from one on: how many sides, what it costs, and the columns of the first."""

    sides: int
    cost: float
    columns: tuple[_Filled, ...]


def compose(blocks: Sequence[Block], frame: Frame, *, tight: bool = False) -> tuple[Place, ...]:
    """A place for each block, in their order: down a column, on to the next, then to the next side.

    Args:
        blocks: what is composed.
        frame: the room of a side.
        tight: without white between what stands across the columns and the columns.

    Raises:
        TooHigh: blocks that keep together are higher than a column.
        ValueError: a block that spans the columns stands after one that does not.
    """
    heads = [number for number, block in enumerate(blocks) if block.spans]
    if heads != list(range(len(heads))):
        raise ValueError("only the first blocks may span the columns")
    spanning = _spanning(blocks[: len(heads)])
    start = len(heads)
    # What stands across the columns is parted from all of them as from the block after it.
    white_mm = blocks[start].gap_mm if 0 < start < len(blocks) and not tight else 0.0
    first_mm = frame.height_mm - (spanning[-1].bottom_mm + white_mm if spanning else 0.0)
    if first_mm < -_SLACK_MM - white_mm:
        raise TooHigh(start - 1, -first_mm)
    best = _all_sides(blocks, frame, start, first_mm)
    return (*spanning, *_placed(blocks, frame, best, start, frame.height_mm - first_mm))


def roomy(
    blocks: Sequence[Block], frame: Frame, factors: Sequence[float], most_mm: float = math.inf
) -> tuple[tuple[Block, ...], tuple[Place, ...]]:
    """The blocks with the widest white between them that costs no side more, and their places.

    Args:
        blocks: with the least white between them.
        frame: the room of a side.
        factors: by how much the white may grow, the widest first.
        most_mm: by how much it grows at most, so that what is wide does not part what belongs together [mm].

    Raises:
        TooHigh, ValueError: as `compose`.
    """
    least = compose(blocks, frame, tight=True)
    sides = least[-1].side if least else 0
    found = (tuple(blocks), least)
    # Wider white never takes fewer sides, so that the widest which fits is found by halving.
    widths = (*factors, 1.0)
    begin, end = 0, len(widths)
    while begin < end:
        middle = (begin + end) // 2
        gaps_mm = (min(block.gap_mm * widths[middle], block.gap_mm + most_mm) for block in blocks)
        wider = tuple(replace(block, gap_mm=gap_mm) for block, gap_mm in zip(blocks, gaps_mm, strict=True))
        places = _within(wider, frame, sides)
        if places is None:
            begin = middle + 1
        else:
            found, end = (wider, places), middle
    return found


def fewest(blocks: Sequence[Block], frame: Frame) -> int:
    """How many sides blocks take where each column is filled as far as it goes, in a single pass.

    That is what `compose` takes, but for shorter forms, by which a side that is begun later may gain. No white stands
    below what spans the columns.

    Raises:
        TooHigh: blocks that keep together are higher than a column.
    """
    heads = sum(block.spans for block in blocks)
    spanning = _spanning(blocks[:heads])
    room_mm = frame.height_mm - (spanning[-1].bottom_mm if spanning else 0.0)
    if room_mm < -_SLACK_MM:
        raise TooHigh(heads - 1, -room_mm)
    side, column, used_mm = 0, 0, 0.0
    told: frozenset[str] = frozenset()
    at = heads
    while at < len(blocks):
        end = at
        while blocks[end].keeps_next and end + 1 < len(blocks):
            end += 1
        kept = blocks[at : end + 1]
        high_mm, after = _together(kept, told)
        begun = used_mm + kept[0].gap_mm if used_mm else 0.0
        while begun + high_mm > room_mm + _SLACK_MM:
            if column == 0 and not begun and room_mm == frame.height_mm:
                raise TooHigh(at, high_mm - room_mm)
            column, begun = column + 1, 0.0
            if column == frame.columns:
                side, column, room_mm = side + 1, 0, frame.height_mm
                high_mm, after = _together(kept, frozenset())
        used_mm, told = begun + high_mm, after
        at = end + 1
    return side + 1


def _together(kept: Sequence[Block], told: frozenset[str]) -> tuple[float, frozenset[str]]:
    """How high blocks stand together on a side that has told some things already, and what it has told then."""
    high_mm = 0.0
    for number, block in enumerate(kept):
        short = block.short_mm is not None and bool(block.tells) and block.tells <= told
        high_mm += block.short_mm if short and block.short_mm is not None else block.height_mm
        high_mm += block.gap_mm if number else 0.0
        told |= block.tells
    return high_mm, told


def _within(blocks: Sequence[Block], frame: Frame, sides: int) -> tuple[Place, ...] | None:
    """The places of blocks where they take no side beyond the one of this number; else None."""
    try:
        places = compose(blocks, frame)
    except TooHigh:
        return None
    return places if not places or places[-1].side <= sides else None


def _spanning(blocks: Sequence[Block]) -> tuple[Place, ...]:
    found: list[Place] = []
    top = 0.0
    for number, block in enumerate(blocks):
        top += block.gap_mm if number else 0.0
        found.append(Place(side=0, column=0, top_mm=top, height_mm=block.height_mm, spans=True))
        top += block.height_mm
    return tuple(found)


def _all_sides(blocks: Sequence[Block], frame: Frame, start: int, first_mm: float) -> dict[int, _Best]:
    """The best way on from each block that may begin a side; the first side has `first_mm` of room."""
    count = len(blocks)
    best: dict[int, _Best] = {count: _Best(0, 0.0, ())}
    for begin in reversed(range(start, count)):
        if begin > start and blocks[begin - 1].keeps_next:
            continue
        is_first = begin == start
        room = first_mm if is_first else frame.height_mm
        # Below the head of the first side the columns may be too low for a block; it then begins the next one.
        if is_first and start:
            best[begin] = min(
                filter(None, (_side(blocks, frame, begin, room, best), _skipped(blocks, frame, begin, best))),
                key=lambda one: (one.sides, one.cost),
                default=None,
            ) or _refused(blocks, begin, frame.height_mm)
            continue
        found = _side(blocks, frame, begin, room, best)
        if found is None:
            _refused(blocks, begin, frame.height_mm)
        else:
            best[begin] = found
    return best


def _skipped(blocks: Sequence[Block], frame: Frame, begin: int, best: dict[int, _Best]) -> _Best | None:
    """Nothing stands below the blocks that span: all others begin on the next side."""
    after = _side(blocks, frame, begin, frame.height_mm, best)
    if after is None:
        return None
    best[-1] = after
    return _Best(after.sides + 1, after.cost + _HALF_COST, ())


def _refused(blocks: Sequence[Block], begin: int, room_mm: float) -> _Best:
    height = 0.0
    for number in range(begin, len(blocks)):
        block = blocks[number]
        height += block.height_mm + (block.gap_mm if number > begin else 0.0)
        if not block.keeps_next:
            break
    raise TooHigh(begin, height - room_mm)


def _side(blocks: Sequence[Block], frame: Frame, begin: int, room_mm: float, best: dict[int, _Best]) -> _Best | None:
    """The best side that begins with a block, with the best sides after it; None where the block does not fit."""
    heights = _heights(blocks, begin, room_mm * frame.columns)
    inner: list[dict[int, tuple[float, float, tuple[_Filled, ...]]]] = [{begin: (0.0, 0.0, ())}]
    found: _Best | None = None
    for _ in range(frame.columns):
        reached: dict[int, tuple[float, float, tuple[_Filled, ...]]] = {}
        for at, (cost, used, columns) in inner[-1].items():
            for filled in _columns(blocks, heights, begin, at, room_mm):
                white = 1.0 - filled.used_mm / room_mm
                end = blocks[filled.end - 1].ends
                more = (
                    cost + _WHITE_COST * white * white + _COLUMN_COST[end],
                    used + filled.used_mm,
                    (*columns, filled),
                )
                if filled.end not in reached or more[0] < reached[filled.end][0]:
                    reached[filled.end] = more
        inner.append(reached)
        for end_at, (cost, used, columns) in reached.items():
            after = best.get(end_at)
            if after is None:
                continue
            whole = _cost_of(blocks, frame, room_mm, end_at, cost, used, columns) + after.cost
            if found is None or (after.sides + 1, whole) < (found.sides, found.cost):
                found = _Best(after.sides + 1, whole, columns)
    return found


def _cost_of(
    blocks: Sequence[Block],
    frame: Frame,
    room_mm: float,
    end_at: int,
    cost: float,
    used_mm: float,
    columns: tuple[_Filled, ...],
) -> float:
    """What a side costs as a whole."""
    if end_at == len(blocks):
        # The last side may be white at its foot; its columns stand level.
        level = used_mm / frame.columns
        uneven = sum((one.used_mm - level) ** 2 for one in columns) + (frame.columns - len(columns)) * level**2
        return _WHITE_COST * uneven / (room_mm * room_mm)
    empty = frame.columns - len(columns)
    whole = frame.height_mm * frame.columns
    under_half = used_mm + (frame.height_mm - room_mm) * frame.columns < _HALF * whole
    return cost + empty * _WHITE_COST + _SIDE_COST[blocks[end_at - 1].ends] + (_HALF_COST if under_half else 0.0)


def _heights(blocks: Sequence[Block], begin: int, most_mm: float) -> list[tuple[float, bool]]:
    """The height of each block from `begin` on and whether it is the short one, on a side that begins with it."""
    told: set[str] = set()
    found: list[tuple[float, bool]] = []
    total = 0.0
    for block in blocks[begin:]:
        short = block.short_mm is not None and bool(block.tells) and block.tells <= told
        told |= block.tells
        height = block.short_mm if short and block.short_mm is not None else block.height_mm
        found.append((height, short))
        total += height
        if total > most_mm:  # nothing after it can stand on this side
            break
    return found


def _columns(
    blocks: Sequence[Block], heights: list[tuple[float, bool]], begin: int, at: int, room_mm: float
) -> Iterator[_Filled]:
    """Every way to end a column that begins with the block `at`."""
    used = 0.0
    for number in range(at, begin + len(heights)):
        used += heights[number - begin][0] + (blocks[number].gap_mm if number > at else 0.0)
        if used > room_mm + _SLACK_MM:
            return
        if not blocks[number].keeps_next or number + 1 == len(blocks):
            yield _Filled(at, number + 1, used)


def _placed(
    blocks: Sequence[Block], frame: Frame, best: dict[int, _Best], start: int, head_mm: float
) -> Iterator[Place]:
    at, side = start, 0
    while at < len(blocks):
        here = best[at]
        if at == start and side == 0 and not here.columns:
            here, side = best[-1], 1
        heights = _heights(blocks, at, frame.height_mm * frame.columns)
        for column, filled in enumerate(here.columns):
            top = head_mm if side == 0 else 0.0
            for number in range(filled.start, filled.end):
                top += blocks[number].gap_mm if number > filled.start else 0.0
                height, short = heights[number - at]
                yield Place(side=side, column=column, top_mm=top, height_mm=height, short=short)
                top += height
        at, side = here.columns[-1].end, side + 1


def parted(blocks: Sequence[Block], places: Sequence[Place]) -> Iterator[int]:
    """The blocks that stand in another column than the block that they keep; none where all was composed here."""
    for number, (one, other) in enumerate(pairwise(places)):
        if blocks[number].keeps_next and (one.side, one.column, one.spans) != (other.side, other.column, other.spans):
            yield number
