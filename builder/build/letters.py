"""Letters that a theme's faces lack: another face of the system stands in for them; see `builder.printing.lost`."""

from __future__ import annotations

import html as markup
import re
import unicodedata
from functools import cache
from io import BytesIO

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.position import Position
from builder.pages.theme import Theme
from builder.printing.faces import face_files
from builder.printing.lost import RULE
from builder.printing.repairs import REPAIRS

_REFERENCE = re.compile(r"&#?\w+;")
# What is never drawn: controls, joiners and other signs of layout, and spaces.
_UNDRAWN = frozenset({"Cc", "Cf", "Zs", "Zl", "Zp"})
_SHOWN = 12


def lacking(html: str, theme: Theme) -> str:
    """The letters of `html` that no face of the theme has, each once and in order; '' where there are none."""
    files = face_files(theme.card_css)
    covered = _covered(tuple(tuple(theme.file(name) or b"" for name in names) for names in files.values()))
    if covered is None:
        return ""
    letters = set(html) | set("".join(map(markup.unescape, set(_REFERENCE.findall(html)))))
    return "".join(sorted(one for one in letters if ord(one) not in covered and _is_drawn(one)))


def finding(letters: str) -> Diagnostic:
    """What is told of a card with letters that the theme's faces lack."""
    named = ", ".join(f"'{one}' (U+{ord(one):04X})" for one in letters[:_SHOWN])
    more = f" and {len(letters) - _SHOWN} more" if len(letters) > _SHOWN else ""
    return Diagnostic(
        rule=RULE,
        message=f"no face of the theme has {named}{more}: a face of this system stands in",
        at=Position("", 1, 0),
        gravity=Gravity.WARNING,
        hints=REPAIRS[RULE].hints(RULE),
    )


def _is_drawn(letter: str) -> bool:
    return unicodedata.category(letter) not in _UNDRAWN


@cache
def _covered(families: tuple[tuple[bytes, ...], ...]) -> frozenset[int] | None:
    """The letters of the theme's faces; None where it brings none, so that everything is up to the system.

    A letter counts where one family has it in all its weights.
    """
    from fontTools.ttLib import TTFont, TTLibError  # type: ignore[import-untyped]

    covered: list[frozenset[int]] = []
    for faces in families:
        of_weights = []
        for data in faces:
            try:
                of_weights.append(frozenset(TTFont(BytesIO(data), lazy=True).getBestCmap() or ()))
            except (OSError, TTLibError):
                continue
        if of_weights:
            covered.append(frozenset.intersection(*of_weights))
    return frozenset().union(*covered) if covered else None
