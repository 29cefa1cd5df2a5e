"""Which questions about a bike still matter: those that a condition hangs on which the answers so far leave open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from builder.model.catalogue import Attribute, Stage
from builder.model.condition import All, Condition
from builder.model.deciding import decided, deciding
from builder.model.facts import Role
from builder.model.guide import Guide
from builder.model.inlining import inlined
from builder.model.library import Library
from builder.rider.facts import Facts
from builder.sources.shapes import NO_PART, StandardOf, fields_of, kind_for

_COMPUTED = "computed"
_RING_WORDS = {1: "one", 2: "two", 3: "three"}


@dataclass(frozen=True, slots=True)
class Mattering:
    """The catalogue's questions, and every condition of the guides that one describes a bike for."""

    library: Library
    conditions: tuple[Condition, ...]
    # What the conditions hang on, for the cases that were asked about last.
    _hang_on: dict[frozenset[tuple[str, str]], frozenset[str]] = field(default_factory=dict, compare=False, repr=False)

    @classmethod
    def of(cls, library: Library, guide: Guide | None) -> Mattering:
        """For one guide, or for all."""
        guides = library.guides.values() if guide is None else (guide,)
        found = {
            All((one.suits, *placed.conditions)): None
            for one in guides
            for placed in inlined(one, library)
            if placed.conditions or _asks_anything(one.suits)
        }
        return cls(library, tuple(found))

    def questions(self) -> Iterator[Attribute]:
        """The questions of the catalogue that a fact of the bike answers."""
        for attribute in self.library.attributes.values():
            if attribute.ask and attribute.stage is Stage.FOUND and attribute.source != _COMPUTED:
                yield attribute

    def asks(self, attribute: str) -> bool:
        """Whether any condition asks for the attribute where nothing is known."""
        return any(attribute in deciding(one, {}) for one in self.conditions)

    def left(self, attribute: Attribute, facts: Facts) -> tuple[str, ...]:
        """The answers that are still possible; none where the question is answered or nothing hangs on it."""
        if not facts.is_open(attribute.source):
            return ()
        cases = known_cases(facts)
        if attribute.id in cases or not self._matters(attribute, cases):
            return ()
        never = [one.never for one in self.library.exclusions]
        return tuple(
            case
            for case in attribute.cases
            if not any(decided(one, {**cases, attribute.id: case}) is True for one in never)
        )

    def _matters(self, attribute: Attribute, cases: dict[str, str]) -> bool:
        same = {attribute.id, *(one.id for one in self.library.attributes.values() if one.same_as == attribute.id)}
        return not same.isdisjoint(self._open_to(cases))

    def _open_to(self, cases: dict[str, str]) -> frozenset[str]:
        """Every attribute that a condition hangs on which these cases leave open."""
        known = frozenset(cases.items())
        if known not in self._hang_on:
            open_ = (deciding(one, cases) for one in self.conditions if decided(one, cases) is None)
            found = frozenset(name for names in open_ for name in names)
            self._hang_on.clear()
            self._hang_on[known] = found
        return self._hang_on[known]


def _asks_anything(condition: Condition) -> bool:
    """Whether the condition asks anything at all."""
    return decided(condition, {}) is not True


def cases_to_ask(attribute: Attribute, library: Library) -> Mapping[str, str]:
    """The answers to the question with their words, and before them the workshop's own standards for that place."""
    role, _, key = attribute.source.partition(".")
    shape = next((one.shape for one in fields_of(kind_for(Role(role))) if one.key == key), None)
    if not isinstance(shape, StandardOf):
        return attribute.cases
    own = {name: one.name for name, one in library.standards.items() if one.of is shape.of}
    return {**own, **attribute.cases}


def known_cases(facts: Facts) -> dict[str, str]:
    """The case of every attribute that the facts so far answer."""
    found: dict[str, str] = {}
    for attribute in facts.library.attributes.values():
        if attribute.stage is not Stage.FOUND:
            continue
        case = _computed(attribute.id, facts) if attribute.source == _COMPUTED else _told(attribute, facts)
        own = facts.library.standards.get(case)
        if own is not None and case not in attribute.cases:
            case = own.like
        if case in attribute.cases:
            found[attribute.id] = case
    return found


def _told(attribute: Attribute, facts: Facts) -> str:
    role = attribute.source.partition(".")[0]
    if facts.parts.get(Role(role)) == NO_PART:
        return attribute.without
    return facts.text_of(attribute.source)


def _computed(attribute: str, facts: Facts) -> str:
    gears = facts.text_of("rear-hub.gears")
    derailleur = facts.parts.get(Role.REAR_DERAILLEUR)
    match attribute:
        case "transmission" | "gear-line":
            kind = (
                "hub-gear"
                if (gears.isdecimal() and int(gears) > 1) or (derailleur == NO_PART and facts.is_hub_gear)
                else ""
                if derailleur is None
                else "single-speed"
                if derailleur == NO_PART
                else "derailleur"
            )
            return kind if attribute == "transmission" or not kind else "cable" if kind == "hub-gear" else "none"
        case "chainrings":
            return _RING_WORDS.get(facts.count_of("crankset.rings"), "")
        case _:
            return ""
