"""Paper sizes that cards are printed on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Sheet:
    """Width and height of a paper [mm]: ISO 216 for the A sizes, ANSI/ASME Y14.1 for letter and tabloid."""

    width_mm: float
    height_mm: float


class Paper(StrEnum):
    """The papers a card set can be laid out on; the value names the page style in the theme."""

    A6 = "a6"
    A5 = "a5"
    A4 = "a4"
    A3 = "a3"
    A2 = "a2"
    HALF_LETTER = "halfletter"
    LETTER = "letter"
    TABLOID = "tabloid"

    @property
    def sheet(self) -> Sheet:
        """How large the paper is."""
        return _SHEETS[self]

    @property
    def label(self) -> str:
        """The name as a reader writes it."""
        return _LABELS.get(self, self.value.upper())

    @property
    def large(self) -> Paper:
        """The paper for service sheets and wall charts where the cards are on this one: A4 or Letter."""
        return Paper.LETTER if self in _INCHES else Paper.A4


_LABELS = {Paper.HALF_LETTER: "Half Letter", Paper.LETTER: "Letter", Paper.TABLOID: "Tabloid"}
_INCHES = frozenset(_LABELS)
_SHEETS = {
    Paper.A6: Sheet(105.0, 148.0),
    Paper.A5: Sheet(148.0, 210.0),
    Paper.A4: Sheet(210.0, 297.0),
    Paper.A3: Sheet(297.0, 420.0),
    Paper.A2: Sheet(420.0, 594.0),
    Paper.HALF_LETTER: Sheet(139.7, 215.9),
    Paper.LETTER: Sheet(215.9, 279.4),
    Paper.TABLOID: Sheet(279.4, 431.8),
}
