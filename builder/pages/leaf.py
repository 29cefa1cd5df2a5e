"""How a side of a composed card is divided: margins, bands at head and foot, columns; all in millimetres.

A card is read in the hand, on the stand or from farther away; the theme says from where. Type grows with the distance.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass

from builder.composing import Frame, Place
from builder.pages.paper import Paper
from builder.pages.reading_distance import Distances

# A column of 12 pt is at least so wide, some 35 letters; what is read nearer is set smaller and may be narrower.
_LEAST_COLUMN_MM = 78.0
_STAND_PT = 12.0
# Papers that are held in the hand, or clamped beside the work.
_IN_HAND = frozenset({Paper.A6, Paper.A5, Paper.HALF_LETTER})


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """How a card is wanted on its paper.

    Args:
        landscape: the long edge lies across.
        large: for reading from farther away: the same card, as many times larger as it is read from farther.
    """

    landscape: bool = False
    large: bool = False


UPRIGHT = Shape()


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """The room on a side [mm]. Cards of this kind are laminated, so that there is no edge for binding.

    Args:
        width_mm, height_mm: the side as it is laid out.
        columns: how many stand side by side.
        distance_mm: from where it is read.
        act_pt: the size of what is done, as it is laid out.
        scale: how many times larger it is printed than it is laid out.
    """

    width_mm: float
    height_mm: float
    columns: int
    distance_mm: float
    act_pt: float = _STAND_PT
    scale: float = 1.0
    margin_mm: float = 8.0
    head_mm: float = 11.6
    foot_mm: float = 9.6
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

    def left_mm(self, place: Place) -> float:
        """Where a block begins: at its column, or at the margin where it runs across all of them."""
        return self.margin_mm + (0 if place.spans else place.column) * (self.column_mm + self.gutter_mm)

    @property
    def written(self) -> str:
        """All of it in one line, which `read_leaf` reads back."""
        return " ".join(f"{name}={value:g}" for name, value in asdict(self).items())


def read_leaf(written: str) -> Leaf:
    """The leaf that was written in one line."""
    values = {name: float(value) for name, _, value in (pair.partition("=") for pair in written.split())}
    columns = int(values.pop("columns"))
    return Leaf(columns=columns, **values)


def leaf_of(paper: Paper, distances: Distances, shape: Shape = UPRIGHT, *, in_hand: bool = False) -> Leaf:
    """How a side of `paper` is divided.

    Args:
        paper: what it is printed on; the small ones are read in the hand.
        distances: from where the theme's cards are read.
        shape: how it lies, and whether it is for reading from farther away.
        in_hand: the card is held in the hand whatever its paper.
    """
    sheet = paper.sheet
    wide, high = (sheet.height_mm, sheet.width_mm) if shape.landscape else (sheet.width_mm, sheet.height_mm)
    held = in_hand or (paper in _IN_HAND and not shape.large)
    near_mm = distances.hand_mm if held else distances.stand_mm
    scale = distances.far_mm / near_mm if shape.large else 1.0
    act_pt = distances.size_pt(near_mm, _STAND_PT)
    # The white at the edge is for a thumb and the cutter, which do not grow with the type.
    margin_mm = (7.0 if held else 8.0) / scale
    text_mm = wide / scale - 2 * margin_mm
    gutter_mm = 4.0
    least_mm = _LEAST_COLUMN_MM * act_pt / _STAND_PT
    return Leaf(
        width_mm=wide / scale,
        height_mm=high / scale,
        columns=max(1, int((text_mm + gutter_mm) / (least_mm + gutter_mm))),
        distance_mm=distances.far_mm if shape.large else near_mm,
        act_pt=act_pt,
        scale=scale,
        margin_mm=margin_mm,
        head_mm=10.0 if held else 11.6,
        foot_mm=9.2 if held else 9.6,
        gutter_mm=gutter_mm,
    )
