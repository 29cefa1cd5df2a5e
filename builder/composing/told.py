"""How full composed sides are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from builder.composing.blocks import Frame, Place


@dataclass(frozen=True, slots=True)
class Fill:
    """A side, from 0, and the share of its columns that is filled, white between blocks counted."""

    side: int
    share: float


def fills(places: Sequence[Place], frame: Frame) -> tuple[Fill, ...]:
    """How full each side is, in their order."""
    reached: dict[int, dict[int, float]] = {}
    for place in places:
        columns = range(frame.columns) if place.spans else (place.column,)
        for column in columns:
            side = reached.setdefault(place.side, {})
            side[column] = max(side.get(column, 0.0), place.bottom_mm)
    whole = frame.columns * frame.height_mm
    return tuple(Fill(side, sum(columns.values()) / whole) for side, columns in sorted(reached.items()))
