"""A piece: a block, or the bands of a side, laid out and written once, ready to be put on any side of any card.

What it is in a PDF is kept as text with open places, so that putting it on a side is filling in numbers.
"""

from __future__ import annotations

import marshal
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum
from typing import Any

from builder.printing.block_facts import BlockFacts, Fill, with_fills
from builder.printing.open_places import Slot
from builder.printing.overflow import Overflow
from builder.printing.pdf_text import packed_stream
from builder.printing.sheet import Colour, Ground, Letter, Sheet

# A box on the page of the piece [pt]: left, bottom, right, top.
Box = tuple[float, float, float, float]
# A stretch of the text of an object, or the number of one of the piece's own objects, or an open place, or a box that
# moves with the piece.
Part = bytes | int | Box


class Open(IntEnum):
    """An open place in the text of an object: what stands there is known when the piece is put on a side."""

    SIDE = -1  # the page
    DOCUMENT = -2  # the root of what is read aloud
    KEY = -3  # the number of the piece among those of the card
    FACES = -4  # the typefaces of the card
    ALTERNATIVE = -5  # what the code of a page stands for


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A block as it was laid out.

    Args:
        width_pt, height_pt: how large its page was [pt]; the block stands at the head of it.
        block_mm: how high the block itself is [mm].
        kept_sheet: what stands on it, packed, since it is seldom read.
        facts: what the rules of print need to know of it wherever it stands.
        overflows: what sticks out of it.
        objects: its objects, the form first; see `Part`.
        elements: which of the objects are elements of structure right below the document.
        marked: the element of each marked content, by its number; None where it has none.
        letters: for each typeface the glyphs in use and the text that each stands for.
        lost: the letters that no face has.
        slots: the places that are open for words of a card; they are filled before it is put on a side.
        fills: the words that were set there.
    """

    width_pt: float
    height_pt: float
    block_mm: float
    kept_sheet: bytes
    facts: BlockFacts
    overflows: tuple[Overflow, ...]
    objects: tuple[tuple[Part, ...], ...]
    elements: tuple[int, ...]
    marked: tuple[int | None, ...]
    letters: Mapping[str, Mapping[int, str]]
    lost: tuple[str, ...] = ()
    slots: tuple[Slot, ...] = ()
    fills: tuple[Fill, ...] = ()

    @property
    def sheet(self) -> Sheet:
        """What stands on it, letter by letter, for the rules of print."""
        return with_fills(_unpacked_sheet(self.kept_sheet), self.fills)


def blank_side(like: Piece) -> Piece:
    """A side as large as another, on which nothing stands."""
    form = b"<</Type/XObject/Subtype/Form/BBox[0 0 %.3f %.3f]/Resources<<>>" % (like.width_pt, like.height_pt)
    return Piece(
        width_pt=like.width_pt,
        height_pt=like.height_pt,
        block_mm=like.block_mm,
        kept_sheet=packed_sheet(Sheet(number=1, width_pt=like.width_pt, height_pt=like.height_pt, letters=())),
        facts=BlockFacts(b"", "", 0.0, 0.0, 0.0, 0.0, (), is_sound=True),
        overflows=(),
        objects=((form + packed_stream(b""),),),
        elements=(),
        marked=(),
        letters={},
    )


def packed(piece: Piece) -> bytes:
    """The piece as bytes."""
    facts = piece.facts
    record: Any = (
        piece.width_pt,
        piece.height_pt,
        piece.block_mm,
        piece.kept_sheet,
        [getattr(facts, name) for name in BlockFacts.__slots__],
        [(one.edge, one.by_mm, one.words) for one in piece.overflows],
        [[int(part) if isinstance(part, int) else part for part in one] for one in piece.objects],
        piece.elements,
        piece.marked,
        {face: dict(used) for face, used in piece.letters.items()},
        piece.lost,
        [[getattr(slot, name) for name in Slot.__slots__] for slot in piece.slots],
    )
    return marshal.dumps(record)


def unpacked(data: bytes) -> Piece:
    """The piece that `packed` gave these bytes for; they are to come from a store that is sealed."""
    width, height, block, sheet, facts, over, objects, elements, marked, faces, lost, slots = marshal.loads(data)
    return Piece(
        width_pt=width,
        height_pt=height,
        block_mm=block,
        kept_sheet=sheet,
        facts=BlockFacts(*facts),
        overflows=tuple(Overflow(side=1, edge=edge, by_mm=by, words=words) for edge, by, words in over),
        objects=tuple(map(tuple, objects)),
        elements=elements,
        marked=marked,
        letters=faces,
        lost=lost,
        slots=tuple(Slot(**dict(zip(Slot.__slots__, one, strict=True))) for one in slots),
    )


def packed_sheet(sheet: Sheet) -> bytes:
    """What stands on the page of a piece, as bytes."""
    record: Any = (
        sheet.width_pt,
        sheet.height_pt,
        [tuple(one) for one in sheet.letters],
        *([_ground(one) for one in ones] for ones in (sheet.grounds, sheet.frames, sheet.rules)),
    )
    return zlib.compress(marshal.dumps(record), 1)


def _unpacked_sheet(data: bytes) -> Sheet:
    wide, high, letters, grounds, frames, rules = marshal.loads(zlib.decompress(data))
    return Sheet(
        number=1,
        width_pt=wide,
        height_pt=high,
        letters=tuple(Letter(*one) for one in letters),
        grounds=tuple(map(_as_ground, grounds)),
        frames=tuple(map(_as_ground, frames)),
        rules=tuple(map(_as_ground, rules)),
    )


def _ground(one: Ground) -> tuple[object, ...]:
    return (one.x0, one.x1, one.top, one.bottom, one.colour)


def _as_ground(kept: tuple[float, float, float, float, Colour]) -> Ground:
    x0, x1, top, bottom, colour = kept
    return Ground(x0=x0, x1=x1, top=top, bottom=bottom, colour=colour)
