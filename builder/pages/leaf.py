"""How a side of a composed card is divided: margins, bands at head and foot, columns; all in millimetres."""

from __future__ import annotations

from dataclasses import dataclass

from builder.composing import Frame
from builder.pages.paper import Paper


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """The room on a side [mm]. Cards of this kind are laminated, so that there is no edge for binding."""

    width_mm: float
    height_mm: float
    columns: int
    margin_mm: float = 10.0
    head_mm: float = 12.5
    foot_mm: float = 9.5
    gutter_mm: float = 4.0

    @property
    def text_mm(self) -> float:
        """How wide the text stands, all columns together."""
        return self.width_mm - 2 * self.margin_mm

    @property
    def column_mm(self) -> float:
        """How wide a column is."""
        return (self.text_mm - (self.columns - 1) * self.gutter_mm) / self.columns

    @property
    def frame(self) -> Frame:
        """What the composer fills."""
        return Frame(columns=self.columns, height_mm=self.height_mm - self.head_mm - self.foot_mm)

    def left_mm(self, column: int) -> float:
        """Where a column begins."""
        return self.margin_mm + column * (self.column_mm + self.gutter_mm)


# A column is 80 to 130 mm wide: 35 to 65 letters of 12 pt.
_COLUMNS = {Paper.A4: 2, Paper.LETTER: 2, Paper.A3: 3, Paper.TABLOID: 3}


def leaf_of(paper: Paper) -> Leaf:
    """How a side of `paper` is divided."""
    sheet = paper.sheet
    return Leaf(width_mm=sheet.width_mm, height_mm=sheet.height_mm, columns=_COLUMNS.get(paper, 1))
