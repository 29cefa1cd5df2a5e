"""How many lines a text takes, reckoned from its letters before anything is laid out.

The widths are those of a sans face, as shares of the size, up to the next twentieth. Faces differ by a few hundredths:
who asks leaves room for that.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

PT_MM = 25.4 / 72
_CLASSES = {
    0.2: "',.:;",
    0.25: "ijl|`",
    0.3: 'f!"()[]',
    0.35: "rt-_{}",
    0.4: "1I/\\",
    0.45: "svyz",
    0.5: "7ackxJ*?",
    0.6: "345689BPRSVXYZ$+",
    0.65: "0ACDK#=",
    0.7: "wGHNOQU",
    0.8: "M@",
    0.85: "mW%",
}
_WIDTHS = {letter: width for width, letters in _CLASSES.items() for letter in letters}
_OTHER, _SPACE = 0.55, 0.27


@lru_cache(maxsize=8192)
def _word(word: str) -> float:
    return sum(_WIDTHS.get(letter, _OTHER) for letter in word)


def flow_mm(runs: Iterable[tuple[str, float, float]], measure_mm: float) -> float:
    """How high a text stands whose runs, one after another, have a size [pt] and a line height as a share of it."""
    high, tallest, used_mm = 0.0, 0.0, measure_mm
    for text, size_pt, line in runs:
        em_mm = size_pt * PT_MM
        for word in text.split():
            wide_mm = _word(word) * em_mm
            if used_mm + _SPACE * em_mm + wide_mm > measure_mm:
                high, tallest, used_mm = high + tallest, 0.0, wide_mm
            else:
                used_mm += _SPACE * em_mm + wide_mm
            tallest = max(tallest, em_mm * line)
    return high + tallest


def lines_of(text: str, size_pt: float, measure_mm: float) -> int:
    """How many lines a text takes in a size where a line is so long; none where it is empty."""
    room = measure_mm / (size_pt * PT_MM)
    lines, used = 0, room
    for word in text.split():
        wide = _word(word)
        if used + _SPACE + wide > room:
            lines, used = lines + 1, wide
        else:
            used += _SPACE + wide
    return lines
