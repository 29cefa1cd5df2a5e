"""How high the letters of a theme's face are, read from the face itself."""

from __future__ import annotations

import re
from io import BytesIO

from builder.pages.theme import Theme, faces_of

_FACE = re.compile(r"@font-face\s*\{([^}]*)\}")
_FAMILY = re.compile(r"font-family:\s*\"?([^\";]+)\"?")
_URL = re.compile(r"url\(\"?([^\")]+)\"?\)")


def face_files(css: str) -> dict[str, list[str]]:
    """The files of each family that text is set in, in the order of `--face`, as a stylesheet brings them."""
    files: dict[str, list[str]] = {family: [] for family in faces_of(css)}
    for face in _FACE.findall(css):
        family, url = _FAMILY.search(face), _URL.search(face)
        if family is not None and url is not None and family[1] in files:
            files[family[1]].append(url[1])
    return {family: found for family, found in files.items() if found}


def letter_heights(theme: Theme) -> tuple[float, float] | None:
    """The x-height and the height of capitals of the first face of a theme's cards, as shares of its size.

    None where the theme brings no face of its own, or the face does not say.
    """
    first = next(iter(face_files(theme.card_css).values()), None)
    data = theme.file(first[0]) if first else None
    if data is None:
        return None
    from fontTools.ttLib import TTFont, TTLibError  # type: ignore[import-untyped]

    try:
        font = TTFont(BytesIO(data), lazy=True)
        per_em, measures = font["head"].unitsPerEm, font["OS/2"]
        return measures.sxHeight / per_em, measures.sCapHeight / per_em
    except (OSError, TTLibError, KeyError, AttributeError):
        return None
