"""The table of outside values that the checks are held against: one YAML file an area in tests/references.

An entry is a list item with these keys:

    id          short name, unique in its file
    check       the check (or list of checks) that the values are for; leave out if none
    through     'reckon' (default): `inputs` are written as for the check, and tests/checks/test_published.py runs it
                'function': a test of its own, in the room of the check, uses the values
    quantity    what is worked out, in words
    inputs      {name: value}; may stand beside `cases` or `table`, for what all rows share
    expected    a value, or {name: value}; a bare value is the check's `value`
    cases       several rows: [{inputs: {...}, expected: ...}, ...]
    table       several rows: {inputs: [names], expected: [names], rows: [[...], ...]}
    tolerance   {abs: x} or {rel: x}
    unit, note  for the reader
    source      {title, edition, locator}
    provenance  looked-up, looked-up-secondary, from-memory, derivable or common-practice

A comparison over random inputs with a general library has `compared_with` (the library), `test` (the test function)
and `tolerance` instead of values.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from builder.checks.result import Provenance

FOLDER = Path(__file__).parent / "references"
OUTSIDE = (Provenance.LOOKED_UP, Provenance.LOOKED_UP_SECONDARY, Provenance.FROM_MEMORY)


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One entry of the table: a source, and the cases that are taken from it."""

    area: str
    name: str
    checks: tuple[str, ...]
    through: str
    quantity: str
    unit: str
    note: str
    title: str
    edition: str
    locator: str
    provenance: Provenance | None
    compared_with: str
    test: str
    tolerance_abs: float
    tolerance_rel: float
    rows: tuple[tuple[Mapping[str, Any], Mapping[str, Any]], ...]

    @property
    def id(self) -> str:
        """Area and name, as `published` takes it."""
        return f"{self.area}/{self.name}"


@dataclass(frozen=True, kw_only=True)
class Case:
    """One row: the inputs, what is expected, how near, and whose word it is."""

    entry: Entry
    number: int
    inputs: Mapping[str, Any]
    expected: Mapping[str, Any]

    @property
    def id(self) -> str:
        """A name for the row; pytest shows it."""
        row = f"#{self.number}" if len(self.entry.rows) > 1 else ""
        return f"{self.entry.id}{row}"

    @property
    def value(self) -> Any:
        """What is expected, where the entry gives one bare value."""
        return self.expected["value"]

    @property
    def source(self) -> str:
        """Title, edition, locator and how sure it is."""
        entry = self.entry
        return f"{entry.title}, {entry.edition}, {entry.locator} ({entry.provenance})"

    def wanted(self, name: str = "value") -> Any:
        """The expected result called `name`, to compare with `==`: within the tolerance, if it is a number."""
        expected = self.expected[name]
        if isinstance(expected, bool | str) or expected is None:
            return expected
        entry = self.entry
        if not entry.tolerance_abs and not entry.tolerance_rel:
            return pytest.approx(expected, rel=1e-12, abs=1e-12)
        return pytest.approx(expected, rel=entry.tolerance_rel or 0.0, abs=entry.tolerance_abs)


def _rows(raw: Mapping[str, Any]) -> Iterator[tuple[Mapping[str, Any], Mapping[str, Any]]]:
    shared = dict(raw.get("inputs", {}))
    if "table" in raw:
        table = raw["table"]
        wanted = table["expected"] if isinstance(table["expected"], list) else [table["expected"]]
        names = [*table["inputs"], *wanted]
        for row in table["rows"]:
            cells = dict(zip(names, row, strict=True))
            yield (
                {**shared, **{name: cells[name] for name in table["inputs"]}},
                {name: cells[name] for name in wanted},
            )
        return
    for case in raw.get("cases", [raw] if "expected" in raw else []):
        expected = case["expected"]
        yield (
            {**shared, **case.get("inputs", {})},
            dict(expected) if isinstance(expected, dict) else {"value": expected},
        )


