"""Facts → a bike: what was said of it, as the model holds it; the same bike that its written file comes to."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from builder.model.bike import Bike, Measurements, Rider
from builder.model.facts import Role
from builder.model.parts import Part
from builder.rider.facts import Facts
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
    )


def _values(record: type, texts: Mapping[str, str | tuple[str, ...]]) -> dict[str, Any]:
    """The written values of a record by its fields."""
    return {one.name: read_as(one.shape, texts[one.key]) for one in fields_of(record) if one.key in texts}
