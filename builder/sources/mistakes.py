"""What is wrong with a record, in our own words: from the faults that its reading found to diagnostics."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from itertools import islice

from builder.diagnostics.diagnostic import Diagnostic, nearest
from builder.model.facts import Role
from builder.model.position import Position
from builder.sources.descriptions import example
from builder.sources.nodes import Listing, Node, Scalar, Table, data_of
from builder.sources.reading import Problem, known, what_is
from builder.sources.shapes import (
    Keyed,
    Many,
    PartsByRole,
    Record,
    Shape,
    Text,
    When,
    fields_of,
    kind_among,
    kind_for,
    words_of,
)

Path = tuple[str | int, ...]
# Each mistake costs a search for the nearest name; who has so many mends these first.
_MOST_TOLD = 100


class Wrong(Enum):
    """What may be wrong with what stands at a place, or should."""

    LACKING = "lacking"
    UNKNOWN = "unknown"
    FORM = "form"  # a single value, a list or keys, where another of them is wanted
    VALUE = "value"


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong at `path`, keys and numbers of items below a record; of a value, with its problems."""

    path: Path
    wrong: Wrong
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class _Spot:
    """A value in a record: its shape where it has one, its node, and the place of its key (of an item, its own)."""

    shape: Shape | None
    node: Node
    key: Position


def explain(record: type, root: Table, at: Position, faults: Iterable[Fault]) -> tuple[Diagnostic, ...]:
    """A diagnostic for every fault of the record at `root`, whose own place is `at`."""
    start = _Spot(Record((record,)), root, at)
    missing: dict[Path, list[str]] = {}
    found: list[Diagnostic] = []
    for fault in islice(faults, _MOST_TOLD):
        if fault.wrong is Wrong.LACKING:
            missing.setdefault(fault.path[:-1], []).append(str(fault.path[-1]))
        else:
            found.extend(_explain_one(start, fault))
    found.extend(_missing(_walk(start, path), keys) for path, keys in missing.items())
    return tuple(found)


def not_keys(record: type, node: Node) -> Diagnostic:
    """A record that is not written as keys with values."""
    return _at_value(_wants_keys(Record((record,)), what_is(data_of(node))), _Spot(None, node, node.at))


def _explain_one(start: _Spot, fault: Fault) -> tuple[Diagnostic, ...]:
    path = fault.path
    if fault.wrong is Wrong.UNKNOWN:
        return (_unknown(_walk(start, path[:-1]), _walk(start, path), str(path[-1])),)
    spot = _walk(start, path)
    if fault.wrong is Wrong.VALUE:
        return tuple(_at_value(problem, _walk(spot, problem.path)) for problem in fault.problems)
    found = what_is(data_of(spot.node))
    if isinstance(spot.shape, Keyed | PartsByRole | Record):
        return (_at_value(_wants_keys(spot.shape, found), spot),)
    shape = spot.shape or Text()
    shown = f"[{spot.node.text}]" if isinstance(spot.node, Scalar) else example(shape)
    return (_at_value(Problem(f"a list is wanted here, not {found}", hints=(f"write {shown}",)), spot),)


def _wants_keys(shape: Keyed | PartsByRole | Record, found: str) -> Problem:
    return Problem(f"keys with values are wanted here, not {found}", hints=(f"write {example(shape)}",))


def _at_value(problem: Problem, spot: _Spot) -> Diagnostic:
    at = spot.key if problem.at_key else spot.node.at
    return Diagnostic(rule="value", message=problem.message, at=at, label=problem.label, hints=problem.hints)


def _missing(owner: _Spot, keys: list[str]) -> Diagnostic:
    """A record that lacks keys; they are told together, with how each may be written."""
    kind = _kind(owner)
    shapes = {field.key: field.shape for field in fields_of(kind)} if kind else {}
    names = [f"'{key}'" for key in keys]
    listed = " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)
    return Diagnostic(
        rule="missing-key",
        message=f"this {words_of(kind) if kind else 'record'} has no {listed}",
        at=owner.key,
        hints=tuple(f"write '{key}: {example(shapes[key]) if key in shapes else '...'}'" for key in keys),
    )


def _unknown(owner: _Spot, spot: _Spot, key: str) -> Diagnostic:
    kind = _kind(owner)
    if kind is None:
        what, names, holder = "role", [role.value for role in Role], "there is"
    else:
        what, names, holder = "key", [field.key for field in fields_of(kind)], f"a {words_of(kind)} has"
    near = nearest(key, names)
    return Diagnostic(
        rule="unknown-key",
        message=f"unknown {what} '{key}'",
        at=spot.key,
        label=f"{holder} no such {what}",
        hints=(*((f"did you mean '{near}'?",) if near else ()), known(f"the {what}s are", names)),
    )


def _kind(spot: _Spot) -> type | None:
    """The kind of record that stands at a place; None for a bike's parts."""
    if isinstance(spot.shape, Record):
        return kind_among(spot.shape.kinds, spot.node.entries if isinstance(spot.node, Table) else ())
    return None


def _walk(spot: _Spot, path: Path) -> _Spot:
    """The value at `path` below `spot`, or as far towards it as anything is written."""
    for step in path:
        shape = _below(spot, step)
        match spot.node:
            case Table(entries) if step in entries:
                entry = entries[str(step)]
                spot = _Spot(shape, entry.value, entry.key.at)
            case Listing(items) if isinstance(step, int) and step < len(items):
                spot = _Spot(shape, items[step], items[step].at)
            case _:
                return spot
    return spot


def _below(spot: _Spot, step: str | int) -> Shape | None:
    match spot.shape:
        case Record():
            kind = _kind(spot)
            return next((field.shape for field in fields_of(kind) if field.key == step), None) if kind else None
        case PartsByRole():
            return Record((kind_for(Role(step)),)) if step in list(Role) else None
        case Keyed(_, value):
            return value
        case Many(item):
            return item
        case When():
            return When()
        case _:
            return None
