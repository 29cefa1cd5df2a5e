"""Lists in parts, so that no page grows with the fleet: each part a page that links to the one before and after it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

# So many bikes stand on a page; a demo fleet stands on one.
BIKES = 60
# So many codes of cards stand on a page, a line each.
CODES = 1000
# So many names stand in a line before it says how many more there are.
NAMES = 12

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part of a list: its page, its number from 1, how many there are, and the pages beside it; '' where none is."""

    path: str
    number: int
    count: int
    before: str = ""
    after: str = ""


def in_parts(path: str, items: Sequence[Item], most: int = BIKES) -> Iterator[tuple[Part, Sequence[Item]]]:
    """The parts of a list whose first stands at `path`, each with its items; one without items where there are none."""
    count = max(1, -(-len(items) // most))
    pages = [part_path(path, number) for number in range(1, count + 1)]
    for number, page in enumerate(pages, 1):
        part = Part(
            path=page,
            number=number,
            count=count,
            before=pages[number - 2] if number > 1 else "",
            after=pages[number] if number < count else "",
        )
        yield part, items[(number - 1) * most : number * most]


def part_path(path: str, number: int) -> str:
    """Where the part of this number stands: `bikes.html`, `bikes-2.html`."""
    return path if number == 1 else f"{path.removesuffix('.html')}-{number}.html"
