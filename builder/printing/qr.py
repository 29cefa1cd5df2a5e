"""A QR code as a drawing: what a card's page is called, for a telephone to read."""

from __future__ import annotations

from functools import lru_cache

import segno
from markupsafe import Markup

# Four modules of white all round: ISO/IEC 18004, quiet zone. Level M bears some 15 % of dirt.
_QUIET, _LEVEL = 4, "m"


@lru_cache(maxsize=256)
def qr_svg(text: str, title: str) -> Markup:
    """The QR code of `text` as SVG, black on white; `title` is what a screen reader says in its place."""
    size, dark = rectangles(text)
    runs = "".join(f"M{start} {row}h{length}v1h-{length}z" for start, row, length in dark)
    return Markup(
        '<svg class="qr" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" role="img">'
        '<title>{title}</title><rect width="{size}" height="{size}" fill="#ffffff"/>'
        '<path d="{runs}" fill="#000000"/></svg>'
    ).format(size=size, title=title, runs=runs)


@lru_cache(maxsize=256)
def rectangles(text: str) -> tuple[int, tuple[tuple[int, int, int], ...]]:
    """The QR code of `text`: how many modules wide it is with its white, and each run of dark ones as (x, y, width)."""
    rows = segno.make_qr(text, error=_LEVEL).matrix
    return len(rows) + 2 * _QUIET, tuple((start + _QUIET, row + _QUIET, length) for row, start, length in _runs(rows))


def _runs(rows: tuple[bytearray, ...]) -> list[tuple[int, int, int]]:
    """Each run of dark modules: its row, where it begins and how long it is, so that no seam shows between modules."""
    found = []
    for number, row in enumerate(rows):
        start = None
        for place, dark in enumerate([*row, 0]):
            if dark and start is None:
                start = place
            elif not dark and start is not None:
                found.append((number, start, place - start))
                start = None
    return found
