"""Paper sizes that cards are printed on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Sheet:
    """Width and height of a paper [mm]: ISO 216 for the A sizes, ANSI/ASME Y14.1 for letter."""

    width_mm: float
    height_mm: float


class Paper(StrEnum):
    """The papers a card set can be laid out on; the value names the page style in the theme."""

    A6 = "a6"
    A5 = "a5"
    A4 = "a4"
    LETTER = "letter"

    @property
    def sheet(self) -> Sheet:
        """How large the paper is."""
        return _SHEETS[self]

    @property
    def label(self) -> str:
        """The name as a reader writes it."""
        return self.value.upper() if self is not Paper.LETTER else "Letter"

    @property
    def large(self) -> Paper:
        """The paper for service sheets and wall charts where the cards are on this one: A4 or Letter."""
        return Paper.LETTER if self is Paper.LETTER else Paper.A4


_SHEETS = {
    Paper.A6: Sheet(105.0, 148.0),
    Paper.A5: Sheet(148.0, 210.0),
    Paper.A4: Sheet(210.0, 297.0),
    Paper.LETTER: Sheet(215.9, 279.4),
}
