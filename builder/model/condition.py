"""Conditions as data: an attribute of the bike or of the plan is one of certain cases, joined by all, any and not.

In YAML: `when: {rear-axle: quick-release}`, `when: {rear-axle: [nutted, quick-release], clutch: fitted}` (both must
hold), `when: {any: [{...}, {...}]}`, `when: {not: {...}}`. Since every attribute has a closed set of cases, every
condition can be proven over all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Is:
    """The attribute is one of the cases."""

    attribute: str
    cases: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class All:
    """Every part holds; with no parts it always holds."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class AnyOf:
    """At least one part holds."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Not:
    """The part does not hold."""

    part: Condition


Condition = Is | All | AnyOf | Not
ALWAYS: Condition = All(())
NEVER: Condition = AnyOf(())


class UnknownCase(LookupError):
    """A condition asks for an attribute whose case is not known for this bike."""

    def __init__(self, attribute: str) -> None:
        super().__init__(attribute)
        self.attribute = attribute


def holds(condition: Condition, cases: Mapping[str, str]) -> bool:
    """Whether `condition` holds where `cases` gives the case of each attribute.

    Parts are asked in order and no farther than needed, so that an attribute that no longer matters may be unknown.

    Raises:
        UnknownCase: an attribute that decides the answer has no case.
    """
    match condition:
        case Is(attribute, wanted):
            if attribute not in cases:
                raise UnknownCase(attribute)
            return cases[attribute] in wanted
        case All(parts):
            return all(holds(part, cases) for part in parts)
        case AnyOf(parts):
            return any(holds(part, cases) for part in parts)
        case Not(part):
            return not holds(part, cases)


def asked(condition: Condition) -> Iterator[Is]:
    """Every single question in `condition`, in the order written."""
    match condition:
        case Is():
            yield condition
        case All(parts) | AnyOf(parts):
            for part in parts:
                yield from asked(part)
        case Not(part):
            yield from asked(part)


def both(first: Condition, second: Condition) -> Condition:
    """A condition that holds where both do."""
    parts = tuple(part for part in (first, second) if part != ALWAYS)
    return parts[0] if len(parts) == 1 else All(parts)


def fixed_cases(conditions: Iterable[Condition]) -> dict[str, str]:
    """The cases that plain conditions of one case fix, where all of `conditions` must hold."""
    fixed: dict[str, str] = {}
    for condition in conditions:
        for part in condition.parts if isinstance(condition, All) else (condition,):
            if isinstance(part, Is) and len(part.cases) == 1:
                fixed[part.attribute] = part.cases[0]
    return fixed
