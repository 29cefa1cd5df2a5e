"""Galleys: the blocks of a card, each laid out by itself, and the sides that are composed of them.

a document of blocks, a piece for each ─► heights and rules ─► places on sides
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from builder.composing import Block, End, Place, fills, roomy
from builder.pages.bands import CardName, SideName
from builder.pages.leaf import Leaf, read_leaf
from builder.printing.block_document import BlockDocument
from builder.printing.piece import Piece

MM_PER_PX = 25.4 / 96
# How much wider the white between blocks may be where that costs no side.
_WHITE = (4.2, 3.4, 2.8, 2.4, 2.0, 1.7, 1.4, 1.2)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Galley:
    """A block as it was laid out: its piece, what the composer needs to know of it, and what it is called by."""

    piece: Piece
    block: Block
    title: str
    section: str
    step: str
    last_step: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Composed:
    """A card composed: the blocks that it is made of with the place of each, and the name of each side."""

    galleys: tuple[Galley, ...]
    places: tuple[Place, ...]
    sides: tuple[SideName, ...]
    name: CardName
    leaf: Leaf

    @property
    def fill(self) -> tuple[float, ...]:
        """How full each side is, as a share."""
        return tuple(fill.share for fill in fills(self.places, self.leaf.frame))


def composed(document: BlockDocument, pieces: Sequence[Piece]) -> Composed:
    """Compose the sides of a document of blocks; `pieces` has one for each of its blocks.

    Raises:
        TooHigh: blocks that keep together are higher than a column.
    """
    said = document.said
    leaf = read_leaf(said["leaf"])
    name = CardName(
        bike=said.get("bike", ""),
        title=said.get("title", ""),
        code=said.get("code", ""),
        stamp=said.get("stamp", ""),
        language=document.language,
    )
    whole, short = _paired(document, pieces)
    _, places = roomy([galley.block for galley in whole], leaf.frame, _WHITE)
    used = tuple(
        short[number] if place.short else galley
        for number, (galley, place) in enumerate(zip(whole, places, strict=True))
    )
    return Composed(galleys=used, places=places, sides=_names(used, places), name=name, leaf=leaf)


def _paired(document: BlockDocument, pieces: Sequence[Piece]) -> tuple[list[Galley], dict[int, Galley]]:
    """The galleys in their order, and the shorter forms by the number of the block that they stand for."""
    whole: list[Galley] = []
    short: dict[int, Galley] = {}
    section = ""
    for text, piece in zip(document.blocks, pieces, strict=True):
        section = text.said.get("title") or section
        galley = _galley(text.said, piece, section)
        if "short" not in text.said:
            whole.append(galley)
        else:
            number = len(whole) - 1
            short[number] = galley
            whole[number] = replace(whole[number], block=replace(whole[number].block, short_mm=piece.block_mm))
    return whole, short


def _galley(said: Mapping[str, str], piece: Piece, section: str) -> Galley:
    return Galley(
        piece=piece,
        block=Block(
            height_mm=piece.block_mm,
            gap_mm=float(said.get("gap", "0")),
            keeps_next="keeps" in said,
            spans="spans" in said,
            ends=End(said.get("ends", "nothing")),
            tells=frozenset(said.get("tells", "").split()),
        ),
        title=said.get("title", ""),
        section=section,
        step=said.get("step", ""),
        last_step=said.get("last-step", said.get("step", "")),
    )


def block_heights(pages: Sequence[Any]) -> tuple[float, ...]:
    """How high the block on each page stands [mm]; `pages` are WeasyPrint's, laid out.

    Raises:
        ValueError: a page has no block, since one is higher than a page.
    """
    return tuple(map(_block_height, pages))


def _block_height(page: Any) -> float:
    for box in page._page_box.descendants():
        element = box.element
        if element is not None and "galley" in element.get("class", "").split():
            reach = [box, *box.descendants()]
            low = max(
                one.position_y + (one.border_height() if hasattr(one, "border_height") else one.height)
                for one in reach
                if isinstance(getattr(one, "height", None), (int, float))
            )
            return float(low * MM_PER_PX)
    raise ValueError("a page without a block: a block is higher than a galley")


def _names(galleys: Sequence[Galley], places: Sequence[Place]) -> tuple[SideName, ...]:
    found = []
    for number in range(places[-1].side + 1 if places else 0):
        here = [galley for galley, place in zip(galleys, places, strict=True) if place.side == number]
        steps = [galley for galley in here if galley.step]
        titles = tuple(dict.fromkeys(galley.section for galley in (steps or here) if galley.section))
        first, last = (steps[0].step, steps[-1].last_step) if steps else ("", "")
        found.append(SideName(first=first, last=last, titles=titles))
    return tuple(found)


def bookmarks(card: Composed) -> Iterator[tuple[str, int]]:
    """The title of each section and the side that it begins on."""
    for galley, place in zip(card.galleys, card.places, strict=True):
        if galley.title:
            yield galley.title, place.side
