"""What stands on the sides of a composed card before it is written: its blocks and bands, each moved to its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from builder.pages.sides import Composed
from builder.printing.pdf_text import PT_PER_MM
from builder.printing.sheet import Ground, Sheet


def sheets_of_card(card: Composed, bands: Sequence[Sheet]) -> tuple[tuple[Sheet, ...], tuple[Sheet, ...]]:
    """Every side whole, and every block by itself with the number of its side; `bands` are those of each side."""
    parts = tuple(
        _moved(
            galley.page.sheet,
            place.side + 1,
            card.leaf.left_mm(place),
            place.top_mm + card.leaf.top_mm,
        )
        for galley, place in zip(card.galleys, card.places, strict=True)
    )
    sides = []
    for number, band in enumerate(bands, 1):
        here = [band, *(part for part in parts if part.number == number)]
        sides.append(
            replace(
                band,
                number=number,
                letters=tuple(letter for one in here for letter in one.letters),
                grounds=tuple(ground for one in here for ground in one.grounds),
                frames=tuple(frame for one in here for frame in one.frames),
                rules=tuple(rule for one in here for rule in one.rules),
            )
        )
    scale = card.leaf.scale
    return tuple(_larger(side, scale) for side in sides), tuple(_larger(part, scale) for part in parts)


def _larger(sheet: Sheet, scale: float) -> Sheet:
    """A side or a block, so many times larger."""
    if scale == 1.0:
        return sheet

    def grown(one: Ground) -> Ground:
        return replace(one, x0=one.x0 * scale, x1=one.x1 * scale, top=one.top * scale, bottom=one.bottom * scale)

    return replace(
        sheet,
        width_pt=sheet.width_pt * scale,
        height_pt=sheet.height_pt * scale,
        letters=tuple(
            letter._replace(
                size_pt=letter.size_pt * scale,
                x0=letter.x0 * scale,
                x1=letter.x1 * scale,
                top=letter.top * scale,
                bottom=letter.bottom * scale,
            )
            for letter in sheet.letters
        ),
        grounds=tuple(map(grown, sheet.grounds)),
        frames=tuple(map(grown, sheet.frames)),
        rules=tuple(map(grown, sheet.rules)),
    )


def _moved(sheet: Sheet, side: int, left_mm: float, top_mm: float) -> Sheet:
    x, y = left_mm * PT_PER_MM, top_mm * PT_PER_MM
    return replace(
        sheet,
        number=side,
        letters=tuple(
            letter._replace(x0=letter.x0 + x, x1=letter.x1 + x, top=letter.top + y, bottom=letter.bottom + y)
            for letter in sheet.letters
        ),
        grounds=tuple(_shifted(one, x, y) for one in sheet.grounds),
        frames=tuple(_shifted(one, x, y) for one in sheet.frames),
        rules=tuple(_shifted(one, x, y) for one in sheet.rules),
    )


def _shifted(one: Ground, x: float, y: float) -> Ground:
    return replace(one, x0=one.x0 + x, x1=one.x1 + x, top=one.top + y, bottom=one.bottom + y)
