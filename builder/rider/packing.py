"""Records ↔ bytes: the same bytes for the same records, whatever order sets have in this process.

Equal things are made one thing, and sets are written in order. Of where a record stood the file alone is kept: line and
column are for who writes sources, and would be half of all that a browser has to make.
"""

from __future__ import annotations

import io
import pickle
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache, partial
from types import BuiltinFunctionType, FunctionType
from typing import Any

from builder.model.library import Library
from builder.model.position import Places, Position

_PROTOCOL = 5
_LENGTH_BYTES = 8
# A library has some 150,000 values.
_MOST_COPIES = 1_000_000


def packed_together(library: Library, rest: Mapping[str, Any], copies: OneOfEach | None = None) -> bytes:
    """The library, and behind it the rest, each to be opened by itself; `copies` were made for others before."""
    first, second = _packed(library, copies or OneOfEach()), _packed(rest, OneOfEach())
    return len(first).to_bytes(_LENGTH_BYTES, "big") + first + second


def library_in(data: bytes) -> Library:
    """The library of what `packed_together` wrote; of what comes from elsewhere it must not be asked."""
    found = pickle.loads(memoryview(data)[_LENGTH_BYTES:])
    assert isinstance(found, Library)
    return found


def rest_in(data: bytes) -> Mapping[str, Any]:
    """What stands behind the library."""
    length = int.from_bytes(data[:_LENGTH_BYTES], "big")
    found: Mapping[str, Any] = pickle.loads(memoryview(data)[_LENGTH_BYTES + length :])
    return found


def _packed(value: Any, copies: OneOfEach) -> bytes:
    held = io.BytesIO()
    _Pickler(held, _PROTOCOL).dump(copies.turn().of(value))
    return held.getvalue()


class _Pickler(pickle.Pickler):
    """Writes a record as its type and its values: what a dataclass does by itself takes thrice as long to read."""

    def reducer_override(self, value: Any) -> Any:
        if is_dataclass(value) and not isinstance(value, type):
            kind = type(value)
            return record_of, (kind, *(getattr(value, one.name) for one in fields(kind)))
        return NotImplemented


def record_of(kind: type, *values: Any) -> Any:
    """A frozen record from its values in the order of its fields; it is not asked whether they are right."""
    made: Any = object.__new__(kind)
    for put, value in zip(_puts(kind), values, strict=True):
        put(made, value)
    return made


@cache
def _puts(kind: Any) -> tuple[Callable[[Any, Any], None], ...]:
    """How each value of a record is set: by its slot, which is quicker, where it has slots."""
    names = tuple(one.name for one in fields(kind))
    slots = (getattr(getattr(kind, name, None), "__set__", None) for name in names)
    return tuple(slot or partial(_set, name) for slot, name in zip(slots, names, strict=True))


def _set(name: str, made: Any, value: Any) -> None:
    object.__setattr__(made, name, value)


class _InOrder:
    """Stands for a set while it is written."""

    def __init__(self, items: list[Any]) -> None:
        self.items = items

    def __reduce__(self) -> tuple[type, tuple[list[Any]]]:
        return frozenset, (self.items,)


class OneOfEach:
    """Copies in which what is equal is the same object, so that what is written does not hang on what was shared.

    Who packs the same records again and again keeps the copies: which of two equal ones was first shows nowhere.
    """

    def __init__(self) -> None:
        self._clear()

    def _clear(self) -> None:
        self._known: dict[object, Any] = {}
        # A key may hold the number of an object only as long as the object lives.
        self._kept: list[Any] = []
        self._copied: dict[int, tuple[Any, Any]] = {}

    def turn(self) -> OneOfEach:
        """Begin another value. Copies of what nobody has any more are thrown away when they become many."""
        if len(self._kept) > _MOST_COPIES:
            self._clear()
        return self

    def of(self, value: Any) -> Any:
        """The one copy of `value`."""
        match value:
            case Enum() | bool() | None | type() | FunctionType() | BuiltinFunctionType():
                return value
            case str() | int() | float() | bytes():
                return self._one((type(value), value), value)
            case Places():
                at = Position(value.at.file, 0, 0)
                return self._one((Places, at), Places(self._fields(at)))
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
        if (kept := self._copied.get(id(record))) is not None:
            return kept[1]
        values = {one.name: self.of(getattr(record, one.name)) for one in fields(record)}
        key = (type(record), *((name, id(value)) for name, value in values.items()))
        if key not in self._known:
            made = object.__new__(type(record))
            for name, value in values.items():
                object.__setattr__(made, name, value)
            self._one(key, made)
        # The record is held beside its copy, so that its number is not given to another.
        self._copied[id(record)] = record, self._known[key]
        return self._known[key]

    def _one(self, key: object, value: Any) -> Any:
        self._kept.append(value)
        return self._known.setdefault(key, value)
