"""The colours of a theme held against WCAG 2.2: which token stands on which, and the contrast that each pair has."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from builder.checks.contrast import contrast_ratio, read_colour
from builder.checks.result import InputError
from builder.pages.theme import Theme

# Signs and signal words are drawn in these everywhere, also inside SVG, which follows no stylesheet (ISO 3864-4).
SAFETY = frozenset(f"{on}{word}" for word in ("danger", "warning", "caution", "notice") for on in ("", "on-"))


@dataclass(frozen=True, slots=True)
class Pair:
    """What stands on what, and the least contrast. `screen` pairs have other colours on a dark screen."""

    ink: str
    ground: str
    least: float
    screen: bool


# WCAG 2.2, 1.4.3 (4.5 for text), 1.4.6 (7 for text that is read at a distance) and 1.4.11 (3 for what is no text).
PAIRS = (
    Pair("ink", "paper", 7.0, False),
    Pair("quiet", "paper", 7.0, False),
    Pair("ink", "band", 7.0, False),
    Pair("on-danger", "danger", 4.5, False),
    Pair("on-warning", "warning", 4.5, False),
    Pair("on-caution", "caution", 4.5, False),
    Pair("on-notice", "notice", 4.5, False),
    Pair("text", "ground", 7.0, True),
    Pair("text", "raised", 7.0, True),
    Pair("muted", "ground", 4.5, True),
    Pair("muted", "raised", 4.5, True),
    Pair("link", "ground", 4.5, True),
    Pair("visited", "ground", 4.5, True),
    Pair("link", "raised", 4.5, True),
    Pair("visited", "raised", 4.5, True),
    Pair("focus", "ground", 3.0, True),
    Pair("accent", "ground", 3.0, True),
)


@dataclass(frozen=True, slots=True)
class Faint:
    """A pair that has too little contrast; `dark` on a dark screen."""

    pair: Pair
    ratio: float
    dark: bool


def is_colour(value: str) -> bool:
    """Whether a token's value is a colour that can be reckoned with."""
    try:
        read_colour(value)
    except InputError:
        return False
    return True


def faint_pairs(theme: Theme) -> Iterator[Faint]:
    """Every pair of a theme's colours with too little contrast."""
    for dark, tokens in ((False, theme.tokens), (True, theme.dark)):
        for pair in PAIRS:
            ink, ground = tokens.get(pair.ink, ""), tokens.get(pair.ground, "")
            if (dark and not pair.screen) or not (is_colour(ink) and is_colour(ground)):
                continue
            ratio = contrast_ratio(read_colour(ink), read_colour(ground))
            if ratio < pair.least:
                yield Faint(pair, ratio, dark)
