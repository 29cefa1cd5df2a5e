"""The command that fuzzes tries what it says, and a find is told."""

from __future__ import annotations

import pytest

from tests.fuzz import __main__ as fuzz


def test_few_runs_find_nothing() -> None:
    found = fuzz.fuzzed(60, 7)
    assert all(not wrong for _, wrong in found.values()), found
    assert [tried for tried, _ in found.values()][:2] == [60, 60]


def test_what_nobody_promised_is_a_find(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise KeyError("wheel")

    monkeypatch.setattr(fuzz, "read_value", broken)
    assert "KeyError" in fuzz.fuzzed(20, 7)["quantities"][1]
