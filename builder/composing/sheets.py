"""Put the sides of cards on larger sheets, so that each front meets its back when the sheet is cut."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

# Cards may fill a sheet to its edge; what is less is rounding of inches [mm].
_SLACK_MM = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """How many cards stand on a sheet, side by side and below each other; `turned` says that the sheet lies across."""

    columns: int
    rows: int
    turned: bool

    @property
    def cards(self) -> int:
        """How many stand on one side of a sheet."""
        return self.columns * self.rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """Where a side of a card stands: the side of a sheet from 0, fronts being even where both are printed."""

    card: int
    page: int
    sheet_side: int
    column: int
    row: int


def grid_of(card_mm: tuple[float, float], sheet_mm: tuple[float, float]) -> Grid:
    """The most cards of a width and height that a sheet holds, upright or across; no card is turned on it."""
    width, height = card_mm
    found = []
    for turned in (False, True):
        wide, high = sheet_mm[::-1] if turned else sheet_mm
        columns, rows = int((wide + _SLACK_MM) // width), int((high + _SLACK_MM) // height)
        found.append(Grid(columns=columns, rows=rows, turned=turned))
    return max(found, key=lambda grid: grid.cards)


def cells(pages: Iterable[int], grid: Grid, *, double: bool) -> tuple[Cell, ...]:
    """A place for each page of each card; `pages` says how many each has.

    Printed on both sides, page 2 of a leaf stands where page 1 is when the sheet is turned over its upright edge: in
    the same row, the columns counted from the other end. A new card begins on a new leaf.
    """
    found: list[Cell] = []
    leaf = 0
    each = 2 if double else 1
    for card, count in enumerate(pages):
        for first in range(0, count, each):
            sheet, place = divmod(leaf, grid.cards)
            row, column = divmod(place, grid.columns)
            found.append(Cell(card=card, page=first, sheet_side=sheet * each, column=column, row=row))
            if double and first + 1 < count:
                back = grid.columns - 1 - column
                found.append(Cell(card=card, page=first + 1, sheet_side=sheet * 2 + 1, column=back, row=row))
            leaf += 1
    return tuple(found)
