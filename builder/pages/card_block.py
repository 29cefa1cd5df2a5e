"""A block of a card that is composed: what the template shows, and what the composer must know."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice
from typing import TypeVar

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True, kw_only=True)
class CardBlock:
    """One block. `kind` names the macro of the template, `shown` is what it is called with.

    For the other fields see `builder.pages.sides`: `short` marks the shorter form of the block before.
    """

    kind: str
    shown: object = None
    heading: str = ""
    gap_mm: float = 3.0
    keeps: bool = False
    spans: bool = False
    ends: str = ""
    tells: str = ""
    short: bool = False
    title: str = ""
    step: str = ""
    last_step: str = ""


def in_rows(kind: str, heading: str, items: Iterable[Item], most: int, *, gap_mm: float = 4.0) -> Iterator[CardBlock]:
    """Items under one heading as blocks of at most `most`; the heading stands in the first of them."""
    rest = iter(items)
    first = True
    while some := tuple(islice(rest, most)):
        yield CardBlock(kind=kind, shown=some, heading=heading if first else "", gap_mm=gap_mm if first else 0.0)
        first = False


def ended(blocks: Iterable[CardBlock], ends: str = "section") -> Iterator[CardBlock]:
    """The same blocks, with the end of a section after the last."""
    found = list(blocks)
    yield from found[:-1]
    if found:
        yield replace(found[-1], ends=ends)
