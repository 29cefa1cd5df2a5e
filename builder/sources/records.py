"""From a node to a record of the model with its places, or to all that is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from builder.diagnostics.diagnostic import Diagnostic, nearest
from builder.model.facts import Role
from builder.model.guide import Use
from builder.model.parts import Part
from builder.model.position import Places, Position
from builder.sources.descriptions import example
from builder.sources.reading import Misread, Problem, known, what_is
from builder.sources.schema import NO_PART, Written, is_marker, model_of
from builder.sources.shapes import (
    Keyed,
    Many,
    PartsByRole,
    Record,
    Shape,
    fields_of,
    has_places,
    kind_for,
    words_of,
)
from builder.sources.yaml_tree import Listing, Node, Scalar, Table, data_of


@dataclass(frozen=True, slots=True)
class NamedPart:
    """A bike's part that is written by its id, until all parts are read."""

    id: str
    at: Position


@dataclass(frozen=True, slots=True)
class PartsOfBike:
    """A bike's parts as they are written."""

    parts: Mapping[Role, Part | NamedPart]
    without: frozenset[Role]


def read_record(
    record: type, node: Node, at: Position, values: Mapping[str, Any]
) -> tuple[dict[str, Any] | None, tuple[Diagnostic, ...]]:
    """The values of a record, by field, from its node: they make the record once its parts are known.

    `at` is the place of the record itself, such as its id; `values` are those that are not written in it. Where
    anything is wrong the values are None, and every mistake is told.
    """
    if not isinstance(node, Table):
        return None, (_wrong_shape(record, node, at),)
    try:
        model = model_of(record).model_validate(data_of(node))
    except ValidationError as error:
        return None, tuple(
            found for details in error.errors(include_url=False) for found in _explain(record, details, node, at)
        )
    return {**_values(record, model, node, at), **values}, ()


def _values(record: type, model: Written, node: Table, at: Position) -> dict[str, Any]:
    """The values of the fields that are written, and the places of them all."""
    values: dict[str, Any] = {}
    keys: list[tuple[str, Position]] = []
    for field in fields_of(record):
        entry = node.entries.get(field.key)
        if entry is None:
            continue
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


def _value(shape: Shape, value: Any, node: Node) -> Any:
    match shape, node:
        case Record(), Table():
            return _record(value, node, node.at)
        case Many(item), Listing(nodes):
            return tuple(_value(item, one, below) for one, below in zip(value, nodes, strict=True))
        case Keyed(_, inner), Table(entries):
            return {name: _value(inner, one, entries[name].value) for name, one in value.items()}
        case PartsByRole(), Table(entries):
            parts: dict[Role, Part | NamedPart] = {}
            without: set[Role] = set()
            for role in Role:
                entry = entries.get(role.value)
                if entry is None:
                    continue
                written = getattr(value, role.name.lower())
                if written == NO_PART:
                    without.add(role)
                elif isinstance(written, str):
                    parts[role] = NamedPart(written, entry.value.at)
                elif isinstance(entry.value, Table):
                    kind = kind_for(role)
                    fields = {"name": words_of(kind), **_values(kind, written, entry.value, entry.key.at)}
                    parts[role] = kind(**fields)
            return PartsOfBike(parts, frozenset(without))
        case _:
            return value


def _record(model: Written, node: Table, at: Position) -> Any:
    kind = model.kind
    return kind(**_values(kind, model, node, at))


def _wrong_shape(record: type, node: Node, at: Position) -> Diagnostic:
    first = next(field for field in fields_of(record) if field.required)
    return Diagnostic(
        rule="wrong-shape",
        message=f"keys with values are wanted here, not {what_is(data_of(node))}",
        at=node.at,
        hints=(f"write a {words_of(record)} as keys below one another, such as '{first.key}: {example(first.shape)}'",),
    )


