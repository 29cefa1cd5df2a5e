"""What a record says, as one digest; and only where that is asked for, where it stands.

Without the places no key hangs on a folder, or on a line above.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache

from builder.model.library import Library
from builder.model.position import Places, Position


class Contents:
    """Digests of records, each worked out once while this stands; with `placed` where they stand counts as well."""

    def __init__(self, *, placed: bool = False) -> None:
        self._placed = placed
        # A record is held beside its digest, so that its number is not given to another.
        self._known: dict[int, tuple[object, bytes]] = {}
        self._before: dict[int, tuple[object, bytes]] = {}

    def __reduce__(self) -> tuple[object, ...]:
        """Records and their digests, without numbers, which are others in another process."""
        known = [(record, digest) for record, digest in self._known.values() if is_dataclass(record)]
        return _contents_of, (self._placed, known)

    def turn(self) -> Contents:
        """Forget what was not asked for since the last turn."""
        self._before, self._known = self._known, {}
        return self

    def _held(self, record: object) -> tuple[object, bytes] | None:
        kept = self._known.get(id(record))
        if kept is None and (kept := self._before.get(id(record))) is not None:
            self._known[id(record)] = kept
        return kept

    def of(self, *values: object) -> str:
        """One digest of `values` in their order."""
        sum_ = hashlib.sha256()
        for value in values:
            sum_.update(self._of_record(value))
        return sum_.hexdigest()

    def of_library(self, library: Library) -> str:
        """One digest of every record of `library`, by collection and name."""
        sum_ = hashlib.sha256()
        for one in fields(library):
            sum_.update(f"\n{one.name}:".encode())
            sum_.update(self._of_collection(getattr(library, one.name)))
        return sum_.hexdigest()

    def _of_collection(self, held: object) -> bytes:
        """The digest of a collection, which parts of one library have in common."""
        if not isinstance(held, Mapping):
            return self._of_record(held)
        kept = self._held(held)
        if kept is None:
            sum_ = hashlib.sha256()
            for name, record in held.items():
                sum_.update(f"\n{name} ".encode())
                sum_.update(self._of_record(record))
            kept = self._known[id(held)] = held, sum_.digest()
        return kept[1]

    def _of_record(self, record: object) -> bytes:
        kept = self._held(record)
        if kept is None:
            written: list[str] = []
            _write(record, written, self._placed)
            kept = record, hashlib.sha256("".join(written).encode("utf-8", "surrogatepass")).digest()
            self._known[id(record)] = kept
        return kept[1]


def _contents_of(placed: bool, known: Iterable[tuple[object, bytes]]) -> Contents:
    made = Contents(placed=placed)
    made._known = {id(record): (record, digest) for record, digest in known}
    return made


@cache
def _fields(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind) if not one.name.startswith("_"))


def _write(value: object, to: list[str], placed: bool) -> None:
    """Write down what `value` says, so that two values are written alike only where they say the same."""
    match value:
        case str():
            to.append(f"{len(value)}:{value}")
        case None | bool() | int() | float():
            to.append(f"{value!r};")
        case Enum():
            to.append(f"{type(value).__name__}.{value.name};")
        case Places() | Position():
            to.append(f"@{value!r}" if placed else "@")
        case tuple() | list():
            _write_all("(", value, ")", to, placed)
        case frozenset() | set():
            each: list[str] = []
            for one in value:
                inner: list[str] = []
                _write(one, inner, placed)
                each.append("".join(inner))
            to.extend(("{", *sorted(each), "}"))
        case Mapping():
            _write_all("[", (part for pair in value.items() for part in pair), "]", to, placed)
        case _ if is_dataclass(value):
            kind: type = type(value)
            _write_all(f"{kind.__name__}<", (getattr(value, name) for name in _fields(kind)), ">", to, placed)
        case _:
            raise TypeError(f"a {type(value).__name__} has no contents")


def _write_all(before: str, values: Iterable[object], after: str, to: list[str], placed: bool) -> None:
    to.append(before)
    for value in values:
        _write(value, to, placed)
    to.append(after)
