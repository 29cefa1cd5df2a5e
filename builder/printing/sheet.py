"""What stands on a printed side, letter by letter: the form in which the rules of legibility look at a card."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

Colour = tuple[float, float, float]
_BLACK: Colour = (0.0, 0.0, 0.0)
# How far the ink of a frame's inner and outer edge may lie apart [pt]; a thicker band is a ground of its own.
_FRAME_PT = 9.0
# What is flatter is a rule [pt].
_RULE_PT = 2.0
# Letters whose feet lie so near to each other stand on one line, as a share of their size.
_SAME_LINE = 0.35


class Letter(NamedTuple):
    """One letter: its size and its box, from the top left corner of the side [pt]. A tuple, since there are so many."""

    text: str
    size_pt: float
    font: str
    x0: float
    x1: float
    top: float
    bottom: float
    colour: Colour = _BLACK

    @property
    def bold(self) -> bool:
        """Whether its face is a bold one, by its name."""
        return "bold" in self.font.lower()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """A filled rectangle [pt]."""

    x0: float
    x1: float
    top: float
    bottom: float
    colour: Colour = _BLACK

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies in it."""
        return self.x0 <= x <= self.x1 and self.top <= y <= self.bottom


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sheet:
    """A side: its number, its paper [pt], its letters in the order of the PDF, its grounds, frames and rules."""

    number: int
    width_pt: float
    height_pt: float
    letters: tuple[Letter, ...]
    grounds: tuple[Ground, ...] = ()
    frames: tuple[Ground, ...] = ()
    rules: tuple[Ground, ...] = ()

    @property
    def ink(self) -> tuple[Letter, ...]:
        """The letters that leave ink."""
        return tuple(letter for letter in self.letters if letter.text.strip())


def read_sheets(data: bytes) -> tuple[Sheet, ...]:
    """Every side of a PDF."""
    import pdfplumber

    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return tuple(sheet_of(page, number) for number, page in enumerate(pdf.pages, 1))


def sheet_of(page: Any, number: int) -> Sheet:
    """A side from a page with `chars`, `rects`, `lines`, `width` and `height` as pdfplumber gives them."""
    grounds, frames = _told_apart([_ground(rect) for rect in page.rects if rect.get("fill")])
    return Sheet(
        number=number,
        width_pt=float(page.width),
        height_pt=float(page.height),
        letters=tuple(_letter(char) for char in page.chars),
        grounds=grounds,
        frames=frames,
        rules=tuple(_ground(line) for line in page.lines if abs(line["bottom"] - line["top"]) < _RULE_PT),
    )


def _letter(char: Mapping[str, Any]) -> Letter:
    return Letter(
        text=char["text"],
        size_pt=float(char["size"]),
        font=str(char["fontname"]).split("+")[-1],
        x0=float(char["x0"]),
        x1=float(char["x1"]),
        top=float(char["top"]),
        bottom=float(char["bottom"]),
        colour=colour_of(char.get("non_stroking_color")),
    )


def _ground(rect: Mapping[str, Any]) -> Ground:
    return Ground(
        x0=float(rect["x0"]),
        x1=float(rect["x1"]),
        top=float(rect["top"]),
        bottom=float(rect["bottom"]),
        colour=colour_of(rect.get("non_stroking_color")),
    )


def colour_of(written: Any) -> Colour:
    """A PDF colour of one (grey), three (RGB) or four (CMYK) parts as RGB from 0 to 1; black where there is none."""
    parts = [float(part) for part in written] if isinstance(written, Sequence) else [] if written is None else [written]
    match parts:
        case [grey]:
            return (grey, grey, grey)
        case [red, green, blue]:
            return (red, green, blue)
        case [cyan, magenta, yellow, key]:
            return ((1 - cyan) * (1 - key), (1 - magenta) * (1 - key), (1 - yellow) * (1 - key))
        case _:
            return _BLACK


def _told_apart(rects: list[Ground]) -> tuple[tuple[Ground, ...], tuple[Ground, ...]]:
    """Grounds and frames: a frame is drawn as two rectangles of one colour, the ink between them."""
    grounds: list[Ground] = []
    frames: list[Ground] = []
    place = 0
    while place < len(rects):
        one = rects[place]
        other = rects[place + 1] if place + 1 < len(rects) else None
        if other is not None and one.colour == other.colour and _nested(one, other):
            frames.append(max(one, other, key=lambda rect: (rect.x1 - rect.x0) * (rect.bottom - rect.top)))
            place += 2
        else:
            grounds.append(one)
            place += 1
    return tuple(grounds), tuple(frames)


def _nested(one: Ground, other: Ground) -> bool:
    gaps = [other.x0 - one.x0, one.x1 - other.x1, other.top - one.top, one.bottom - other.bottom]
    inside = all(gap >= -0.05 for gap in gaps) or all(gap <= 0.05 for gap in gaps)
    return inside and max(abs(gap) for gap in gaps) <= _FRAME_PT


def lines(letters: Iterable[Letter]) -> Iterator[tuple[Letter, ...]]:
    """Letters by the line that they stand on, in the order given."""
    run: list[Letter] = []
    for letter in letters:
        if run and letter.bottom != run[-1].bottom:
            larger = max(letter.size_pt, run[-1].size_pt)
            if abs(letter.bottom - run[-1].bottom) > _SAME_LINE * larger:
                yield tuple(run)
                run = []
        run.append(letter)
    if run:
        yield tuple(run)


@lru_cache(maxsize=64)
def ink_lines(sheet: Sheet) -> tuple[tuple[Letter, ...], ...]:
    """Every line of a side, without its spaces."""
    return tuple(lines(sheet.ink))


@lru_cache(maxsize=4096)
def squeezed(text: str) -> str:
    """The letters and figures of a text, by which it is found on a side."""
    return "".join(character for character in text.casefold() if character.isalnum())


def places_of(text: str, sheets: Iterable[Sheet]) -> Iterator[tuple[Sheet, tuple[Letter, ...]]]:
    """Each place where a text stands, as the letters that write it; marks, spaces and line ends do not matter."""
    wanted = squeezed(text)
    for sheet in sheets:
        written, letters = _index(sheet)
        start = written.find(wanted) if wanted else -1
        while start >= 0:
            numbers = dict.fromkeys(letters[start : start + len(wanted)])
            yield sheet, tuple(sheet.letters[number] for number in numbers)
            start = written.find(wanted, start + len(wanted))


def written_on(sheet: Sheet) -> str:
    """All letters and figures of a side in one piece."""
    return _index(sheet)[0]


@lru_cache(maxsize=64)
def _index(sheet: Sheet) -> tuple[str, tuple[int, ...]]:
    """All letters and figures of a side in one piece, and for each the number of the letter that it comes from."""
    pieces: list[str] = []
    numbers: list[int] = []
    for number, letter in enumerate(sheet.letters):
        piece = letter.text if letter.text.isalnum() and letter.text.islower() else squeezed(letter.text)
        pieces.append(piece)
        numbers.extend([number] * len(piece))
    return "".join(pieces), tuple(numbers)


def forget_sheets() -> None:
    """Let go of what is remembered of sheets: all letters of a long card take 40 MB."""
    ink_lines.cache_clear()
    _index.cache_clear()
