"""Find what does not fit: boxes that stick out of the side that they stand on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

_MM_PER_PX = 25.4 / 96
# Rounding in layout; less than a hair line.
_SLACK_PX = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Overflow:
    """Something that sticks out of a side: how far [mm], over which edge, and its first words."""

    side: int
    edge: str
    by_mm: float
    words: str

    def __str__(self) -> str:
        return f"side {self.side}: '{self.words}' sticks out {self.by_mm:.1f} mm over the {self.edge} edge of the text"


def overflows(pages: Iterable[Any]) -> tuple[Overflow, ...]:
    """Every line of text and every picture beyond the text area of its page; `pages` are WeasyPrint's, laid out."""
    found: list[Overflow] = []
    for number, page in enumerate(pages, 1):
        box = page._page_box
        left, top = box.content_box_x(), box.content_box_y()
        right, bottom = left + box.width, top + box.height
        for item in _leaves(box):
            beyond = {
                "left": left - item.position_x,
                "right": item.position_x + item.width - right,
                "top": top - item.position_y,
                "bottom": item.position_y + item.height - bottom,
            }
            edge = max(beyond, key=lambda name: beyond[name])
            if beyond[edge] > _SLACK_PX:
                words = getattr(item, "text", "") or item.element_tag or "picture"
                found.append(Overflow(side=number, edge=edge, by_mm=beyond[edge] * _MM_PER_PX, words=words[:40]))
    return tuple(found)


def _leaves(box: Any) -> Iterator[Any]:
    """Text and pictures below `box`, without the bands in the margins of a page and what is not shown."""
    for child in getattr(box, "children", ()):
        kind = type(child).__name__
        if kind == "MarginBox" or child.style["overflow"] == "hidden":
            continue
        if kind == "TextBox" or "Replaced" in kind:
            yield child
        else:
            yield from _leaves(child)
