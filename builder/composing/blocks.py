"""What is composed, what it is composed on, and what comes out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class End(Enum):
    """What ends with a block; a side ends best where a section does, and next best at a pause."""

    NOTHING = "nothing"
    PAUSE = "pause"
    SECTION = "section"


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Something that is never broken over two columns.

    Args:
        height_mm: how high it stands [mm].
        gap_mm: the white before it [mm]; none at the head of a column.
        keeps_next: it may not be parted from the block after it, as a heading from its first step.
        spans: it runs across all columns; only blocks at the very beginning do.
        ends: what ends with it.
        tells: what it tells, by name, such as the cautions of a step.
        short_mm: how high it stands where all that it tells was told earlier on the same side [mm]; None where it
            has no shorter form.
    """

    height_mm: float
    gap_mm: float = 0.0
    keeps_next: bool = False
    spans: bool = False
    ends: End = End.NOTHING
    tells: frozenset[str] = frozenset()
    short_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The room of a side: so many columns, so high [mm]."""

    columns: int
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a block stands: side and column from 0, how far below the head of the side [mm], and in which form."""

    side: int
    column: int
    top_mm: float
    height_mm: float
    short: bool = False
    spans: bool = False

    @property
    def bottom_mm(self) -> float:
        """Where it ends [mm]."""
        return self.top_mm + self.height_mm


class TooHigh(ValueError):
    """Blocks that may not be parted are higher than a column: the number of the first, and by how much [mm]."""

    def __init__(self, block: int, by_mm: float) -> None:
        super().__init__(f"block {block} and what it keeps is {by_mm:.1f} mm higher than a column")
        self.block, self.by_mm = block, by_mm
