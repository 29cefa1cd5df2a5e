"""Read a PDF back: what stands on each side, how large it is set, whether anything lies beyond the paper."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

_MM_PER_PT = 25.4 / 72


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line of text as it stands on a side: its words, the size of its largest letter [pt], and its place [mm]."""

    text: str
    size_pt: float
    top_mm: float
    left_mm: float
    right_mm: float
    bottom_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One side of a card set: paper size [mm], text in one piece, its lines, and its smallest letter [pt]."""

    width_mm: float
    height_mm: float
    text: str
    lines: tuple[Line, ...]
    smallest_pt: float
    fonts: frozenset[str]

    @property
    def words(self) -> str:
        """The text with every white space made one space, to search in."""
        return " ".join(self.text.split())


def read_sides(data: bytes) -> tuple[Side, ...]:
    """Every side of the PDF."""
    import pdfplumber

    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return tuple(_side(page) for page in pdf.pages)


def structure_tags(data: bytes) -> frozenset[str]:
    """The kinds of element in the PDF's structure tree, such as H1, L, Table and Figure; empty if it is not tagged."""
    import pdfplumber

    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return frozenset(_kinds(pdf.structure_tree))


def _kinds(elements: list[dict[str, Any]]) -> Iterator[str]:
    for element in elements:
        yield element["type"]
        yield from _kinds(element.get("children", []))


def _side(page: Any) -> Side:
    letters = [letter for letter in page.chars if letter["text"].strip()]
    return Side(
        width_mm=float(page.width) * _MM_PER_PT,
        height_mm=float(page.height) * _MM_PER_PT,
        text=page.extract_text() or "",
        lines=tuple(_lines(page)),
        smallest_pt=min((letter["size"] for letter in letters), default=0.0),
        fonts=frozenset(letter["fontname"].split("+")[-1] for letter in letters),
    )


def _lines(page: Any) -> Iterator[Line]:
    for line in page.extract_text_lines():
        yield Line(
            text=line["text"],
            size_pt=max(letter["size"] for letter in line["chars"]),
            top_mm=line["top"] * _MM_PER_PT,
            left_mm=line["x0"] * _MM_PER_PT,
            right_mm=line["x1"] * _MM_PER_PT,
            bottom_mm=line["bottom"] * _MM_PER_PT,
        )
