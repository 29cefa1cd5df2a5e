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
    rows = segno.make_qr(text, error=_LEVEL).matrix
    size = len(rows) + 2 * _QUIET
    runs = "".join(f"M{start + _QUIET} {row + _QUIET}h{length}v1h-{length}z" for row, start, length in _runs(rows))
    return Markup(
        '<svg class="qr" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}" role="img">'
        '<title>{title}</title><rect width="{size}" height="{size}" fill="#ffffff"/>'
        '<path d="{runs}" fill="#000000"/></svg>'
    ).format(size=size, title=title, runs=runs)


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
