"""Pieces of pages and cards, each made once: views of what bikes have alike, and the markup that comes of them.

In a fleet most steps, cautions, tools and torques are the same to the letter on many pages. A template makes the markup
of one with `once(what, macro, ...)`, in place of calling the macro. What a macro shows must then be among what it is
given, or be the same on all pages of a theme, as its marks and words are; `what` names the macro, and what its template
was given besides.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Protocol

from markupsafe import Markup

from builder.model.memory import Memory
from builder.model.once import Once
from builder.pages.revision import seen_in
from builder.pages.strings import Words
from builder.pages.theme import Theme
from builder.tailoring.tailored import Tailored

# Stand about the number of a piece in a document whose pieces are read by themselves; as `builder.pages.revision`.
_PIECE = re.compile("\ue001([0-9]+)\ue001")
# So many pieces of markup are held at most, some 1 kB each; beyond that all are made anew.
_MOST = 10_000


class Making(Protocol):
    """How a template has a piece made."""

    def __call__(self, what: str, macro: Callable[..., Markup], *shown: object) -> Markup:
        """The markup that `macro` makes of `shown`."""


class Pieces:
    """What was made of pieces for one theme in one language."""

    def __init__(self) -> None:
        self.views = Once()
        self._markup = Once(most=_MOST)
        self._seen = Once(most=_MOST)

    def once(self, what: str, macro: Callable[..., Markup], *shown: object) -> Markup:
        """The markup of a piece."""
        return self._markup.of((what, *map(_named, shown)), lambda: macro(*shown), shown)

    def read(self, render: Callable[[Making], str]) -> str:
        """What a reader sees of a document, whose pieces are read once and not with every document that has them."""
        found: list[str] = []

        def told(what: str, macro: Callable[..., Markup], *shown: object) -> Markup:
            found.append(self._seen.of((what, *map(_named, shown)), lambda: seen_in(macro(*shown)), shown))
            return Markup(f" \ue001{len(found) - 1}\ue001 ")

        def piece(at: re.Match[str]) -> str:
            number = int(at[1])
            return found[number] if number < len(found) else ""

        return " ".join(_PIECE.sub(piece, seen_in(render(told))).split())


def pieces_for(tailored: Tailored, memory: Memory, theme: Theme, words: Words) -> Pieces:
    """The pieces that were made since the memory's last turn, and of a guide for any bike none.

    There is one such guide, whose steps mostly stand on no other page: they are not held for it.
    """
    return (
        Pieces() if tailored.bike is None else memory.once.of(("pieces", id(theme), id(words)), Pieces, (theme, words))
    )


def _named(value: object) -> object:
    """What a piece is known again by: a word or a number is itself, all else is named by its number."""
    return value if isinstance(value, str | int) else id(value)
