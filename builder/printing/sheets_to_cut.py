"""Several cards on one sheet, with marks where it is cut: a file for the printer, without tags."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from builder.composing.sheets import Cell, Grid, cells, grid_of
from builder.pages.paper import Paper
from builder.printing.pdf_text import PT_PER_MM

# A mark is so long, and reaches so far into a card where the cards fill the sheet: less than its margin [mm].
_MARK_MM, _THIN_PT = 3.0, 0.4
# Corners are cut round by so much, less than the margin of a card [mm]. A quarter of a circle as a curve: how far its
# handles reach, as a share of the radius.
ROUND_MM, _HANDLE = 5.0, 0.5523


class NoRoom(ValueError):
    """The sheet is smaller than a card; the message names both."""


def no_room(card: Paper, sheet: Paper) -> str:
    """Why a sheet can't hold a card; '' where it can."""
    return "" if _grid(card, sheet).cards else f"{sheet.label} is too small for cards of {card.label}"


def _grid(card: Paper, sheet: Paper) -> Grid:
    return grid_of((card.sheet.width_mm, card.sheet.height_mm), (sheet.sheet.width_mm, sheet.sheet.height_mm))


def sheets_to_cut(cards: Sequence[bytes], card: Paper, sheet: Paper, *, double: bool, rounded: bool = False) -> bytes:
    """The PDFs of `cards`, all of one paper, on sheets of another; `rounded` marks where their corners are cut round.

    Raises:
        NoRoom: the sheet can't hold a card.
    """
    import pikepdf

    if why := no_room(card, sheet):
        raise NoRoom(why)
    grid = _grid(card, sheet)
    wide, high = sheet.sheet.width_mm, sheet.sheet.height_mm
    if grid.turned:
        wide, high = high, wide
    sources = [pikepdf.open(io.BytesIO(data)) for data in cards]
    found = cells([len(source.pages) for source in sources], grid, double=double)
    with pikepdf.new() as pdf:
        count = max((cell.sheet_side for cell in found), default=-1) + 1
        for side in range(count):
            here = [cell for cell in found if cell.sheet_side == side]
            _add(pdf, sources, here, grid, card, (wide, high), rounded=rounded)
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
        return out.getvalue()


def _add(
    pdf: Any,
    sources: Sequence[Any],
    here: Sequence[Cell],
    grid: Grid,
    card: Paper,
    sheet_mm: tuple[float, float],
    *,
    rounded: bool,
) -> None:
    import pikepdf

    page = pdf.add_blank_page(page_size=(sheet_mm[0] * PT_PER_MM, sheet_mm[1] * PT_PER_MM))
    left = (sheet_mm[0] - grid.columns * card.sheet.width_mm) / 2
    foot = (sheet_mm[1] - grid.rows * card.sheet.height_mm) / 2
    forms, parts = pikepdf.Dictionary(), []
    for number, cell in enumerate(here):
        form = pdf.copy_foreign(sources[cell.card].pages[cell.page].as_form_xobject())
        if "/StructParents" in form:
            del form["/StructParents"]
        forms[f"/C{number}"] = form
        x = (left + cell.column * card.sheet.width_mm) * PT_PER_MM
        y = (foot + (grid.rows - 1 - cell.row) * card.sheet.height_mm) * PT_PER_MM
        parts.append(f"q 1 0 0 1 {x:.3f} {y:.3f} cm /C{number} Do Q")
        parts += [_corners(x, y, card)] if rounded else []
    parts.append(_marks(grid, card, (left, foot), sheet_mm))
    page.obj.Resources = pikepdf.Dictionary(XObject=forms)
    page.obj.Contents = pdf.make_stream("\n".join(parts).encode())


def _corners(x_pt: float, y_pt: float, card: Paper) -> str:
    """A quarter of a circle in each corner of the card whose lower left corner stands at a point."""
    wide, high = card.sheet.width_mm * PT_PER_MM, card.sheet.height_mm * PT_PER_MM
    radius = ROUND_MM * PT_PER_MM
    near = radius * (1 - _HANDLE)
    lines = [f"q {_THIN_PT} w 0 G"]
    for x, inwards in ((x_pt, 1), (x_pt + wide, -1)):
        for y, upwards in ((y_pt, 1), (y_pt + high, -1)):
            lines.append(
                f"{x:.3f} {y + upwards * radius:.3f} m {x:.3f} {y + upwards * near:.3f} "
                f"{x + inwards * near:.3f} {y:.3f} {x + inwards * radius:.3f} {y:.3f} c S"
            )
    return "\n".join((*lines, "Q"))


def _marks(grid: Grid, card: Paper, corner_mm: tuple[float, float], sheet_mm: tuple[float, float]) -> str:
    """Short lines at both ends of every cut, in the white round the cards or at the edge of the sheet."""
    left, foot = corner_mm
    width, height = grid.columns * card.sheet.width_mm, grid.rows * card.sheet.height_mm
    lines = [f"q {_THIN_PT} w 0 G"]

    def line(x0: float, y0: float, x1: float, y1: float) -> None:
        place = (value * PT_PER_MM for value in (x0, y0, x1, y1))
        lines.append("{:.3f} {:.3f} m {:.3f} {:.3f} l S".format(*place))

    for column in range(grid.columns + 1):
        x = left + column * card.sheet.width_mm
        if 0 < x < sheet_mm[0]:
            line(x, max(foot - _MARK_MM, 0.0), x, max(foot, _MARK_MM))
            line(x, min(foot + height + _MARK_MM, sheet_mm[1]), x, min(foot + height, sheet_mm[1] - _MARK_MM))
    for row in range(grid.rows + 1):
        y = foot + row * card.sheet.height_mm
        if 0 < y < sheet_mm[1]:
            line(max(left - _MARK_MM, 0.0), y, max(left, _MARK_MM), y)
            line(min(left + width + _MARK_MM, sheet_mm[0]), y, min(left + width, sheet_mm[0] - _MARK_MM), y)
    return "\n".join((*lines, "Q"))
