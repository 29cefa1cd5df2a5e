"""Every name that a record mentions, with its exact place: found in the nodes, so that a record that could not be read
is still asked for its names, and one run tells all.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from builder.model.facts import Role, StandardSet
from builder.model.guide import Step
from builder.model.position import Position
from builder.sources.nodes import Listing, Node, Scalar, Table
from builder.sources.shapes import (
    NO_PART,
    Keyed,
    Many,
    PartsByRole,
    Record,
    Shape,
    StandardOf,
    Text,
    When,
    fields_of,
    kind_among,
    kind_for,
)
from builder.sources.text import place_in

_STATES = "states"
# No braces within, so that a text of many open ones is gone through once.
_SHOWN = re.compile(r"\{\{((?:[^{}]|\{(?!\{)|\}(?!\}))*)\}\}")
_BRACES = re.compile(r"\{\{|\}\}")


@dataclass(frozen=True, slots=True)
class Named:
    """A record of a collection is named."""

    collection: str
    name: str
    at: Position


@dataclass(frozen=True, slots=True)
class PartInRole:
    """A bike names the part in a role."""

    role: Role
    name: str
    at: Position


@dataclass(frozen=True, slots=True)
class StateValue:
    """A value of a state is named."""

    state: str
    value: str
    at: Position


@dataclass(frozen=True, slots=True)
class StandardWord:
    """A standard is named, by a word that comes with the program or by the id of a workshop's own."""

    of: StandardSet
    word: str
    at: Position


@dataclass(frozen=True, slots=True)
class Case:
    """A condition asks whether an attribute is one of its cases."""

    attribute: str
    case: str
    at: Position


@dataclass(frozen=True, slots=True)
class Shown:
    """A text shows a value; `tightens` says that its step tightens a fastener, so that there is a torque to show."""

    name: str
    tightens: bool
    at: Position


@dataclass(frozen=True, slots=True)
class OpenBraces:
    """A text has `{{` or `}}` without the other."""

    at: Position


Mention = Named | PartInRole | StateValue | StandardWord | Case | Shown | OpenBraces


@dataclass(frozen=True, slots=True)
class _Around:
    """What surrounds a value: the text of its file, and whether it is in a step that tightens a fastener."""

    file: str
    text: str
    tightens: bool = False


def mentions(record: type, node: Node, text: str) -> Iterator[Mention]:
    """Every name in the record at `node`; `text` is that of its file. What is not of the right shape is passed over."""
    yield from _mentions(Record((record,)), node, _Around(node.at.file, text))


def _mentions(shape: Shape, node: Node, around: _Around) -> Iterator[Mention]:
    match shape, node:
        case Text(prose, collection), Scalar(text, at):
            if collection and text:
                yield Named(collection, text, at)
            if prose and ("{{" in text or "}}" in text):
                yield from _shown(node, around)
        case StandardOf(of), Scalar(text, at):
            if text:
                yield StandardWord(of, text, at)
        case Many(item), Listing(items):
            for below in items:
                yield from _mentions(item, below, around)
        case Keyed(collection, value), Table(entries):
            for name, entry in entries.items():
                if collection:
                    yield Named(collection, name, entry.key.at)
                if collection == _STATES and isinstance(entry.value, Scalar):
                    yield StateValue(name, entry.value.text, entry.value.at)
                yield from _mentions(value, entry.value, around)
        case Record(kinds), Table(entries):
            kind = kind_among(kinds, entries)
            if kind is Step:
                around = _Around(around.file, around.text, "tightens" in entries)
            for field in fields_of(kind):
                if field.key in entries:
                    yield from _mentions(field.shape, entries[field.key].value, around)
        case PartsByRole(), Table(entries):
            for role in Role:
                if role in entries:
                    yield from _part(role, entries[role].value, around)
        case When(), Table():
            yield from _condition(node)
        case _:
            return


def _part(role: Role, node: Node, around: _Around) -> Iterator[Mention]:
    if isinstance(node, Scalar):
        if node.text and node.text != NO_PART:
            yield PartInRole(role, node.text, node.at)
    else:
        yield from _mentions(Record((kind_for(role),)), node, around)


def _condition(node: Node) -> Iterator[Mention]:
    if isinstance(node, Listing):
        for item in node.items:
            yield from _condition(item)
    if not isinstance(node, Table):
        return
    for key, entry in node.entries.items():
        if key in ("all", "any", "not"):
            yield from _condition(entry.value)
            continue
        yield Named("attributes", key, entry.key.at)
        cases = entry.value.items if isinstance(entry.value, Listing) else (entry.value,)
        for case in cases:
            if isinstance(case, Scalar) and case.text:
                yield Case(key, case.text, case.at)


def _shown(node: Scalar, around: _Around) -> Iterator[Mention]:
    """The values that a text shows, each at its own place where the text stands in the file as it is read."""
    written = around.text[node.start : node.end]
    found = [(match.group(1).strip(), match.start(), match.end()) for match in _SHOWN.finditer(written)]
    if [name for name, *_ in found] != [name.strip() for name in _SHOWN.findall(node.text)]:
        found = [(match.group(1).strip(), -1, -1) for match in _SHOWN.finditer(node.text)]
    for name, start, end in found:
        yield Shown(" ".join(name.split()), around.tightens, _place(node, around, start, end))
    if _BRACES.search(_SHOWN.sub("", node.text)):
        blanked = _SHOWN.sub(lambda match: " " * len(match.group()), written)
        brace = _BRACES.search(blanked)
        yield OpenBraces(_place(node, around, brace.start() if brace else -1, brace.end() if brace else -1))


def _place(node: Scalar, around: _Around, start: int, end: int) -> Position:
    if start < 0:
        return node.at
    return place_in(around.file, around.text, node.start + start, end - start)