def _entry(area: str, raw: Mapping[str, Any]) -> Entry:
    source = raw.get("source", {})
    tolerance = raw.get("tolerance", {})
    checks = raw.get("check", [])
    provenance = raw.get("provenance")
    return Entry(
        area=area,
        name=raw["id"],
        checks=tuple([checks] if isinstance(checks, str) else checks),
        through=raw.get("through", "reckon"),
        quantity=raw.get("quantity", ""),
        unit=str(raw.get("unit", "")),
        note=raw.get("note", ""),
        title=source.get("title", ""),
        edition=str(source.get("edition", "")),
        locator=source.get("locator", ""),
        provenance=None if provenance is None else Provenance(provenance),
        compared_with=raw.get("compared_with", ""),
        test=raw.get("test", ""),
        tolerance_abs=float(tolerance.get("abs", 0.0)),
        tolerance_rel=float(tolerance.get("rel", 0.0)),
        rows=tuple(_rows(raw)),
    )


@cache
def entries() -> tuple[Entry, ...]:
    """Every entry of every area."""
    found = []
    for path in sorted(FOLDER.glob("*.yaml")):
        found += [_entry(path.stem, raw) for raw in yaml.safe_load(path.read_text(encoding="utf-8")) or []]
    return tuple(found)


def cases_of(entry: Entry) -> list[Case]:
    """The rows of one entry as cases."""
    return [
        Case(entry=entry, number=number, inputs=inputs, expected=expected)
        for number, (inputs, expected) in enumerate(entry.rows, start=1)
    ]


def published(name: str) -> list[Any]:
    """Cases for `pytest.mark.parametrize`: of one entry (`chain/pitch-table`), of an area (`chain`) or of a pattern
    (`bolts/preload-*`).

    Raises:
        KeyError: no entry fits the name, so that a test can't run over nothing.
    """
    pattern = name if "/" in name else f"{name}/*"
    chosen = [entry for entry in entries() if fnmatchcase(entry.id, pattern)]
    found = [pytest.param(case, id=case.id) for entry in chosen for case in cases_of(entry)]
    if not found:
        known = ", ".join(sorted(entry.id for entry in entries() if entry.area == name.split("/", 1)[0]))
        raise KeyError(f"no published value is called {name!r}; known in that area: {known or 'none'}")
    return found


def reckoned_cases() -> list[Any]:
    """The cases of every entry that is put straight to a check, as `reckon` takes it."""
    return [
        pytest.param(case, id=case.id)
        for entry in entries()
        if entry.checks and entry.through == "reckon"
        for case in cases_of(entry)
    ]


@dataclass(frozen=True, kw_only=True)
class Coverage:
    """How well one check is held from outside."""

    check: str
    looked_up: int
    from_memory: int
    derivable: int
    common_practice: int
    libraries: tuple[str, ...]
    tightest_rel: float | None
    loosest_rel: float | None

    @property
    def outside(self) -> int:
        """Values that somebody else published, seen or remembered."""
        return self.looked_up + self.from_memory


def _relative(entry: Entry) -> Iterator[float]:
    """The tolerance of each number of an entry as a share of it; an exact value counts as 0."""
    if entry.compared_with and entry.tolerance_rel:
        yield entry.tolerance_rel
    for _, expected in entry.rows:
        for value in expected.values():
            if isinstance(value, bool) or not isinstance(value, int | float):
                continue
            if value and math.isfinite(value):
                yield max(entry.tolerance_rel, entry.tolerance_abs / abs(value))


def coverage(check: str) -> Coverage:
    """Count the values that hold `check`, by how sure they are, with the tightest and the loosest tolerance."""
    mine = [entry for entry in entries() if check in entry.checks]

    def count(*kinds: Provenance) -> int:
        return sum(len(entry.rows) for entry in mine if entry.provenance in kinds)

    tolerances = [share for entry in mine for share in _relative(entry)]
    return Coverage(
        check=check,
        looked_up=count(Provenance.LOOKED_UP, Provenance.LOOKED_UP_SECONDARY),
        from_memory=count(Provenance.FROM_MEMORY),
        derivable=count(Provenance.DERIVABLE),
        common_practice=count(Provenance.COMMON_PRACTICE),
        libraries=tuple(sorted({entry.compared_with for entry in mine if entry.compared_with})),
        tightest_rel=min(tolerances, default=None),
        loosest_rel=max(tolerances, default=None),
    )
