"""Facts about a bike as they come in from flags and answers, each held against the model before it is taken."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from enum import Enum

from builder.model.bike import Climb, Measurements, Rider, WearReading
from builder.model.facts import Role
from builder.model.library import Library
from builder.model.parts import folder_of, kind_of
from builder.model.units import Unit
from builder.rider.answers import in_figures, is_span
from builder.sources.hints import choices, unknown_standard, words_of_set
from builder.sources.reading import Misread, read_as
from builder.sources.shapes import NO_PART, Many, Shape, StandardOf, fields_of, kind_for
from builder.sources.starters import BikeFacts

_OTHERS: dict[str, type] = {"measured": Measurements, "rider": Rider}
CLIMB, WEAR = "climb", "wear"


class FactError(ValueError):
    """A fact that can't be taken; the message says why and what would do."""


@dataclass(slots=True)
class Facts:
    """What is known so far.

    A key is `role`, `role.fact`, `measured.fact`, `rider.fact`, `climb.NAME`, or `wear.DATE.fact` for an entry of the
    wear book.
    """

    library: Library
    tag: str = ""
    parts: dict[Role, str | dict[str, str | tuple[str, ...]]] = field(default_factory=dict)
    others: dict[str, dict[str, str]] = field(default_factory=lambda: {name: {} for name in _OTHERS})
    climbs: dict[str, str] = field(default_factory=dict)
    wear: dict[str, dict[str, str | tuple[str, ...]]] = field(default_factory=dict)

    def set(self, key: str, text: str) -> None:
        """Take a fact.

        Raises:
            FactError: there is no such key, the value can't stand there, or it contradicts one that was taken.
        """
        name, _, fact = key.partition(".")
        text = " ".join(text.split())
        if name in _OTHERS:
            read_fact(_OTHERS[name], name, fact, text, self.library)
            self.others[name][fact] = text
            return
        if name == CLIMB:
            self.climbs[fact] = str(read_fact(Climb, CLIMB, "gradient", text, self.library))
            return
        if name == WEAR:
            self._set_wear(fact, text)
            return
        if name not in list(Role):
            raise FactError(f"unknown key '{key}'; {choices(name, (*Role, *_OTHERS), 'it begins with one of')}")
        role = Role(name)
        part = self.parts.get(role)
        if not fact:
            self._name_part(role, part, text)
            return
        value = read_fact(kind_for(role), role.value, fact, text, self.library)
        if isinstance(part, str):
            said = "there is none" if part == NO_PART else f"it is '{part}'"
            raise FactError(f"'{key}' can not be told of the {role.value}: {said}")
        self.parts[role] = {**(part or {}), fact: value}

    def set_loosely(self, key: str, text: str) -> str:
        """Take a fact as it is said, with more or less than is written; what it was taken as.

        Raises:
            FactError: it can not be taken even so.
        """
        tries = [text, in_figures(text)]
        if len(numbers := re.findall(r"\d+", tries[-1])) == 1:
            tries.append(numbers[0])
        tries.append(f"{text} {Unit.MILLIMETRE.value}")
        first: FactError | None = None
        for one in tries:
            try:
                self.set(key, one)
            except FactError as error:
                first = first or error
            else:
                return one
        raise first or FactError("this can not be read")

    def replace_none(self, role: Role) -> None:
        """Take that there is a part in the role after all, of which nothing is known yet."""
        if self.parts.get(role) == NO_PART:
            self.parts[role] = {}

    def add_part(self, role: Role) -> None:
        """Take that there is a part in the role, of which nothing else is known yet."""
        self.parts.setdefault(role, {})

    def is_open(self, key: str) -> bool:
        """Whether the fact could still be told."""
        name, _, fact = key.partition(".")
        if name in _OTHERS:
            return fact not in self.others[name]
        part = self.parts.get(Role(name), {})
        return isinstance(part, dict) and fact not in part

    def text_of(self, key: str) -> str:
        """A single fact as it was told, or as the named part has it; '' where it is not known."""
        name, _, fact = key.partition(".")
        part = self.parts.get(Role(name))
        if isinstance(part, dict):
            value = part.get(fact, "")
            return value if isinstance(value, str) else ""
        known = self.library.parts.get(part or "")
        of_part = getattr(known, fact.replace("-", "_"), None)
        return of_part.value if isinstance(of_part, Enum) else "" if of_part is None else str(of_part)

    def count_of(self, key: str) -> int:
        """How many items the list of a fact has; 0 where it is not known."""
        name, _, fact = key.partition(".")
        part = self.parts.get(Role(name))
        if isinstance(part, dict):
            return len(part.get(fact, ()))
        return len(getattr(self.library.parts.get(part or ""), fact.replace("-", "_"), ()))

    @property
    def is_hub_gear(self) -> bool:
        """Whether there is neither a derailleur nor a cassette, so that the gears can only be in the hub."""
        return all(self.parts.get(role) == NO_PART for role in (Role.REAR_DERAILLEUR, Role.CASSETTE))

    def of_bike(self, name: str) -> BikeFacts:
        """All of it, for the bike's file."""
        return BikeFacts(
            name=name,
            tag=self.tag,
            parts=self.parts,
            measured=self.others["measured"],
            rider=self.others["rider"],
            climbs=self.climbs,
            wear=dict(sorted(self.wear.items())),
        )

    def _set_wear(self, key: str, text: str) -> None:
        date, _, fact = key.partition(".")
        read_fact(WearReading, WEAR, "date", date, self.library)
        value = read_fact(WearReading, WEAR, fact, text, self.library)
        self.wear.setdefault(date, {})[fact] = value

    def _name_part(self, role: Role, part: object, text: str) -> None:
        if isinstance(part, dict) and part:
            raise FactError(f"'{role.value}' can not be '{text}': facts of it are told too")
        if text != NO_PART:
            kind = kind_of(role)
            known = [name for name, one in self.library.parts.items() if folder_of(one) == kind]
            if text not in known:
                raise FactError(f"there is no {kind} called '{text}'; {choices(text, known, 'there are')}")
        self.parts[role] = text


def read_fact(record: type, owner: str, fact: str, text: str, library: Library) -> str | tuple[str, ...]:
    """A fact of a record as it is written, one text or several.

    Raises:
        FactError: there is no such fact, or it can not be so.
    """
    shapes: dict[str, Shape] = {one.key: one.shape for one in fields_of(record)}
    if fact not in shapes:
        raise FactError(f"unknown key '{owner}.{fact}'; {choices(fact, shapes, 'its keys are')}")
    shape = shapes[fact]
    value: str | tuple[str, ...] = text
    if isinstance(shape, Many):
        # Where commas part the items, an item may have spaces of its own; a dash parts figures alone.
        figures = re.fullmatch(r"[\d\s/–-]+", text)
        parting = r"\s*[,;]\s*" if re.search("[,;]", text) else r"[\s/–-]+" if figures else r"\s+"
        value = tuple(one for one in re.split(parting, text) if one)
        if fact == "sprockets" and is_span(value):
            raise FactError(
                f"'{text}' are the ends of a cassette; write the teeth of every sprocket, smallest first, "
                "or the id of a known one as 'cassette'"
            )
    if isinstance(shape, StandardOf) and text not in words_of_set(shape.of, library.standards):
        hint = unknown_standard(text, shape.of, library.standards)
        raise FactError(f"'{text}' is none of the words that can stand here; {hint}")
    try:
        read_as(shape, list(value) if isinstance(value, tuple) else value)
    except Misread as error:
        first = error.problems[0]
        raise FactError("; ".join((first.message, *first.hints[:1]))) from None
    return value
