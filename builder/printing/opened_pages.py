"""The open places of a page that is laid out: where each stand-in stands, and how its words are to look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from builder.printing.laid_out import DESCENT, PT_PER_PX, boxes_below, colour_of, sheet_of_page
from builder.printing.open_places import ATTRIBUTE, SHAPING, STAND_IN, Slot
from builder.printing.sheet import Letter, Sheet, written_on

# Words stay so far from what stands to the right of them [px]: 0.5 mm.
_APART_PX = 1.9


@dataclass(frozen=True, slots=True)
class OpenSheet:
    """What stands on a page, without and with its stand-ins; these, and what is known of their places."""

    sheet: Sheet
    judged: Sheet
    stand_ins: tuple[Any, ...]
    slots: tuple[Slot, ...]


def read_slots(page: Any) -> OpenSheet:
    """Read a page of WeasyPrint's before it is painted."""
    found = dict(sorted(_stand_ins(page)))
    stand_ins = tuple(box for box, _ in found.values())
    at = {id(box): 0 for box in stand_ins}
    judged = sheet_of_page(page, 1, at)
    if not found:
        return OpenSheet(judged, judged, (), ())
    gone = sorted(at[id(box)] for box in stand_ins if type(box).__name__ == "TextBox")
    kept = tuple(letter for number, letter in enumerate(judged.letters) if number not in gone)
    sheet = replace(judged, letters=kept)
    floats = [box for box in boxes_below(page._page_box) if box.style["float"] == "right"]
    slots = []
    for box, block in found.values():
        before = at[id(box)] - sum(1 for one in gone if one < at[id(box)])
        slots.append(_slot(box, block, before, sheet, floats))
    return OpenSheet(sheet, judged, stand_ins, tuple(slots))


def hide(stand_ins: Sequence[Any]) -> None:
    """Let stand-ins be painted without ink: what is marked there stays marked."""
    for box in stand_ins:
        box.style = box.style.copy()
        box.style["visibility"] = "hidden"


def _stand_ins(page: Any) -> Iterator[tuple[int, tuple[Any, Any]]]:
    """The box of each stand-in by the number of its slot, with the block that it stands in."""

    from weasyprint.formatting_structure.boxes import BlockContainerBox

    def below(box: Any, block: Any) -> Iterator[tuple[int, tuple[Any, Any]]]:
        for child in getattr(box, "children", ()):
            real = getattr(child, "_box", child)  # what is out of the flow has a placeholder in it
            kind = type(real).__name__
            element = child.element
            number = None if element is None else element.get(ATTRIBUTE)
            if number is not None and ("Replaced" in kind or (kind == "TextBox" and child.text == STAND_IN)):
                yield int(number), (real, block)
            yield from below(child, real if isinstance(real, BlockContainerBox) else block)

    return below(page._page_box, page._page_box)


def _slot(box: Any, block: Any, at: int, sheet: Sheet, floats: Sequence[Any]) -> Slot:
    style = box.style
    if type(box).__name__ != "TextBox":
        return Slot(
            left_px=box.content_box_x(),
            baseline_px=box.content_box_y(),
            width_px=box.width,
            limit_px=box.content_box_x() + box.width,
            from_right=False,
            style=(),
            colour=(0.0, 0.0, 0.0),
            at=at,
            written_at=0,
        )
    baseline = box.position_y + box.baseline
    from_right = block.style["position"] == "absolute" and block.style["left"] == "auto"
    return Slot(
        left_px=box.position_x,
        baseline_px=baseline,
        width_px=box.width,
        limit_px=0.0 if from_right else _limit_px(box, block, baseline, sheet, floats),
        from_right=from_right,
        style=tuple((name, style[name]) for name in SHAPING),
        colour=colour_of(style["color"]) or (0.0, 0.0, 0.0),
        at=at,
        written_at=len(written_on(replace(sheet, letters=sheet.letters[:at]))),
    )


def _limit_px(box: Any, block: Any, baseline_px: float, sheet: Sheet, floats: Sequence[Any]) -> float:
    """How far a line that begins with a stand-in may reach: to the end of its block, or to what stands there."""
    if block.style["position"] == "absolute" and block.element is box.element:
        ends = [sheet.width_pt / PT_PER_PX]  # its block is as wide as its words
    else:
        ends = [block.content_box_x() + block.width]
    ends += [
        one.position_x
        for one in floats
        if one.position_x >= box.position_x and one.position_y <= baseline_px <= one.position_y + one.margin_height()
    ]
    ends += [letter.x0 / PT_PER_PX - _APART_PX for letter in _after(box, baseline_px, sheet.ink)]
    return float(min(ends))


def _after(box: Any, baseline_px: float, ink: Sequence[Letter]) -> Iterator[Letter]:
    """What stands on the line of a stand-in, at the right of it."""
    near = box.style["font_size"] / 2
    for letter in ink:
        baseline = (letter.bottom - DESCENT * letter.size_pt) / PT_PER_PX
        if letter.x0 / PT_PER_PX > box.position_x and abs(baseline - baseline_px) < near:
            yield letter
