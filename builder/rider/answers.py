"""Answers as people write them, brought to what a source file holds, so that nobody is asked twice for the form."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from builder.diagnostics.nearness import nearest
from builder.model.library import Library
from builder.model.parts import Cassette
from builder.sources.shapes import MOST_BETWEEN_TWO

STOP = frozenset({".", "stop", "done", "quit", "end"})
_OPEN = frozenset({"", "?", "-", "don't know", "dont know", "do not know", "unknown", "not known", "no idea", "open"})
_YES, _NO = frozenset({"y", "yes", "there is", "fitted"}), frozenset({"n", "no", "none", "there is none", "without"})
_TEETH_UNIT = re.compile(r"(?<=\d)\s*(?:t|teeth)\b", re.IGNORECASE)
_COUNT = re.compile(r"(?:x|×)?\s*(\d{1,2})\s*(?:-\s*)?(?:speeds?|spd|sp|sprockets?|gears?|s)\b", re.IGNORECASE)
# Small numbers as people write them out, each at its own place.
_NUMBERS = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven"),
    *("eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen"),
)
_SPAN = re.compile(r"(\d{1,2})\s*(?:-|–|to|/)\s*(\d{1,3})", re.IGNORECASE)


def leaves_open(answer: str) -> bool:
    """Whether the answer says that nothing is known."""
    return " ".join(answer.split()).casefold().rstrip(".!") in _OPEN and answer.strip() not in STOP


def chosen(answer: str, cases: Mapping[str, str]) -> str:
    """The case that an answer means: by its number, name, words or letters, or yes and no; '' where none is sure."""
    plain = " ".join(answer.split()).casefold()
    names = list(cases)
    if plain.isdecimal():
        return names[int(plain) - 1] if 1 <= int(plain) <= len(names) else ""
    named = plain.replace(" ", "-")
    if named in cases:
        return named
    if set(names) == {"fitted", "none"} and plain in _YES | _NO:
        return "fitted" if plain in _YES else "none"
    if plain in _NO and "none" in cases:
        return "none"
    short = [name for name in names if plain == "".join(word[0] for word in name.split("-")) and len(plain) > 1]
    if len(short) == 1:
        return short[0]
    within = [name for name, words in cases.items() if named in name or plain in words.casefold()]
    return within[0] if len(within) == 1 else nearest(named, names) or ""


def in_figures(answer: str) -> str:
    """The answer with a figure in place of each small number that is written as a word."""
    words = (str(_NUMBERS.index(word.casefold())) if word.casefold() in _NUMBERS else word for word in answer.split())
    return " ".join(words)


@dataclass(frozen=True, slots=True)
class Sprockets:
    """What is told of the sprockets: every one of them, or the ends with or without a count."""

    every: tuple[int, ...] = ()
    smallest: int = 0
    largest: int = 0
    count: int = 0

    @property
    def words(self) -> str:
        """The ends and the count as a mechanic says them."""
        return f"{self.smallest}-{self.largest}" + (f", {self.count} sprockets" if self.count else "")


def sprockets_in(answer: str) -> Sprockets | None:
    """What an answer tells of the sprockets: `11, 13, 15`, `11-36`, `11-36 10-speed`; None where it tells nothing."""
    text = _TEETH_UNIT.sub("", answer)
    span = _SPAN.match(text.strip())
    if span is not None and (rest := text.strip()[span.end() :].strip(" ,;()")) is not None:
        smallest, largest = sorted((int(span[1]), int(span[2])))
        count = _COUNT.fullmatch(rest)
        if not rest or count is not None:
            return Sprockets(smallest=smallest, largest=largest, count=int(count[1]) if count else 0)
    ahead = _COUNT.match(text.strip())
    if ahead is not None and (after := _SPAN.fullmatch(text.strip()[ahead.end() :].strip(" ,;()"))) is not None:
        smallest, largest = sorted((int(after[1]), int(after[2])))
        return Sprockets(smallest=smallest, largest=largest, count=int(ahead[1]))
    numbers = teeth_in(answer)
    if len(numbers) == 2 and abs(numbers[1] - numbers[0]) > MOST_BETWEEN_TWO:
        return Sprockets(smallest=min(numbers), largest=max(numbers))
    return Sprockets(every=tuple(sorted(numbers))) if numbers else None


def teeth_in(answer: str) -> tuple[int, ...]:
    """The numbers of an answer, in whatever way they are parted: `46/30`, `46 and 30`, `46t, 30t`."""
    text = re.sub(r"\band\b|[\s,;/+–-]+", " ", _TEETH_UNIT.sub("", answer), flags=re.IGNORECASE)
    pieces = text.split()
    return tuple(map(int, pieces)) if pieces and all(piece.isdecimal() for piece in pieces) else ()


def is_span(teeth: tuple[str, ...]) -> bool:
    """Whether two numbers are the ends of a cassette, taken for the whole of it."""
    return (
        len(teeth) == 2
        and all(one.isdecimal() for one in teeth)
        and abs(int(teeth[1]) - int(teeth[0])) > MOST_BETWEEN_TWO
    )


def known_cassettes(told: Sprockets, library: Library) -> dict[str, str]:
    """The known cassettes that have these ends and this count: their names by id."""
    return {
        name: part.name
        for name, part in library.parts.items()
        if isinstance(part, Cassette)
        and part.sprockets
        and (min(part.sprockets), max(part.sprockets)) == (told.smallest, told.largest)
        and told.count in (0, len(part.sprockets))
    }
