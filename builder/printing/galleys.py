"""How high each block stands that was laid out as a galley, on a page of its own."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

MM_PER_PX = 25.4 / 96


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
