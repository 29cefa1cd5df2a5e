"""Facts → a bike: what was said of it, as the model holds it; the same bike that its written file comes to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from builder.model.bike import Bike, Climb, Measurements, Rider, WearReading
from builder.model.facts import Role
from builder.model.library import Library
from builder.model.parts import Part
from builder.rider.facts import FactError, Facts, read_fact
from builder.sources.reading import read_as
from builder.sources.shapes import NO_PART, fields_of, kind_for


def bike_of(facts: Facts, name: str, bike: str = "") -> Bike:
    """The bike that the facts tell of; `bike` is its id."""
    parts: dict[Role, Part] = {}
    without: set[Role] = set()
    for role in (role for role in Role if role in facts.parts):
        told = facts.parts[role]
        if told == NO_PART:
            without.add(role)
        elif isinstance(told, str):
            parts[role] = facts.library.parts[told]
        else:
            kind: type[Any] = kind_for(role)
            parts[role] = kind(**{"name": role.value.replace("-", " "), **_values(kind, told)})
    return Bike(
        id=bike,
        name=name,
        tag=facts.tag,
        parts=parts,
        without=frozenset(without),
        measured=Measurements(**_values(Measurements, facts.others["measured"])),
        rider=Rider(**_values(Rider, facts.others["rider"])),
        climbs=tuple(Climb(name=name, **_values(Climb, {"gradient": said})) for name, said in facts.climbs.items()),
        wear=tuple(WearReading(date=date, **_values(WearReading, told)) for date, told in sorted(facts.wear.items())),
    )


def described_parts(told: object, library: Library) -> dict[Role, Part]:
    """Parts that are told of by their figures: for each place, texts by key.

    Raises:
        FactError: one of them can not be taken.
    """
    found: dict[Role, Part] = {}
    for place, facts in (told if isinstance(told, Mapping) else {}).items():
        if place not in list(Role) or not isinstance(facts, Mapping):
            raise FactError("there is no such place for a part")
        role = Role(place)
        kind: type[Any] = kind_for(role)
        given = {
            key: read_fact(kind, place, str(key), str(said), library)
            for key, said in facts.items()
            if str(said).strip()
        }
        if given:
            name = f"{place.replace('-', ' ')} as described"
            found[role] = kind(**{"name": name, **_values(kind, given), "id": f"{place}-as-described"})
    return found


def _values(record: type, texts: Mapping[str, str | tuple[str, ...]]) -> dict[str, Any]:
    """The written values of a record by its fields."""
    return {one.name: read_as(one.shape, texts[one.key]) for one in fields_of(record) if one.key in texts}
