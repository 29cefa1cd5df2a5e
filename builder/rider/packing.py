"""Records ↔ bytes: the same bytes for the same records, whatever order sets have in this process.

Equal things are made one thing, and sets are written in order.
"""

from __future__ import annotations

import pickle
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

from builder.model.library import Library
from builder.model.position import Places

_PROTOCOL = 5
_LENGTH_BYTES = 8


def packed_together(library: Library, rest: Mapping[str, Any]) -> bytes:
    """The library, and behind it the rest, each to be opened by itself."""
    first, second = _packed(library), _packed(rest)
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


def _packed(value: Any) -> bytes:
    return pickle.dumps(_OneOfEach().of(value), _PROTOCOL)


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
