"""What an editor is told about each value: how it is written, and what the model's docstrings say of it."""

from __future__ import annotations

import dataclasses
import inspect
import re
from typing import Any

from builder.model.facts import Role
from builder.model.parts import kind_of
from builder.model.units import Measure, Range, Unit, written_units
from builder.sources.shapes import (
    DOTTED,
    KEBAB,
    Field,
    Keyed,
    Many,
    Number,
    OneOf,
    PartsByRole,
    Quantity,
    Record,
    Shape,
    StandardOf,
    Text,
    Truth,
    When,
    fields_of,
    words_of,
)

# Stands for a condition until the whole schema is made, since a condition's schema refers to itself.
CONDITION: dict[str, Any] = {"$comment": "condition"}
NAME: dict[str, Any] = {"type": "string", "pattern": f"^{KEBAB}$"}
IDS: dict[str, Any] = {"type": "string", "pattern": f"^{DOTTED}$"}

_EXAMPLES: dict[Unit, tuple[str, str, str]] = {
    Unit.MILLIMETRE: ("425 mm", "425 ± 2 mm", "9–12 mm"),
    Unit.NEWTON_METRE: ("40 N·m", "40 ± 2 N·m", "35–45 N·m"),
    Unit.BAR: ("4 bar", "4 ± 0.1 bar", "3–5 bar"),
    Unit.KILOGRAM: ("14 kg", "14 ± 0.5 kg", "12–14 kg"),
    Unit.WATT: ("180 W", "180 ± 10 W", "150–200 W"),
    Unit.MINUTE: ("20 min", "20 ± 5 min", "15–20 min"),
    Unit.PERCENT: ("8 %", "0.5 ± 0.1 %", "25–30 %"),
    Unit.DEGREE: ("73 deg", "73 ± 0.5 deg", "70–74 deg"),
    Unit.PER_MINUTE: ("60 rev/min", "60 ± 5 rev/min", "60–90 rev/min"),
    Unit.KILOMETRE: ("1200 km", "1200 ± 10 km", "1000–1500 km"),
    Unit.MONEY: ("34 €", "34 ± 1 €", "30–40 €"),
}
_NUMBER = r"[+–−-]?\s*(?:(?:\d+ )?\d+ ?/ ?\d+|\d*[¼½¾⅛⅜⅝⅞⅓⅔]|\d+(?:[.,]\d+)?|[.,]\d+)"


def example(shape: Shape) -> str:
    """How a value of this shape may be written."""
    match shape:
        case Text(date=True):
            return "2026-11-25"
        case Text():
            return "..."
        case Truth():
            return "true"
        case Number(whole=True, low=low):
            return f"{max(int(low), 1)}"
        case Number():
            return "1.5"
        case Quantity(kind, unit):
            return _EXAMPLES.get(unit, (f"12 {unit.value}",) * 3)[(float, Measure, Range).index(kind)]
        case OneOf(choices):
            return " | ".join(str(choice.value) for choice in choices)
        case StandardOf(of):
            return " | ".join(of.words)
        case Many(Record((kind, *_))):
            return "[" + example(Record((kind,))) + "]"
        case Many(item):
            return f"[{example(item)}]"
        case Keyed(_, value):
            return "{...: " + example(value) + "}"
        case Record(kinds):
            fields = fields_of(kinds[0])
            shown = [field for field in fields if field.required] or fields[:1]
            keys = (f"{field.key}: {example(field.shape)}" for field in shown)
            return "{" + ", ".join(keys) + "}"
        case When():
            return "{rear-axle: quick-release}"
        case PartsByRole():
            return "{chain: ...}"


def schema_of(shape: Text | Truth | Number | Quantity | OneOf | StandardOf | When) -> dict[str, Any]:
    """The JSON Schema of a single value."""
    match shape:
        case Text(date=True):
            return {"type": "string", "format": "date", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
        case Text(collection=collection) if collection:
            return IDS if collection == "named_texts" else NAME
        case Text():
            return {"type": "string", "minLength": 1}
        case Truth():
            return {"type": "boolean"}
        case Number(whole, low, high):
            ends = {"minimum": int(low), "maximum": int(high)} if whole else {"minimum": low, "maximum": high}
            return {"type": "integer" if whole else "number", **ends}
        case Quantity():
            return _quantity_schema(shape)
        case OneOf(choices):
            return {"enum": [choice.value for choice in choices], "description": of_record(choices)}
        case StandardOf(of):
            own = {**NAME, "description": "The id of a standard of your own, from catalogue/standards.yaml."}
            return {"anyOf": [{"enum": list(of.words)}, own]}
        case When():
            return dict(CONDITION)


def _quantity_schema(shape: Quantity) -> dict[str, Any]:
    units = "|".join(re.escape(unit).replace(r"\-", "-") for unit in sorted(written_units(shape.unit), key=len)[::-1])
    middle = ""
    if shape.kind is Measure:
        middle = rf"(?:\s*(?:(?:{units})\s*)?(?:±|\+/-)\s*{_NUMBER})?"
    elif shape.kind is Range:
        middle = rf"(?:\s*(?:(?:{units})\s*)?(?:–|-|to|±|\+/-)\s*{_NUMBER})?"
    return {
        "type": "string",
        "pattern": rf"^\s*{_NUMBER}{middle}\s*(?:{units})\s*$",
        "examples": [example(shape)],
    }


def condition_schema() -> dict[str, Any]:
    """The JSON Schema of a condition, which refers to itself."""
    itself = {"$ref": "#/$defs/Condition"}
    case = {"type": "string"}
    return {
        "description": "Attributes of the bike or the plan with the cases for which this holds; all of them must hold.",
        "type": "object",
        "minProperties": 1,
        "properties": {
            "all": {"type": "array", "items": itself, "minItems": 1},
            "any": {"type": "array", "items": itself, "minItems": 1},
            "not": itself,
        },
        "additionalProperties": {"anyOf": [case, {"type": "array", "items": case, "minItems": 1}]},
    }


def part_name(role: Role) -> dict[str, Any]:
    """The JSON Schema of a part's id in a bike's file."""
    return {
        "type": "string",
        "pattern": f"^{KEBAB}$",
        "description": f"The id of a part from parts/{kind_of(role)}/, or none.",
    }


def of_record(record: type) -> str:
    """A record's docstring in one line, with keys in place of field names."""
    text = " ".join((inspect.getdoc(record) or words_of(record)).split())
    if dataclasses.is_dataclass(record):
        for field in fields_of(record):
            text = text.replace(f"`{field.name}`", f"`{field.key}`")
    return text


def of_field(record: type, field: Field) -> str | None:
    """The sentences about a field in the docstrings of its record, and how it is written; None where there are none."""
    told = [
        sentence.strip().rstrip(".;") + "."
        for kind in record.__mro__
        if dataclasses.is_dataclass(kind)
        for sentence in re.split(r"(?<=[.;])\s", of_record(kind))
        if f"`{field.key}`" in sentence
    ]
    match field.shape:
        case Quantity() | When():
            told.append(f"Write it so: `{example(field.shape)}`.")
        case Text(collection=collection) | Many(Text(collection=collection)) if collection:
            told.append(f"An id of the {collection.replace('_', ' ')}.")
        case _:
            pass
    return " ".join(told) or None
