"""How high the letters of a theme's face are, read from the face itself."""

from __future__ import annotations

import re
from pathlib import Path

_FACE = re.compile(r"@font-face\s*\{[^}]*?url\(\"?([^\")]+)\"?\)")


def letter_heights(folder: Path, css: str) -> tuple[float, float] | None:
    """The x-height and the height of capitals of the first face in `css`, as shares of its size.

    None where the stylesheet brings no face of its own, or the face does not say.
    """
    found = _FACE.search(css)
    if found is None:
        return None
    from fontTools.ttLib import TTFont, TTLibError  # type: ignore[import-untyped]

    try:
        font = TTFont(folder / found[1], lazy=True)
        per_em, measures = font["head"].unitsPerEm, font["OS/2"]
        return measures.sxHeight / per_em, measures.sCapHeight / per_em
    except (OSError, TTLibError, KeyError, AttributeError):
        return None
