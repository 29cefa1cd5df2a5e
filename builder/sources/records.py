"""From a node to the values of a record, with the place of each, or to all that is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.facts import Role
from builder.model.parts import Part
from builder.model.position import Places, Position
from builder.sources.mistakes import explain, not_keys
from builder.sources.nodes import Listing, Node, Scalar, Table, data_of
from builder.sources.schema import Written, model_of
from builder.sources.shapes import (
    NO_PART,
    Keyed,
    Many,
    PartsByRole,
    Record,
    Shape,
    fields_of,
    has_places,
    kind_among,
    kind_for,
)


@dataclass(frozen=True, slots=True)
class NamedPart:
    """A bike's part that is written by its id, until all parts are read."""

    id: str
    at: Position


@dataclass(frozen=True, slots=True)
class WrittenParts:
    """A bike's parts as they are written."""

    parts: Mapping[Role, Part | NamedPart]
    without: frozenset[Role]


def read_record(record: type, node: Node, at: Position) -> tuple[dict[str, Any] | None, tuple[Diagnostic, ...]]:
    """The values of a record by field, or None and every mistake in it.

    `at` is the place of the record itself, such as its id. A bike's parts come as `WrittenParts`.
    """
    if not isinstance(node, Table):
        return None, (not_keys(record, node),)
    try:
        model = model_of(record).model_validate(data_of(node))
    except ValidationError as error:
        return None, explain(record, node, at, error)
    return _values(record, model, node, at), ()


def _values(record: type, model: Written, node: Table, at: Position) -> dict[str, Any]:
    """The values that are written, by field, with `places` where the record keeps them."""
    values: dict[str, Any] = {}
    keys: list[tuple[str, Position]] = []
    for field in fields_of(record):
        entry = node.entries.get(field.key)
        if entry is not None:
            values[field.name] = _value(field.shape, getattr(model, field.name), entry.value)
            keys.append((field.key, entry.value.at))
            keys.extend(_inner_places(field.key, entry.value))
    if has_places(record):
        values["places"] = Places(at, tuple(keys))
    return values


def _inner_places(key: str, node: Node) -> list[tuple[str, Position]]:
    match node:
        case Listing(items):
            return [(f"{key}.{number}", item.at) for number, item in enumerate(items)]
        case Table(entries):
            return [(f"{key}.{name}", entry.value.at) for name, entry in entries.items()]
        case Scalar():
            return []


def _value(shape: Shape, read: Any, node: Node) -> Any:
    match shape, node:
        case Record(kinds), Table(entries):
            kind = kind_among(kinds, entries)
            return kind(**_values(kind, read, node, node.at))
        case Many(item), Listing(nodes):
            return tuple(_value(item, one, below) for one, below in zip(read, nodes, strict=True))
        case Keyed(_, inner), Table(entries):
            return {name: _value(inner, one, entries[name].value) for name, one in read.items()}
        case PartsByRole(), Table():
            return _parts(read, node)
        case _:
            return read


def _parts(read: Written, node: Table) -> WrittenParts:
    parts: dict[Role, Part | NamedPart] = {}
    without: set[Role] = set()
    for role in Role:
        entry = node.entries.get(role.value)
        if entry is None:
            continue
        if isinstance(entry.value, Table):
            kind = kind_for(role)
            written = _values(kind, getattr(read, role.name.lower()), entry.value, entry.key.at)
            parts[role] = kind(**{"name": role.value.replace("-", " "), **written})
        elif getattr(read, role.name.lower()) == NO_PART:
            without.add(role)
        else:
            parts[role] = NamedPart(getattr(read, role.name.lower()), entry.value.at)
    return WrittenParts(parts, frozenset(without))
