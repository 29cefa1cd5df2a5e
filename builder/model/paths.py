"""The facts of a bike by their paths, such as `rear-derailleur.capacity-teeth`: what each declares, and its value."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from enum import StrEnum
from functools import cache

from builder.model.bike import Bike, Measurements, Rider
from builder.model.declared import Declared, annotations_of, declared
from builder.model.facts import Role
from builder.model.fields import UNIT_SUFFIX
from builder.model.parts import KINDS, kind_of
from builder.model.units import Unit

MEASURED, RIDER, WORKED_OUT, FASTENER = "measured", "rider", "worked-out", "fastener"

_ROLES: Mapping[str, Role] = {role.value: role for role in Role}


class Unknown(StrEnum):
    """Why a fact has no value."""

    # Nobody has said it yet.
    NOT_KNOWN = "not-known"
    # The bike has no such part.
    NO_PART = "no-part"


def is_worked_out(path: str) -> bool:
    """Whether `path` is no fact of a file but worked out of such facts."""
    return path.partition(".")[0] in (WORKED_OUT, FASTENER)


def role_of(path: str) -> Role | None:
    """The place whose part `path` is about; None for a measurement or the rider."""
    place = path.partition(".")[0]
    return _ROLES.get(place)


def fact_field(path: str) -> Declared:
    """What the field behind `path` declares: type, unit and bounds.

    Raises:
        LookupError: there is no such fact; the message names the path.
    """
    record, _, key = _record_and_key(path)
    name = _field_names(record).get(key)
    if name is None:
        raise LookupError(f"no fact is called '{path}'")
    return declared(annotations_of(record)[name])


def fact_value(path: str, bike: Bike) -> object:
    """The value of `path` on `bike`: what its file says, or an `Unknown`.

    Raises:
        LookupError: there is no such fact.
    """
    record, place, key = _record_and_key(path)
    name = _field_names(record).get(key)
    if name is None:
        raise LookupError(f"no fact is called '{path}'")
    if place in (MEASURED, RIDER):
        holder: object = bike.measured if place == MEASURED else bike.rider
    else:
        role = Role(place)
        if role in bike.without:
            return Unknown.NO_PART
        holder = bike.part(role)
        if holder is None:
            return Unknown.NOT_KNOWN
    value = getattr(holder, name)
    return Unknown.NOT_KNOWN if value is None or value == () or value == "" else value


def field_of(record: type, key: str) -> str | None:
    """The name of the record's field that is written `key`; None where it has none."""
    return _field_names(record).get(key)


def facts_of(record: type) -> tuple[str, ...]:
    """The keys of a record's own facts, in their order."""
    return tuple(_field_names(record))


def unit_at(path: str) -> str:
    """The printed unit of the fact at a path; '' where it has none, or where no fact is called so."""
    try:
        record, _, key = _record_and_key(path)
    except LookupError:
        return ""
    name = _field_names(record).get(key)
    unit = None if name is None else _unit_of(annotations_of(record)[name])
    return "" if unit is None else unit.value


def _record_and_key(path: str) -> tuple[type, str, str]:
    place, _, key = path.partition(".")
    if place == MEASURED:
        return Measurements, place, key
    if place == RIDER:
        return Rider, place, key
    role = role_of(path)
    if role is None:
        raise LookupError(f"no fact is called '{path}'")
    return KINDS[kind_of(role)], place, key


@cache
def _field_names(record: type) -> Mapping[str, str]:
    """The fields of a record by their written keys: `chainstay_mm`, kept in millimetres, is written `chainstay`."""
    hints = annotations_of(record)
    found: dict[str, str] = {}
    for one in fields(record):
        unit = _unit_of(hints[one.name])
        ending = UNIT_SUFFIX.get(unit, "") if unit is not None else ""
        found[one.name.removesuffix(ending).rstrip("_").replace("_", "-")] = one.name
    return found


def _unit_of(annotation: object) -> Unit | None:
    try:
        return declared(annotation).unit
    except TypeError:
        return None
