"""How a side of a composed card is divided: margins, bands at head and foot, columns; all in millimetres.

A card is read in the hand, on the stand or from farther away; the theme says from where. Type grows with the distance.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, replace
from enum import StrEnum

from builder.composing import Frame, Place
from builder.pages.paper import Paper
from builder.pages.reading_distance import Distances

# A column of 12 pt is at least so wide, some 35 letters; what is read nearer is set smaller and may be narrower.
_LEAST_COLUMN_MM = 78.0
_STAND_PT = 12.0
# How far below the edge the letters of the upper band begin, a little less than `bands.css` of the theme says [mm].
BAND_MM = 4.0
# Papers that are held in the hand, or clamped beside the work.
_IN_HAND = frozenset({Paper.A6, Paper.A5, Paper.HALF_LETTER})


class Holes(StrEnum):
    """The edge that is kept free for holes: the left one of fronts, which is the right one of backs, or the upper."""

    SIDE = "side"
    TOP = "top"


# Two holes or four stand 12 mm from the edge and are 6 mm wide: ISO 838, from memory. The rest is for a punch that is
# set by eye: a house number.
PUNCHED_MM = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """How a card is wanted on its paper.

    Args:
        landscape: the long edge lies across.
        large: for reading from farther away: the same card, as many times larger as it is read from farther.
        holes: the edge that is kept free for them, where there are any.
        one_sided: printed on one face of each leaf, so that every side is a front.
    """

    landscape: bool = False
    large: bool = False
    holes: Holes | None = None
    one_sided: bool = False


UPRIGHT = Shape()


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """The room on a side [mm]. Cards of this kind are laminated, so that no edge is for binding unless it is asked for.

    Args:
        width_mm, height_mm: the side as it is laid out.
        columns: how many stand side by side.
        distance_mm: from where it is read.
        act_pt: the size of what is done, as it is laid out.
        scale: how many times larger it is printed than it is laid out.
        faces: 1 where only fronts are printed, else 2.
        bound_mm: by how much the text stands farther in, for holes at the left of fronts and at the right of backs.
        above_mm: by how much it stands lower, for holes above.
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
    faces: int = 2
    bound_mm: float = 0.0
    above_mm: float = 0.0

    @property
    def text_mm(self) -> float:
        """How wide the text stands, all columns together."""
        return self.width_mm - 2 * self.margin_mm - self.bound_mm

    @property
    def column_mm(self) -> float:
        """How wide a column is."""
        return (self.text_mm - (self.columns - 1) * self.gutter_mm) / self.columns

    @property
    def frame(self) -> Frame:
        """What the composer fills."""
        return Frame(columns=self.columns, height_mm=self.height_mm - self.top_mm - self.foot_mm)

    @property
    def top_mm(self) -> float:
        """How far below the upper edge the columns begin."""
        return self.above_mm + self.head_mm

    def is_back(self, side: int) -> bool:
        """Whether a side, from 0, is the back of its leaf."""
        return side % self.faces == 1

    def edge_mm(self, side: int) -> float:
        """Where the text begins on a side, from 0."""
        return self.margin_mm + (0.0 if self.is_back(side) else self.bound_mm)

    def left_mm(self, place: Place) -> float:
        """Where a block begins: at its column, or at the edge of the text where it runs across all of them."""
        return self.edge_mm(place.side) + (0 if place.spans else place.column) * (self.column_mm + self.gutter_mm)

    @property
    def written(self) -> str:
        """All of it in one line, which `read_leaf` reads back."""
        return " ".join(f"{name}={value:g}" for name, value in asdict(self).items())


def larger(leaf: Leaf, factor: float) -> Leaf:
    """The same paper with all that stands on it larger by a factor, to be read from as much farther.

    The white at the edge and the place for holes stay as they are.
    """
    return replace(
        leaf,
        width_mm=leaf.width_mm / factor,
        height_mm=leaf.height_mm / factor,
        distance_mm=leaf.distance_mm * factor,
        scale=leaf.scale * factor,
        margin_mm=leaf.margin_mm / factor,
        bound_mm=leaf.bound_mm / factor,
        above_mm=(leaf.above_mm + BAND_MM) / factor - BAND_MM if leaf.above_mm else 0.0,
    )


def narrowed(leaf: Leaf, factor: float) -> Leaf:
    """A leaf whose lines have as many letters as those of `leaf` have of letters that are wider by a factor."""
    return replace(leaf, width_mm=leaf.width_mm - leaf.text_mm * (1 - 1 / factor))


def read_leaf(written: str) -> Leaf:
    """The leaf that was written in one line."""
    values = {name: float(value) for name, _, value in (pair.partition("=") for pair in written.split())}
    columns, faces = int(values.pop("columns")), int(values.pop("faces", 2))
    return Leaf(columns=columns, faces=faces, **values)


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
    bound_mm = PUNCHED_MM / scale - margin_mm if shape.holes is Holes.SIDE else 0.0
    text_mm = wide / scale - 2 * margin_mm - bound_mm
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
        faces=1 if shape.one_sided else 2,
        bound_mm=bound_mm,
        above_mm=PUNCHED_MM / scale - BAND_MM if shape.holes is Holes.TOP else 0.0,
    )
