"""What a job comes to on one bike: what fits, what must change, what to buy and what to measure first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from builder.checks.result import CheckResult
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.fields import Fact
from builder.model.parts import Part
from builder.model.paths import role_of
from builder.model.units import Range, Unit, write_quantity, write_range


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """What a fact of a part must be: at least, at most, or one of some words."""

    fact: Fact
    at_least: float | None = None
    at_most: float | None = None
    one_of: tuple[str, ...] = ()
    unit: Unit = Unit.ONE

    @property
    def role(self) -> Role | None:
        """The place whose part it is about."""
        return role_of(self.fact.path)

    @property
    def limit(self) -> str:
        """What is limited: what the fact is called, or its key, such as `capacity`."""
        return self.fact.called.replace(" ", "-") or self.fact.path.partition(".")[2].removesuffix("-teeth")

    @property
    def bounds(self) -> str:
        """The limit itself in words, `at least 39 teeth`."""
        if self.one_of:
            return " or ".join(self.one_of)
        least, most = self.at_least, self.at_most
        if least is not None and most is not None and least <= most:
            return write_range(Range(least, most), self.unit, 2)
        if least is not None and most is not None:
            # Two checks that no part can satisfy together.
            return f"at least {write_quantity(least, self.unit, 2)} and at most {write_quantity(most, self.unit, 2)}"
        if least is not None:
            return f"at least {write_quantity(least, self.unit, 2)}"
        return "" if most is None else f"at most {write_quantity(most, self.unit, 2)}"

    def __str__(self) -> str:
        return f"{self.limit}: {self.bounds}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Missing:
    """A fact about the bike that checks need and that is not known.

    `key` is where it goes in the bike's file, such as `parts.frame.chainstay`; `write_at` says so in words, with the
    file, also where the fact is one of a part that has a file of its own. `measurement` is the id in the catalogue of
    the way to take it; it is empty where the fact is read off a part, and `how` then says so. `bounds` is what it must
    be so that nothing else changes: `at least 39 teeth`; empty where that is not known.
    """

    key: str
    words: str
    how: str
    checks: tuple[str, ...]
    measurement: str = ""
    write_at: str = ""
    bounds: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A part that must change besides those wanted: why, what the new one must satisfy, and which was chosen.

    `to_order` says that the workshop has none in stock; `count` is how many are needed.
    """

    role: Role
    because: tuple[str, ...]
    requires: tuple[Requirement, ...]
    choice: Part | None = None
    to_order: bool = False
    count: int = 1


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
    `trouble` says which limits nothing can meet; it is empty where the plan is sound. `not_judged` has a line for each
    part that is put on and of which no check could say whether it fits, with the reason.
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
    not_judged: tuple[str, ...] = ()

    @property
    def bought(self) -> tuple[Part, ...]:
        """The parts to lay out: those wanted and those forced, in that order."""
        forced = tuple(change.choice for change in self.changes if change.choice is not None)
        return (*self.wanted.values(), *forced)

    @property
    def pieces(self) -> tuple[Part, ...]:
        """What is paid for: the parts to lay out, those of which several are needed so many times."""
        more = (change.choice for change in self.changes if change.choice is not None for _ in range(change.count - 1))
        return (*self.bought, *more)

    def result(self, check: str) -> CheckResult | None:
        """What the check came to with every change made; None where it was not asked."""
        return next((result for result in self.checks if result.check == check), None)

    def replaces(self, role: Role) -> bool:
        """Whether the plan puts another part into `role`."""
        return role in self.wanted or any(c.role is role and c.choice is not None for c in self.changes)
