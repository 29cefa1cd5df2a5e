"""Which cards were printed: what each showed of its steps, so that a stale one is found out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from builder.model.position import Places


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStep:
    """A step as a printed card shows it. `says` is a code of its words; `torque` and `cautions` are told by name."""

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

    Guide and bike are written as they were called then: a card outlives both.
    """

    id: str = ""
    guide: str
    bike: str = ""
    cards: tuple[PrintedCard, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


def printed_id(guide: str, bike: str) -> str:
    """What the cards of a guide for a bike are called in the register."""
    return f"{guide}-for-{bike or 'any-bike'}"


def printed_revisions(printed: Mapping[str, Printed]) -> frozenset[str]:
    """The codes of all cards that were printed."""
    return frozenset(card.revision for one in printed.values() for card in one.cards)
