"""What a build made, kept for the process that builds next, which then makes again only what changed.

    memory ─► entries of kinds that a process can hand on ─► one file under a seal ─► memory of the next process

What is kept is named by the program, the workspace and the order, and not by the sources: what of it still holds is
found out as in a preview, record by record. Only a workspace of a size that a person edits is kept.
"""

from __future__ import annotations

import gc
import io
import os
import pickle
import sys
import zlib
from dataclasses import fields, is_dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from builder.build import fingerprint
from builder.build.order import Order
from builder.build.store import kept_in
from builder.checks.check import Check
from builder.checks.registry import CHECKS
from builder.model.catalogue import Workshop
from builder.model.memory import Entry, Memory
from builder.pages.strings_en import EN
from builder.rider.packing import record_of
from builder.sources.loaded import shipped_library
from builder.sources.workspace import Written

# Raised whenever what is kept changes in a way that the program's digest does not show.
_FORM = "1"
# What is held by number alone, by a printer or by this process has no place in another.
_KINDS = frozenset(
    {
        *("file", "record", "made", "same", "named", "job", "laid", "upkeep", "standing for"),
        *("contents", "sheet today", "printout", "torques today", "upkeep today", "code", "card", "page", "templates"),
    }
)
# One takes some 6 MB.
_MOST_KEPT = 4
# Bikes times the jobs of each: with more, what is held and written would weigh more than it saves.
_MOST_MADE = 120
_PLANNED, _EVERY = 5, 44
# Below this share of new jobs it is not written again.
_WORTH_KEEPING = 0.1
_PROTOCOL = 5
_OURS = "builder."
_PLAIN = frozenset(
    {
        ("builtins", "frozenset"),
        ("builtins", "set"),
        ("markupsafe", "Markup"),
        ("pathlib", "PosixPath"),
        ("pathlib", "WindowsPath"),
        ("types", "MappingProxyType"),
        ("latex2mathml.converter", "convert"),
    }
)


def recalled(order: Order) -> Memory:
    """What a build of the same order made before; an empty memory where nothing was kept.

    For a fleet that is too large it is one that holds nothing.
    """
    if not _is_of_a_size(order):
        return Memory(lasting=False)
    memory, store = Memory(), kept_in("made")
    data = None if store is None else store.get(_name(order))
    if data is not None:
        try:
            memory.recall(_Reader(io.BytesIO(zlib.decompress(data))).load())
            gc.freeze()  # it stays for the whole build, and need not be looked through by the collector
        except Exception:  # written by a program that is not this one, whatever its digest says: all is made anew
            return Memory()
    return memory


def keep(order: Order, memory: Memory) -> None:
    """Keep what a build made, where enough of it is new."""
    store = kept_in("made")
    if store is None or not memory.is_lasting:
        return
    entries = [entry for entry in memory.entries() if entry[0] in _KINDS]
    jobs = sum(what == "job" for what, *_ in entries)
    if memory.made.count("job") > _WORTH_KEEPING * jobs:
        store.put(_name(order), _written(entries))
        store.prune(most=_MOST_KEPT)


def _is_of_a_size(order: Order) -> bool:
    folders = (order.workspace or shipped_library(), shipped_library())
    bikes = max(sum(1 for _ in (folder / "bikes").glob("*.yaml")) for folder in folders)
    return bikes * (_EVERY if order.every else _PLANNED) <= _MOST_MADE


def _name(order: Order) -> str:
    wishes = (order.guides, order.bikes, order.forms, order.papers, order.shape, order.every, order.printing)
    place = str((order.workspace or Path()).resolve()), os.getcwd()
    return fingerprint.digest(_FORM, sys.version, fingerprint.of_program(), *place, repr(wishes))


def _written(entries: list[Entry]) -> bytes:
    held = io.BytesIO()
    read = frozenset(id(record) for what, _, records, _ in entries if what == "record" for record in records)
    _Writer(held, read).dump(entries)
    return zlib.compress(held.getvalue(), 1)  # pages are nine tenths of it


class _Writer(pickle.Pickler):
    """Writes records by their values, which takes a third of the time to read; what every process has, by its name."""

    def __init__(self, to: io.BytesIO, read: frozenset[int]) -> None:
        super().__init__(to, _PROTOCOL)
        self._read = read

    def persistent_id(self, value: Any) -> Any:
        if value is EN:
            return "words"
        return ("check", value.name) if isinstance(value, Check) and CHECKS.get(value.name) is value else None

    def reducer_override(self, value: Any) -> Any:
        if isinstance(value, MappingProxyType):
            return MappingProxyType, (dict(value),)
        if isinstance(value, type) or not is_dataclass(value):
            return NotImplemented
        kind: Any = type(value)
        # The tree of a record that was read is not asked for again, and is larger than the record.
        without = (
            "node" if isinstance(value, Written) and id(value) in self._read and value.kind is not Workshop else ""
        )
        values = (None if one.name == without else getattr(value, one.name) for one in fields(kind))
        return record_of, (kind, *values)


class _Reader(pickle.Unpickler):
    """Takes back records of this program and plain values."""

    def persistent_load(self, name: Any) -> Any:
        return EN if name == "words" else CHECKS[name[1]]

    def find_class(self, module: str, name: str) -> Any:
        if module.startswith(_OURS) or (module, name) in _PLAIN:
            return super().find_class(module, name)
        raise pickle.UnpicklingError(f"{module}.{name} is no record")
