"""What the rules of print need to know of a block wherever it stands: read once, when the block is laid out."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain

from builder.printing.legibility import coloured, contrasts, label_gaps, smallest_letters, tick_boxes
from builder.printing.sheet import Colour, Sheet, written_on


@dataclass(frozen=True, slots=True)
class BlockFacts:
    """Facts of a block, in points from the upper left corner of its page.

    Args:
        digest: of all that stands in it, letter by letter.
        written: its letters and figures in one piece.
        left_pt, top_pt, right_pt, bottom_pt: how far its letters reach.
        colours: those besides black, greys and the safety colours.
        is_sound: its letters are large enough and stand out, its boxes can be ticked, its labels are near their values.
    """

    digest: bytes
    written: str
    left_pt: float
    top_pt: float
    right_pt: float
    bottom_pt: float
    colours: tuple[Colour, ...]
    is_sound: bool


def facts_of(sheet: Sheet, digest: bytes, *, is_side: bool = False) -> BlockFacts:
    """The facts of a block that stands on a sheet of its own, or of the bands of a whole side."""
    ink, one = sheet.ink, (sheet,)
    rules = (smallest_letters(one), contrasts(one), tick_boxes(one), label_gaps(one))
    return BlockFacts(
        digest=digest,
        written=written_on(sheet),
        left_pt=min((letter.x0 for letter in ink), default=0.0),
        top_pt=min((letter.top for letter in ink), default=0.0),
        right_pt=max((letter.x1 for letter in ink), default=0.0),
        bottom_pt=max((letter.bottom for letter in ink), default=0.0),
        colours=coloured(sheet, is_side=is_side),
        is_sound=next(chain.from_iterable(rules), None) is None,
    )
