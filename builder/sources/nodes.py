"""The tree that a YAML file is read into: single values, lists and tables, each with its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.model.position import Position


@dataclass(frozen=True, slots=True)
class Scalar:
    """A single value as written; `start` and `end` are its first and one past its last character in the file."""

    text: str
    at: Position
    start: int = 0
    end: int = 0


@dataclass(frozen=True, slots=True)
class Listing:
    """A list."""

    items: tuple[Node, ...]
    at: Position


@dataclass(frozen=True, slots=True)
class Entry:
    """A key with its value."""

    key: Scalar
    value: Node


@dataclass(frozen=True, slots=True)
class Table:
    """Keys with their values, in the order written."""

    entries: Mapping[str, Entry]
    at: Position


Node = Scalar | Listing | Table
Data = str | list["Data"] | dict[str, "Data"]


def data_of(node: Node) -> Data:
    """The bare values of a tree: text, lists and dictionaries."""
    match node:
        case Scalar():
            return node.text
        case Listing():
            return [data_of(item) for item in node.items]
        case Table():
            return {key: data_of(entry.value) for key, entry in node.entries.items()}