def _explain(record: type, details: ErrorDetails, root: Table, at: Position) -> tuple[Diagnostic, ...]:
    """The diagnostics for one of pydantic's errors, in our own words and at its place."""
    path = tuple(step for step in details["loc"] if not is_marker(step))
    kind = details["type"]
    if kind == "missing":
        *above, key = path
        return (_missing(record, tuple(above), str(key), root, at),)
    if kind == "extra_forbidden":
        return (_unknown_key(record, path, root),)
    node, key_place, _ = _find(root, at, path)
    error = details.get("ctx", {}).get("error")
    if isinstance(error, Misread):
        return tuple(_problem(problem, path, root, at) for problem in error.problems)
    found = what_is(details["input"])
    if kind in ("tuple_type", "list_type"):
        text = node.text if isinstance(node, Scalar) else "..."
        wrong = Problem(f"a list is wanted here, not {found}", hints=(f"write [{text}]",))
    elif kind in ("dict_type", "model_type", "model_attributes_type"):
        wrong = Problem(f"keys with values are wanted here, not {found}", hints=(_keys_hint(record, path),))
    else:
        wrong = Problem(f"this can not be read: {details['msg']}")
    del key_place
    return (_problem(wrong, path, root, at),)


def _problem(problem: Problem, path: tuple[str | int, ...], root: Table, at: Position) -> Diagnostic:
    node, key_place, found = _find(root, at, (*path, *problem.path))
    place = key_place if problem.at_key and found else node.at
    return Diagnostic(rule="value", message=problem.message, at=place, label=problem.label, hints=problem.hints)


def _missing(record: type, above: tuple[str | int, ...], key: str, root: Table, at: Position) -> Diagnostic:
    node, key_place, _ = _find(root, at, above)
    owner = _record_at(record, above, root)
    field = next((field for field in fields_of(owner) if field.key == key), None)
    shown = example(field.shape) if field else "..."
    return Diagnostic(
        rule="missing-key",
        message=f"this {words_of(owner)} has no '{key}'",
        at=key_place,
        hints=(f"write '{key}: {shown}'",),
    )


def _unknown_key(record: type, path: tuple[str | int, ...], root: Table) -> Diagnostic:
    *above, key = path
    node, key_place, _ = _find(root, root.at, path)
    del node
    owner = _record_at(record, tuple(above), root)
    if owner is PartsOfBike:
        names = [role.value for role in Role]
        what = "role of a part"
    else:
        names = [field.key for field in fields_of(owner)]
        what = "key"
    near = nearest(str(key), names)
    hints = (f"did you mean '{near}'?",) if near else ()
    place = "a bike's parts" if owner is PartsOfBike else f"a {words_of(owner)}"
    return Diagnostic(
        rule="unknown-key",
        message=f"unknown {what} '{key}'",
        at=key_place,
        label=f"{place} has no such {'role' if owner is PartsOfBike else 'key'}",
        hints=(*hints, known("its keys" if owner is not PartsOfBike else "the roles", names)),
    )


def _keys_hint(record: type, path: tuple[str | int, ...]) -> str:
    del record, path
    return "write 'key: value' lines below it, indented by two spaces"


def _find(root: Table, at: Position, path: tuple[str | int, ...]) -> tuple[Node, Position, bool]:
    """The node at `path`, the place of its key, and whether the whole path was found; else as far as it goes."""
    node: Node = root
    key_place = at
    for step in path:
        if step == "[key]":
            continue
        if isinstance(node, Table) and step in node.entries:
            entry = node.entries[str(step)]
            node, key_place = entry.value, entry.key.at
        elif isinstance(node, Listing) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
            key_place = node.at
        else:
            return node, key_place, False
    return node, key_place, True


def _record_at(record: type, path: tuple[str | int, ...], root: Table) -> type:
    """The kind of record at `path` below `record`; `PartsOfBike` for a bike's parts."""
    shape: Shape = Record((record,))
    node: Node = root
    for step in path:
        if isinstance(shape, Record):
            kind = _kind_of(shape, node)
            shape = next((field.shape for field in fields_of(kind) if field.key == step), shape)
        elif isinstance(shape, PartsByRole):
            shape = Record((kind_for(Role(str(step))),))
        elif isinstance(shape, Many):
            shape = shape.item
        elif isinstance(shape, Keyed):
            shape = shape.value
        if isinstance(node, Table) and str(step) in node.entries:
            node = node.entries[str(step)].value
        elif isinstance(node, Listing) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
    if isinstance(shape, PartsByRole):
        return PartsOfBike
    return _kind_of(shape, node) if isinstance(shape, Record) else record


def _kind_of(shape: Record, node: Node) -> type:
    """Which kind of record a node is: one with the key `use` places a procedure."""
    if len(shape.kinds) == 1:
        return shape.kinds[0]
    uses = isinstance(node, Table) and "use" in node.entries
    return next(kind for kind in shape.kinds if (kind is Use) == uses)
