"""What a job comes to on one bike: what fits, what must change, what to buy and what to measure first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from builder.checks.result import CheckResult
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.parts import Part
from builder.model.units import Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """What a part in `role` must satisfy, by name: at least, at most, or exactly."""

    role: Role
    limit: str
    at_least: float | None = None
    at_most: float | None = None
    equals: str = ""
    unit: Unit = Unit.ONE

    def __str__(self) -> str:
        unit = f" {self.unit.value}".rstrip()
        if self.equals:
            return f"{self.limit}: {self.equals}"
        if self.at_least is not None and self.at_least == self.at_most:
            return f"{self.limit}: {self.at_least:g}{unit}"
        if self.at_least is not None and self.at_most is not None:
            return f"{self.limit}: {self.at_least:g} to {self.at_most:g}{unit}"
        if self.at_least is not None:
            return f"{self.limit}: at least {self.at_least:g}{unit}"
        return f"{self.limit}: at most {self.at_most:g}{unit}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A fact about the bike that checks need and that is not known.

    `key` is where it goes in the bike's file, such as `parts.frame.chainstay`. `measurement` is the id in the catalogue
    of the way to take it; it is empty where the fact is read off a part, and `how` then says so.
    """

    key: str
    words: str
    how: str
    checks: tuple[str, ...]
    measurement: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A part that must change besides those wanted: why, what the new one must satisfy, and which was chosen."""

    role: Role
    because: tuple[str, ...]
    requires: tuple[Requirement, ...]
    choice: Part | None = None


class ChainWork(StrEnum):
    """What is done about the chain."""

    KEPT = "kept"
    SHORTENED = "shortened"
    REPLACED = "replaced"
    DECIDED_AT_STAND = "decided-at-stand"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The answer of planning. `after` is the bike with every change made.

    `checks` are the answers with every change made, `before` those with the wanted parts alone on the bike as found.
    `trouble` says which limits nothing in stock can meet; it is empty where the plan is sound.
    """

    bike: Bike
    after: Bike
    wanted: Mapping[Role, Part] = field(default_factory=dict)
    before: tuple[CheckResult, ...] = ()
    checks: tuple[CheckResult, ...] = ()
    changes: tuple[Change, ...] = ()
    missing: tuple[Missing, ...] = ()
    chain_work: ChainWork = ChainWork.KEPT
    trouble: tuple[str, ...] = ()

    @property
    def bought(self) -> tuple[Part, ...]:
        """The parts to lay out: those wanted and those forced, in that order."""
        forced = tuple(change.choice for change in self.changes if change.choice is not None)
        return (*self.wanted.values(), *forced)

    def replaces(self, role: Role) -> bool:
        """Whether the plan puts another part into `role`."""
        return role in self.wanted or any(c.role is role and c.choice is not None for c in self.changes)
