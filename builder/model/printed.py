"""Which cards were printed: what each showed of its steps, so that a stale one is found out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from builder.model.position import Places


class PrintedSort(StrEnum):
    """What was printed: a card, a service sheet or tag, all torques, all tools, or torques and tools of one bike."""

    CARD = "card"
    SHEET = "sheet"
    TORQUES = "torques"
    TOOLS = "tools"
    BIKE = "bike"


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStep:
    """A step as a printed card shows it, or a fastener of a chart.

    `says` is a code of its words; `torque` and `cautions` are told by name.
    """

    step: str
    says: str
    torque: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedCard:
    """A card that was printed: its code, the day, and its steps in their order.

    `parts` are those that the job was planned with. `withdrawn` says why nobody may use it any more, whatever it shows.
    """

    revision: str
    date: str
    parts: tuple[str, ...] = ()
    withdrawn: str = ""
    steps: tuple[PrintedStep, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """Every card of a guide that was printed for a bike, or for any bike where `bike` is empty.

    So too its sheets, and a chart, which has no guide. Guide and bike are written as they were called then: a card
    outlives both.
    """

    id: str = ""
    sort: PrintedSort = PrintedSort.CARD
    guide: str = ""
    bike: str = ""
    cards: tuple[PrintedCard, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


def printed_id(guide: str, bike: str, sort: PrintedSort = PrintedSort.CARD) -> str:
    """What the cards of a guide for a bike, its sheets or a chart are called in the register."""
    match sort:
        case PrintedSort.CARD:
            return f"{guide}-for-{bike or 'any-bike'}"
        case PrintedSort.SHEET:
            return f"sheet-of-{guide}-for-{bike}"
        case PrintedSort.TORQUES | PrintedSort.TOOLS:
            return f"chart-of-{sort.value}"
        case PrintedSort.BIKE:
            return f"chart-of-{bike}"


def printed_revisions(printed: Mapping[str, Printed]) -> frozenset[str]:
    """The codes of all cards that were printed."""
    return frozenset(card.revision for one in printed.values() for card in one.cards)
