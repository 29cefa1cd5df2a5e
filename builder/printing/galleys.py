"""Galleys: each block of a card laid out once, on a page of its own, and what its element says of it.

    a document of blocks ─► pages, one a block ─► heights and rules ─► places on sides

What a block may say of itself stands in `builder.pages.sides`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from builder.pages import sides
from builder.pages.sides import Composed, Galley, Laid

__all__ = ["Composed", "Galley", "bookmarks", "composed", "of_blocks"]

MM_PER_PX = 25.4 / 96
_OF_BLOCKS = re.compile(r'<body class="galleys"')


def of_blocks(html: str) -> bool:
    """Whether a document is one of blocks, to be composed."""
    return _OF_BLOCKS.search(html) is not None


def composed(pages: Sequence[Any], style: str) -> Composed:
    """Compose the sides of a document of blocks whose pages are laid out; `style` dresses the bands.

    Raises:
        TooHigh: blocks that keep together are higher than a column.
    """
    body = _body(pages[0]._page_box)
    return sides.composed(body.element.attrib, (_laid(page) for page in pages), style)


def _laid(page: Any) -> Laid:
    """A galley's block as it stands on its page."""
    for box in page._page_box.descendants():
        element = box.element
        if element is not None and "galley" in element.get("class", "").split():
            reach = [box, *box.descendants()]
            low = max(
                one.position_y + (one.border_height() if hasattr(one, "border_height") else one.height)
                for one in reach
                if isinstance(getattr(one, "height", None), (int, float))
            )
            return Laid(says=element.attrib, height_mm=low * MM_PER_PX, page=page)
    raise ValueError("a page without a block: a block is higher than a galley")


def _body(page_box: Any) -> Any:
    return next(box for box in page_box.descendants() if box.element_tag == "body")


def bookmarks(card: Composed) -> Iterator[tuple[str, int]]:
    """The title of each section and the side that it begins on."""
    for galley, place in zip(card.galleys, card.places, strict=True):
        if galley.title:
            yield galley.title, place.side
