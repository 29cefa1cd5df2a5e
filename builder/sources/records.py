"""From a node to the values of a record, with the place of each, or to all that is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.facts import Role
from builder.model.parts import Part
from builder.model.position import Places, Position
from builder.sources.mistakes import Fault, Path, Wrong, explain, not_keys
from builder.sources.nodes import Listing, Node, Scalar, Table, data_of
from builder.sources.reading import Misread, read_as, read_name, read_part_name
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
    reader = _Reader()
    values = reader.values(record, node, at)
    return (None, explain(record, node, at, reader.faults)) if reader.faults else (values, ())


def _inner_places(key: str, node: Node) -> list[tuple[str, Position]]:
    match node:
        case Listing(items):
            return [(f"{key}.{number}", item.at) for number, item in enumerate(items)]
        case Table(entries):
            return [(f"{key}.{name}", entry.value.at) for name, entry in entries.items()]
        case Scalar():
            return []


class _Reader:
    """Reads the values of one record to its end, whatever is wrong on the way, and keeps every fault."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def values(
        self, record: type, node: Table, at: Position, path: Path = (), *, may_lack: frozenset[str] = frozenset()
    ) -> dict[str, Any]:
        """The values that are written, by field, with `places` where the record keeps them."""
        values: dict[str, Any] = {}
        keys: list[tuple[str, Position]] = []
        for field in fields_of(record):
            entry = node.entries.get(field.key)
            if entry is not None:
                values[field.name] = self._value(field.shape, entry.value, (*path, field.key))
                keys.append((field.key, entry.value.at))
                keys.extend(_inner_places(field.key, entry.value))
            elif field.required and field.key not in may_lack:
                self.faults.append(Fault((*path, field.key), Wrong.LACKING))
        known = {field.key for field in fields_of(record)}
        self.faults.extend(Fault((*path, key), Wrong.UNKNOWN) for key in node.entries if key not in known)
        if has_places(record):
            values["places"] = Places(at, tuple(keys))
        return values

    def _value(self, shape: Shape, node: Node, path: Path) -> Any:
        """The value; None where it is at fault."""
        match shape, node:
            case Record(kinds), Table(entries):
                return self._made(kind_among(kinds, entries), node, node.at, path)
            case Many(item), Listing(nodes):
                return tuple(self._value(item, below, (*path, number)) for number, below in enumerate(nodes))
            case Keyed(_, inner), Table(entries):
                return {
                    self._name(name, path): self._value(inner, entries[name].value, (*path, name)) for name in entries
                }
            case PartsByRole(), Table():
                return self._parts(node, path)
            case ((Record() | Many() | Keyed() | PartsByRole()), _):
                self.faults.append(Fault(path, Wrong.FORM))
                return None
            case _:
                return self._read(partial(read_as, shape, data_of(node)), path)

    def _made(self, kind: type, node: Table, at: Position, path: Path, **given: str) -> Any:
        """The record that stands within another; `given` are values that it may leave out."""
        before = len(self.faults)
        values = self.values(kind, node, at, path, may_lack=frozenset(given))
        return kind(**{**given, **values}) if len(self.faults) == before else None

    def _name(self, name: str, path: Path) -> Any:
        return self._read(partial(read_name, name), (*path, name))

    def _read(self, read: Callable[[], Any], path: Path) -> Any:
        try:
            return read()
        except Misread as error:
            self.faults.append(Fault(path, Wrong.VALUE, error.problems))
            return None

    def _parts(self, node: Table, path: Path) -> WrittenParts:
        parts: dict[Role, Part | NamedPart] = {}
        without: set[Role] = set()
        for role in Role:
            entry = node.entries.get(role.value)
            if entry is None:
                continue
            below = (*path, role.value)
            if isinstance(entry.value, Table):
                name = role.value.replace("-", " ")
                parts[role] = self._made(kind_for(role), entry.value, entry.key.at, below, name=name)
                continue
            named = self._read(partial(read_part_name, data_of(entry.value)), below)
            if named == NO_PART:
                without.add(role)
            else:
                parts[role] = NamedPart(named, entry.value.at)
        known = list(Role)
        self.faults.extend(Fault((*path, key), Wrong.UNKNOWN) for key in node.entries if key not in known)
        return WrittenParts(parts, frozenset(without))
