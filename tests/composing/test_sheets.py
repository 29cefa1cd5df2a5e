"""Cards on larger sheets: none is lost, no two share a place, and each front meets its back."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.composing.sheets import Grid, cells, grid_of

GRIDS = st.builds(Grid, columns=st.integers(1, 4), rows=st.integers(1, 4), turned=st.booleans())
SETS = st.lists(st.integers(1, 15), max_size=5)


@given(SETS, GRIDS, st.booleans())
def test_every_page_has_one_place_of_its_own(pages: list[int], grid: Grid, double: bool) -> None:
    found = cells(pages, grid, double=double)
    assert sorted((cell.card, cell.page) for cell in found) == [
        (card, page) for card, count in enumerate(pages) for page in range(count)
    ]
    places = [(cell.sheet_side, cell.column, cell.row) for cell in found]
    assert len(places) == len(set(places))
    assert all(0 <= cell.column < grid.columns and 0 <= cell.row < grid.rows for cell in found)


@given(SETS, GRIDS)
def test_each_front_meets_its_back_when_the_sheet_is_turned(pages: list[int], grid: Grid) -> None:
    found = {(cell.card, cell.page): cell for cell in cells(pages, grid, double=True)}
    for (card, page), cell in found.items():
        back = found.get((card, page + 1))
        if page % 2 == 0 and back is not None:
            assert cell.sheet_side % 2 == 0
            assert back.sheet_side == cell.sheet_side + 1
            assert (back.column, back.row) == (grid.columns - 1 - cell.column, cell.row)


# ISO 216: each A size is half of the one before; two A5 stand on an A4 that lies across.
@pytest.mark.parametrize(
    ("card", "sheet", "columns", "rows", "turned"),
    [
        ((148.0, 210.0), (210.0, 297.0), 2, 1, True),
        ((105.0, 148.0), (210.0, 297.0), 2, 2, False),
        ((139.7, 215.9), (215.9, 279.4), 2, 1, True),
        ((210.0, 297.0), (297.0, 420.0), 2, 1, True),
        ((210.0, 297.0), (148.0, 210.0), 0, 0, False),
    ],
)
def test_a_sheet_holds_as_many_cards_as_it_can(
    card: tuple[float, float], sheet: tuple[float, float], columns: int, rows: int, turned: bool
) -> None:
    grid = grid_of(card, sheet)
    assert grid.cards == columns * rows
    if grid.cards:
        assert (grid.columns, grid.rows, grid.turned) == (columns, rows, turned)
