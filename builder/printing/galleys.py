"""Galleys: each block of a card laid out once, on a page of its own, and what its element says of it.

    a document of blocks ─► pages, one a block ─► heights and rules ─► places on sides

A document of blocks says so on its body: `data-leaf` tells how a side is divided, and `data-bike`, `data-title`,
`data-code` and `data-stamp` are what the bands of each side repeat. Each block is an element of the class `galley`. It
may say `data-gap` [mm], `data-keeps`, `data-spans`, `data-ends`, `data-tells` (names, parted by spaces), `data-short`
(it is the shorter form of the block before it), `data-title` (a section begins with it), `data-step` (the label of its
first step) and `data-last-step` (that of its last, where it has several).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from builder.composing import Block, End, Place, fills, roomy
from builder.pages.bands import CardName, SideName
from builder.pages.leaf import Leaf, read_leaf

MM_PER_PX = 25.4 / 96
# How much wider the white between blocks may be where that costs no side.
_WHITE = (4.2, 3.4, 2.8, 2.4, 2.0, 1.7, 1.4, 1.2)
_OF_BLOCKS = re.compile(r'<body class="galleys"')


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Galley:
    """A block as it was laid out: its page, what the composer needs to know of it, and what it is called by."""

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


def of_blocks(html: str) -> bool:
    """Whether a document is one of blocks, to be composed."""
    return _OF_BLOCKS.search(html) is not None


def composed(pages: Sequence[Any], style: str) -> Composed:
    """Compose the sides of a document of blocks whose pages are laid out; `style` dresses the bands.

    Raises:
        TooHigh: blocks that keep together are higher than a column.
    """
    body = _body(pages[0]._page_box)
    said = body.element.get
    leaf = read_leaf(said("data-leaf"))
    name = CardName(
        bike=said("data-bike", ""),
        title=said("data-title", ""),
        code=said("data-code", ""),
        stamp=said("data-stamp", ""),
        language=said("data-language", "en"),
        style=style,
    )
    whole, short = _paired(pages)
    _, places = roomy([galley.block for galley in whole], leaf.frame, _WHITE)
    used = tuple(
        short[number] if place.short else galley
        for number, (galley, place) in enumerate(zip(whole, places, strict=True))
    )
    return Composed(galleys=used, places=places, sides=_names(used, places), name=name, leaf=leaf)


def _paired(pages: Iterable[Any]) -> tuple[list[Galley], dict[int, Galley]]:
    """The galleys in their order, and the shorter forms by the number of the block that they stand for."""
    whole: list[Galley] = []
    short: dict[int, Galley] = {}
    section = ""
    for page in pages:
        element, height = _measured(page)
        said = element.get
        section = said("data-title") or section
        galley = Galley(
            page=page,
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


def _measured(page: Any) -> tuple[Any, float]:
    """The element of a galley's block, and how high it stands [mm]."""
    for box in page._page_box.descendants():
        element = box.element
        if element is not None and "galley" in element.get("class", "").split():
            reach = [box, *box.descendants()]
            low = max(
                one.position_y + (one.border_height() if hasattr(one, "border_height") else one.height)
                for one in reach
                if isinstance(getattr(one, "height", None), (int, float))
            )
            return element, low * MM_PER_PX
    raise ValueError("a page without a block: a block is higher than a galley")


def _body(page_box: Any) -> Any:
    return next(box for box in page_box.descendants() if box.element_tag == "body")


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
