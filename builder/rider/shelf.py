"""The library and the dress of its pages ↔ one file of data, so that no source is read again where they are used.

The file is the same for the same library, whatever order sets have in this process: equal things are made one thing,
and sets are written in order.
"""

from __future__ import annotations

import pickle
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass
from enum import Enum
from pathlib import Path
from types import MappingProxyType
from typing import Any

from markupsafe import Markup

from builder.checks.registry import CHECKS
from builder.model.library import Library
from builder.model.position import Places
from builder.pages.marks import MARKS
from builder.pages.theme import Sources, Theme, templates_of

_PROTOCOL = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What guides are tailored from, and what their pages are made with. `version` is that of the program."""

    library: Library
    theme: Theme
    version: str = ""


class Mismatch(Exception):
    """The program lacks a check that the builder has, or has one more."""


def packed(shelf: Shelf) -> bytes:
    """The shelf as one file."""
    theme = shelf.theme
    assert isinstance(theme.templates.loader, Sources)
    one = _OneOfEach()
    whole = {
        "library": shelf.library,
        "name": theme.name,
        "card_css": theme.card_css,
        "blocks_css": theme.blocks_css,
        "large_css": theme.large_css,
        "templates": dict(sorted(theme.templates.loader.texts.items())),
        "house": str(theme.marks["house"]),
        "icon": theme.icon,
        "version": shelf.version,
        "checks": tuple(CHECKS),
    }
    return pickle.dumps({name: one.of(value) for name, value in whole.items()}, _PROTOCOL)


def unpacked(data: bytes) -> Shelf:
    """The shelf of a file that `packed` wrote; of one from elsewhere it must not be asked.

    Raises:
        Mismatch: it was written beside another program, whose checks are others.
    """
    held = pickle.loads(data)
    if held["checks"] != tuple(CHECKS):
        raise Mismatch("the program and its data are of different builds: a check would be left out in silence")
    theme = Theme(
        name=held["name"],
        folder=Path(held["name"]),
        card_css=held["card_css"],
        blocks_css=held["blocks_css"],
        large_css=held["large_css"],
        assets=MappingProxyType({}),
        templates=templates_of(held["templates"]),
        marks=MappingProxyType({**MARKS, "house": Markup(held["house"])}),
        icon=held["icon"],
    )
    return Shelf(library=held["library"], theme=theme, version=held["version"])


class _InOrder:
    """Stands for a set while it is written."""

    def __init__(self, items: list[Any]) -> None:
        self.items = items

    def __reduce__(self) -> tuple[type, tuple[list[Any]]]:
        return frozenset, (self.items,)


class _OneOfEach:
    """Copies in which what is equal is the same object, so that what is written does not hang on what was shared."""

    def __init__(self) -> None:
        self._known: dict[object, Any] = {}
        # A key may hold the number of an object only as long as the object lives.
        self._kept: list[Any] = []

    def of(self, value: Any) -> Any:
        """The one copy of `value`."""
        match value:
            case Enum() | bool() | None:
                return value
            case str() | int() | float() | bytes():
                return self._one((type(value), value), value)
            case Places():  # where each value stood is of use beside the sources alone
                return self._one((Places, value.at), Places(self._fields(value.at)))
            case tuple():
                items = tuple(self.of(one) for one in value)
                return self._one((tuple, *map(id, items)), items)
            case frozenset():
                ordered = [self.of(one) for one in sorted(value)]
                return self._one((frozenset, *map(id, ordered)), _InOrder(ordered))
            case Mapping():
                pairs = {self.of(key): self.of(one) for key, one in value.items()}
                return self._one((dict, *((id(key), id(one)) for key, one in pairs.items())), pairs)
            case _ if is_dataclass(value) and not isinstance(value, type):
                return self._fields(value)
            case _:
                raise TypeError(f"the library holds a {type(value).__name__}, which can't be packed")

    def _fields(self, record: Any) -> Any:
        values = {one.name: self.of(getattr(record, one.name)) for one in fields(record)}
        key = (type(record), *((name, id(value)) for name, value in values.items()))
        if key not in self._known:
            made = object.__new__(type(record))
            for name, value in values.items():
                object.__setattr__(made, name, value)
            self._one(key, made)
        return self._known[key]

    def _one(self, key: object, value: Any) -> Any:
        self._kept.append(value)
        return self._known.setdefault(key, value)
