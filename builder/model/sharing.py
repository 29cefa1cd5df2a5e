"""Values that are equal, held once: what a fleet's jobs come to is mostly alike, and a build holds all of them.

A value is known again by its type and by its parts, which are shared before it. Records of the library are parts that
every job has from there anyway, and are left alone.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import fields, is_dataclass
from functools import cache
from struct import pack
from typing import TypeVar

Value = TypeVar("Value")

# What is worked out, by the rooms and modules that it comes from.
_WORKED_OUT = ("builder.checks.", "builder.planning.", "builder.tailoring.", "builder.proof.jobs")
_PLAIN = ("builder.model.units", "builder.model.inlining")
_NUMBERS = frozenset({int, float})


class Sharing:
    """Holds every value once that it was given; what it gives is equal to what it was given."""

    def __init__(self) -> None:
        self._held: dict[Hashable, object] = {}
        self._known: set[int] = set()

    def of(self, value: Value) -> Value:
        """The value itself, or one that is equal to it and was here before."""
        kind: type = type(value)
        if kind is str:
            return self._held.setdefault(value, value)  # type: ignore[return-value]
        if kind in _NUMBERS:
            return self._held.setdefault((kind, repr(value)), value)  # type: ignore[return-value]
        if kind is tuple:
            return self._with_parts(value, value, tuple)  # type: ignore[arg-type]
        if is_dataclass(value) and _is_worked_out(kind):
            return self._with_parts(value, tuple(getattr(value, name) for name in _names(kind)), kind)
        return value

    def _with_parts(self, value: Value, parts: tuple[object, ...], kind: type) -> Value:
        if id(value) in self._known:
            return value
        shared = tuple(map(self.of, parts))
        # What is held is never freed, so that its number stays its own; a record of the library is held by what has it.
        key = pack(f"{len(shared) + 1}q", id(kind), *map(id, shared))
        found = self._held.get(key)
        if found is None:
            found = value
            if any(one is not other for one, other in zip(shared, parts, strict=True)):
                found = shared if kind is tuple else kind(**dict(zip(_names(kind), shared, strict=True)))
            self._held[key] = found
            self._known.add(id(found))
        return found  # type: ignore[return-value]


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind))


@cache
def _is_worked_out(kind: type) -> bool:
    """Whether values of a type may be shared: they come from work, and are made anew from their fields alone."""
    return kind.__module__.startswith((*_WORKED_OUT, *_PLAIN)) and all(one.init for one in fields(kind))
