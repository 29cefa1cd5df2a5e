"""PDFs read back, each once for all tests that look at it: nearly all the time goes into taking its pages apart."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import lru_cache

import pdfplumber

from builder.printing import reading
from builder.printing.reading import Side
from builder.printing.sheet import Sheet, sheet_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBack:
    """The sides of a PDF twice over: as lines of text, and letter by letter."""

    sides: tuple[Side, ...]
    sheets: tuple[Sheet, ...]


# A side holds some thousand letters, so that only what was read last is kept.
@lru_cache(maxsize=16)
def read_back(data: bytes) -> ReadBack:
    """What the functions of the same names in `builder.printing` make of a PDF, from one reading."""
    sides, sheets = [], []
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for number, page in enumerate(pdf.pages, 1):
            sides.append(reading._side(page))
            sheets.append(sheet_of(page, number))
            page.close()
    return ReadBack(sides=tuple(sides), sheets=tuple(sheets))


def read_sides(data: bytes) -> tuple[Side, ...]:
    """Every side, as lines of text."""
    return read_back(data).sides


def read_sheets(data: bytes) -> tuple[Sheet, ...]:
    """Every side, letter by letter."""
    return read_back(data).sheets
