"""Every outside value that can be put to a check as a person would write it, and what holds for the table itself."""

import re
from fnmatch import fnmatchcase
from pathlib import Path

import pytest

from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict
from tests.published import coverage, entries, reckoned_cases

ROOT = Path(__file__).parents[1]
SOURCES = "\n".join(path.read_text(encoding="utf-8") for path in sorted(ROOT.rglob("test_*.py")))


@pytest.mark.parametrize("case", reckoned_cases())
def test_check_meets_the_published_value(case):
    for name in case.entry.checks:
        result = reckon_texts(CHECKS[name], {key: str(value) for key, value in case.inputs.items()})
        for key in case.expected:
            match key:
                case "value":
                    got = result.value
                case "verdict":
                    got = Verdict(result.verdict).value
                case _:
                    got = result.named(key)
            assert got == case.wanted(key), f"{key}: {case.source}"


def test_every_entry_names_its_source_and_how_sure_it_is():
    for entry in entries():
        if entry.compared_with:
            assert entry.test, entry.id
        else:
            assert entry.title, entry.id
            assert entry.provenance is not None, entry.id
            assert entry.rows, entry.id


def test_no_name_stands_twice_in_a_file():
    names = [entry.id for entry in entries()]
    assert sorted(names) == sorted(set(names))


def test_every_entry_names_a_check_that_exists():
    unknown = {name for entry in entries() for name in entry.checks} - set(CHECKS)
    assert unknown == set()


@pytest.mark.parametrize("entry", [pytest.param(entry, id=entry.id) for entry in entries() if entry.compared_with])
def test_every_comparison_with_a_library_is_a_test_that_exists(entry):
    assert f"def {entry.test}(" in SOURCES


@pytest.mark.parametrize(
    "entry",
    [
        pytest.param(entry, id=entry.id)
        for entry in entries()
        if not entry.compared_with and (entry.through == "function" or not entry.checks)
    ],
)
def test_every_value_that_is_not_put_to_a_check_is_used_by_a_test(entry):
    asked = re.findall(r"published\(\s*\"([^\"]+)\"", SOURCES)
    assert any(fnmatchcase(entry.id, name if "/" in name else f"{name}/*") for name in asked)


@pytest.mark.parametrize("name", sorted(CHECKS))
def test_every_check_is_held_by_something_from_outside_or_by_a_marked_trade_figure(name):
    covered = coverage(name)
    assert covered.outside + covered.derivable + covered.common_practice + len(covered.libraries) > 0
