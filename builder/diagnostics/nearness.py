"""Which known name a writer probably meant: only one that a slip of the fingers makes of it, never a mere likeness.

A wrong guess costs more than none: who reads "did you mean 'crank-bolts'?" for a bolt of the steerer may take it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

# One slip for every so many signs, and never more than three: our own choice, held by the tests.
_SIGNS_PER_SLIP = 4
_MOST_SLIPS = 3
_FIGURES = re.compile(r"\d+")
_WORDS = re.compile(r"[^\W_]+")
_MOST_LISTED = 6


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that `name` probably means, or None where none is close.

    Close are: the same words in another order or with other signs between them, and so few slips (a sign too many, too
    few, another one, two in the wrong order) as a writer of that many signs makes. Figures are no slips, since another
    figure is another thing: `hex-key-4` does not mean `hex-key-5`.
    """
    plain = name.casefold()
    slips = max(1, min(_MOST_SLIPS, len(plain) // _SIGNS_PER_SLIP))
    best: tuple[int, str] | None = None
    for one in known:
        other = one.casefold()
        if _words(plain) == _words(other):
            return one
        if abs(len(plain) - len(other)) > slips or not _same_figures(plain, other):
            continue
        found = _slips(plain, other)
        if found <= slips and (best is None or found < best[0]):
            best = (found, one)
    return None if best is None else best[1]


def alike(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """Some known names that begin with the same word, the longest beginning first: to be listed where none is close."""
    plain = name.casefold()
    first = plain.partition("-")[0]
    some = [one for one in known if first and one.casefold().partition("-")[0] == first]
    some.sort(key=lambda one: -_shared_beginning(one.casefold(), plain))
    return tuple(some[:_MOST_LISTED])


def _shared_beginning(first: str, second: str) -> int:
    return next((place for place, (one, other) in enumerate(zip(first, second, strict=False)) if one != other), 0)


def _words(text: str) -> list[str]:
    return sorted(_WORDS.findall(text))


def _same_figures(first: str, second: str) -> bool:
    """Whether the figures are the same, but for two neighbours that changed places and for the signs between them."""
    one, other = "".join(_FIGURES.findall(first)), "".join(_FIGURES.findall(second))
    return one == other or (sorted(one) == sorted(other) and _slips(one, other) == 1)


def _slips(first: str, second: str) -> int:
    """The least number of slips between two words (optimal string alignment: Damerau 1964, Levenshtein 1966)."""
    before: list[int] = []
    last: list[int] = []
    row = list(range(len(second) + 1))
    for number, sign in enumerate(first, 1):
        before, last, row = last, row, [number]
        for place, other in enumerate(second, 1):
            cost = min(last[place] + 1, row[place - 1] + 1, last[place - 1] + (sign != other))
            swapped = number > 1 and place > 1 and sign == second[place - 2] and first[number - 2] == other
            row.append(min(cost, before[place - 2] + 1) if swapped else cost)
    return row[-1]
