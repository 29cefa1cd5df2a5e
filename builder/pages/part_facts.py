"""What is known of a part or a bike, as label and value: every field that is filled in, its unit from its name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from enum import Enum
from typing import Any

from builder.model.fields import UNIT_SUFFIX
from builder.model.parts import Part
from builder.model.units import Measure, Range, Unit, write_number, write_quantity, write_range

# What has a place of its own on a page, or none.
_ELSEWHERE = frozenset(field.name for field in fields(Part))
_SUFFIXES = {suffix: unit for unit, suffix in UNIT_SUFFIX.items()} | {"_teeth": Unit.TEETH, "_links": Unit.LINKS}


def facts_of(thing: Any) -> tuple[tuple[str, str], ...]:
    """Label and value of every known fact in a frozen dataclass such as a part or a bike's measurements."""
    found = []
    for field in fields(thing):
        value = getattr(thing, field.name)
        if field.name in _ELSEWHERE or value is None or value == "" or value == ():
            continue
        label, unit = _label(field.name)
        found.append((label, _written(value, unit)))
    return tuple(found)


def _label(name: str) -> tuple[str, Unit]:
    for suffix, unit in _SUFFIXES.items():
        if name.endswith(suffix):
            return name.removesuffix(suffix).replace("_", " "), unit
    return name.replace("_", " "), Unit.ONE


def _written(value: object, unit: Unit) -> str:
    match value:
        case Measure(tolerance=0):
            return write_quantity(value.value, unit, 2)
        case Measure():
            return f"{write_number(value.value, 2)} ± {write_quantity(value.tolerance, unit, 2)}"
        case Range():
            return write_range(value, unit, 2)
        case Enum():
            return str(value.value).replace("-", " ")
        case tuple():
            return ", ".join(_written(item, Unit.ONE) for item in value)
        case Mapping():
            return ", ".join(f"{key}: {_written(item, unit)}" for key, item in value.items())
        case float() | int():
            return write_quantity(value, unit, 3)
        case _:
            return str(value)
