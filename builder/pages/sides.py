"""The blocks of a card as they were laid out, and what each says of itself → its sides, with the place of every block.

    blocks, each with its height ─► places on sides, and what each side is called

A document of blocks says so on its body: `data-leaf`, how a side is divided, and what the bands of each side repeat:
`data-bike`, `data-title`, `data-code`, `data-stamp` and `data-family`. Each block is an element of the class `galley`.
It may say `data-gap` [mm], `data-keeps`, `data-spans`, `data-ends`, `data-tells` (names, parted by spaces),
`data-short` (it is the shorter form of the block before it), `data-title` (a section begins with it), `data-step` (the
label of its first step) and `data-last-step` (that of its last, where it has several). How a block looks depends on its
class and on what is in it, and on no other block.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from builder.composing import Block, End, Frame, Place, fills, roomy
from builder.pages.bands import CardName, SideName
from builder.pages.leaf import Leaf, read_leaf

_LEAF = re.compile(r'<body class="galleys"[^>]*? data-leaf="([^"]*)"')
# How much wider the white between blocks may be where that costs no side.
_WHITE, _MOST_WHITE_MM = (6.0, 5.0, 4.2, 3.4, 2.8, 2.4, 2.0, 1.7, 1.4, 1.2), 5.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Laid:
    """A block as it was laid out: what it says of itself, how high it stands, and the page or number it is kept by."""

    says: Mapping[str, str]
    height_mm: float
    page: Any


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Galley:
    """A block as it was laid out: its page or piece, what the composer must know, and what it is called by."""

    page: Any
    block: Block
    title: str
    section: str
    step: str
    last_step: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Composed:
    """A card composed: the pages that it is made of with the place of each, and the name of each side."""

    galleys: tuple[Galley, ...]
    places: tuple[Place, ...]
    sides: tuple[SideName, ...]
    name: CardName
    leaf: Leaf

    @property
    def fill(self) -> tuple[float, ...]:
        """How full each side is, as a share."""
        return tuple(fill.share for fill in fills(self.places, self.leaf.frame))


def composed(card: Mapping[str, str], blocks: Iterable[Laid]) -> Composed:
    """Compose the sides of a document of blocks; `card` is what its body says.

    Raises:
        TooHigh: blocks that keep together are higher than a column.
    """
    leaf = read_leaf(card.get("data-leaf", ""))
    name = CardName(
        bike=card.get("data-bike", ""),
        title=card.get("data-title", ""),
        code=card.get("data-code", ""),
        stamp=card.get("data-stamp", ""),
        language=card.get("data-language", "en"),
        family=card.get("data-family", ""),
    )
    whole, short = _paired(blocks)
    places = _places(tuple(galley.block for galley in whole), leaf.frame)
    used = tuple(
        short[number] if place.short else galley
        for number, (galley, place) in enumerate(zip(whole, places, strict=True))
    )
    return Composed(galleys=used, places=places, sides=_names(used, places), name=name, leaf=leaf)


@lru_cache(maxsize=32)
def _places(blocks: tuple[Block, ...], frame: Frame) -> tuple[Place, ...]:
    """A place for each block. Remembered, since one guide's cards for like bikes differ in no height."""
    return roomy(blocks, frame, _WHITE, _MOST_WHITE_MM)[1]


def _paired(blocks: Iterable[Laid]) -> tuple[list[Galley], dict[int, Galley]]:
    """The galleys in their order, and the shorter forms by the number of the block that they stand for."""
    whole: list[Galley] = []
    short: dict[int, Galley] = {}
    section = ""
    for laid in blocks:
        said, height = laid.says.get, laid.height_mm
        section = said("data-title", "") or section
        galley = Galley(
            page=laid.page,
            block=Block(
                height_mm=height,
                gap_mm=float(said("data-gap", "0")),
                keeps_next=said("data-keeps") is not None,
                spans=said("data-spans") is not None,
                ends=End(said("data-ends", "nothing")),
                tells=frozenset(said("data-tells", "").split()),
            ),
            title=said("data-title", ""),
            section=section,
            step=said("data-step", ""),
            last_step=said("data-last-step", said("data-step", "")),
        )
        if said("data-short") is None:
            whole.append(galley)
        else:
            number = len(whole) - 1
            short[number] = galley
            whole[number] = replace(whole[number], block=replace(whole[number].block, short_mm=height))
    return whole, short


def _names(galleys: Sequence[Galley], places: Sequence[Place]) -> tuple[SideName, ...]:
    found = []
    for number in range(places[-1].side + 1 if places else 0):
        here = [galley for galley, place in zip(galleys, places, strict=True) if place.side == number]
        steps = [galley for galley in here if galley.step]
        titles = tuple(dict.fromkeys(galley.section for galley in (steps or here) if galley.section))
        first, last = (steps[0].step, steps[-1].last_step) if steps else ("", "")
        found.append(SideName(first=first, last=last, titles=titles))
    return tuple(found)


def headings_alone(card: Composed) -> Iterator[str]:
    """The title of each section whose first step stands in another column, or on another side, than its heading."""
    heads = [(number, galley) for number, galley in enumerate(card.galleys) if galley.title and not galley.step]
    for number, galley in heads:
        after = number + 1
        # A section without steps ends where the next one begins, or with the last block.
        if after == len(card.galleys) or not card.galleys[after].step:
            continue
        here, next_ = card.places[number], card.places[after]
        if (here.side, here.column) != (next_.side, next_.column):
            yield galley.title


def bookmarks(card: Composed) -> Iterator[tuple[str, int]]:
    """The title of each section and the side that it begins on."""
    for galley, place in zip(card.galleys, card.places, strict=True):
        if galley.title:
            yield galley.title, place.side


def leaf_in(html: str) -> Leaf | None:
    """How a side of this card is divided; None where it is not a document of blocks."""
    found = _LEAF.search(html)
    return None if found is None else read_leaf(found[1])
