"""What is said of broken sources, compared as whole texts: each file of `broken/` holds sources and diagnostics."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.sources.workspace import load
from tests.sources.broken_cases import SMALL, Case, cases, read_in, said, write_expected


@pytest.mark.parametrize("case", cases(), ids=lambda case: case.name)
def test_what_is_said_of_broken_sources_reads_as_approved(
    case: Case, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    text = said(read_in(tmp_path, dict(case.sources)))
    if not write_expected(case, text):
        assert text == case.expected


def test_the_small_library_has_no_mistake() -> None:
    assert load(None, SMALL).diagnostics == ()


def test_there_are_many_broken_sources() -> None:
    assert len(cases()) >= 40
    assert all(case.expected for case in cases())
