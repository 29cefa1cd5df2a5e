"""What stands on the sides of a document that is laid out and not yet written: the same sheets as a PDF gives back.

Reading a PDF back takes as long as printing it; the boxes of its layout are there anyway. A letter's place within its
run of text is reckoned as if all letters of the run were equally wide. Letters inside drawings are not seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from builder.printing.sheet import Colour, Ground, Letter, Sheet

PT_PER_PX = 0.75
_BOLD_WEIGHT = 600
# How far below its baseline a letter's box reaches, as a share of its size: faces differ, all lines alike.
DESCENT = 0.25
_SIDES = ("top", "right", "bottom", "left")
_WHITE: Colour = (1.0, 1.0, 1.0)


def sheets_of(pages: Iterable[Any]) -> tuple[Sheet, ...]:
    """Every side of a document; `pages` are WeasyPrint's, laid out."""
    return tuple(sheet_of_page(page, number) for number, page in enumerate(pages, 1))


def sheet_of_page(page: Any, number: int, at: dict[int, int] | None = None) -> Sheet:
    """One side; `at` is told how many letters stand before each text whose `id` is in it."""
    width, height = page.width * PT_PER_PX, page.height * PT_PER_PX
    letters: list[Letter] = []
    grounds: list[Ground] = []
    frames: list[Ground] = []
    rules: list[Ground] = []
    for box in boxes_below(page._page_box):
        style = box.style
        if style["visibility"] != "visible":
            continue
        if type(box).__name__ == "TextBox":
            if at is not None and id(box) in at:
                at[id(box)] = len(letters)
            letters.extend(letters_of(box, colour_of(style["color"]) or _WHITE))
            continue
        colour = colour_of(style["background_color"])
        if colour is not None:
            grounds.append(_place(box, colour))
        drawn = [side for side in _SIDES if _has_border(box, side)]
        if len(drawn) == len(_SIDES):
            frames.append(_place(box, colour_of(style["border_top_color"]) or _WHITE))
        else:
            rules.extend(_rule(box, side) for side in drawn if side in ("top", "bottom"))
    return Sheet(
        number=number,
        width_pt=width,
        height_pt=height,
        letters=tuple(letters),
        grounds=tuple(grounds),
        frames=tuple(frames),
        rules=tuple(rules),
    )


def boxes_below(box: Any) -> Iterator[Any]:
    """Every box below `box`, in the order in which it stands in the document."""
    for child in getattr(box, "children", ()):
        yield child
        yield from boxes_below(child)


def letters_of(box: Any, colour: Colour) -> Iterator[Letter]:
    """The letters of a text as it stands on its page."""
    text: str = box.text
    if not text:
        return
    style = box.style
    size = style["font_size"] * PT_PER_PX
    font = f"{style['font_family'][0]}{' Bold' if style['font_weight'] >= _BOLD_WEIGHT else ''}"
    bottom = (box.position_y + box.baseline) * PT_PER_PX + DESCENT * size
    left, step = box.position_x * PT_PER_PX, box.width * PT_PER_PX / len(text)
    top = bottom - size
    for place, character in enumerate(text):
        x0 = left + place * step
        yield Letter(character, size, font, x0, x0 + step, top, bottom, colour)


def colour_of(written: Any) -> Colour | None:
    """A colour of a style; None where nothing is painted."""
    if not hasattr(written, "to") or written.alpha == 0:
        return None
    red, green, blue = written.to("srgb").coordinates
    return (float(red), float(green), float(blue))


def _has_border(box: Any, side: str) -> bool:
    return bool(getattr(box, f"border_{side}_width", 0)) and box.style[f"border_{side}_style"] not in ("none", "hidden")


def _place(box: Any, colour: Colour) -> Ground:
    """The box with its border."""
    left, top = box.border_box_x(), box.border_box_y()
    return Ground(
        x0=left * PT_PER_PX,
        x1=(left + box.border_width()) * PT_PER_PX,
        top=top * PT_PER_PX,
        bottom=(top + box.border_height()) * PT_PER_PX,
        colour=colour,
    )


def _rule(box: Any, side: str) -> Ground:
    whole = _place(box, colour_of(box.style[f"border_{side}_color"]) or _WHITE)
    edge = whole.top if side == "top" else whole.bottom
    return Ground(x0=whole.x0, x1=whole.x1, top=edge, bottom=edge, colour=whole.colour)
