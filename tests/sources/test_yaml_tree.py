"""The tree: every value stays the text that was written, and knows its place."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.sources.nodes import Listing, Node, Scalar, Table, data_of
from builder.sources.text import decode
from builder.sources.traps import trap_of
from builder.sources.yaml_tree import Tree, read_tree


def tree(text: str) -> Tree:
    return read_tree(decode("x.yaml", text.encode()))


def scalars(node: Node) -> list[Scalar]:
    match node:
        case Scalar():
            return [node]
        case Listing(items):
            return [found for item in items for found in scalars(item)]
        case Table(entries):
            return [found for entry in entries.values() for found in (entry.key, *scalars(entry.value))]


def test_every_value_knows_its_line_column_and_length() -> None:
    root = tree("name: Coot\nparts:\n  chain: {links: 116}\n  rings: [46, '30']\n").root
    assert root is not None
    places = {found.text: (found.at.line, found.at.column, found.at.length) for found in scalars(root)}
    assert places["Coot"] == (1, 7, 4)
    assert places["links"] == (3, 11, 5)
    assert places["116"] == (3, 18, 3)
    assert places["30"] == (4, 15, 4)


def test_values_stay_text() -> None:
    root = tree("date: 2026-11-25\nlinks: 116\nhome: true\nmass: 1.50\n").root
    assert root is not None
    assert data_of(root) == {"date": "2026-11-25", "links": "116", "home": "true", "mass": "1.50"}


def test_text_over_several_lines_is_joined_as_yaml_joins_it() -> None:
    root = tree("a: one\n  two\nb: >-\n  three\n  four\nc: |\n  five\n  six\n").root
    assert root is not None
    assert data_of(root) == {"a": "one two", "b": "three four", "c": "five\nsix\n"}


# What YAML 1.1 makes of plain words: read by a general YAML library, which follows its type repository.
TRAPS = ["no", "Yes", "ON", "off", "null", "~", "1:30", "1:30:15", "012", "0x1F", "0b11", "1_000", ".inf", ".NaN"]


@pytest.mark.parametrize("word", TRAPS)
def test_a_trap_is_a_word_that_a_yaml_reader_takes_for_something_else(word: str) -> None:
    assert not isinstance(yaml.safe_load(word), str)
    assert trap_of(word) is not None


@pytest.mark.parametrize(("word", "number"), [("1:30", 90), ("012", 10), ("0x1F", 31), ("1_000", 1000), ("0b11", 3)])
def test_a_trap_says_the_number_that_a_yaml_reader_makes_of_it(word: str, number: int) -> None:
    trap = trap_of(word)
    assert yaml.safe_load(word) == number
    assert trap is not None
    assert str(number) in trap.taken_for


@pytest.mark.parametrize("word", ["true", "false", "2026-11-25", "116", "1.5", "0", "-3", "0.5", "S-02", "nose", "x:y"])
def test_what_reads_as_it_looks_is_no_trap(word: str) -> None:
    assert trap_of(word) is None


@settings(max_examples=100)
@given(st.text(alphabet="0123456789:_.-+xboXnNoOfFyYeEsStTrRuUaAlLiI~", max_size=8))
def test_no_word_that_yaml_takes_for_something_else_goes_unsaid(word: str) -> None:
    try:
        value = yaml.safe_load(word)
    except (yaml.YAMLError, ValueError):
        return
    reads_as_it_looks = isinstance(value, str | dict | list) or word in ("", "true", "false")
    # A plain decimal number is what it looks like; so is a date.
    plain = word.lstrip("+-").replace(".", "", 1).replace("e", "").replace("E", "").replace("+", "").replace("-", "")
    if not reads_as_it_looks and not (plain.isdecimal() and not word.lstrip("+-").startswith("0")):
        assert trap_of(word) is not None or _number(word) == value


def _number(word: str) -> float | None:
    try:
        return float(word)
    except ValueError:
        return None


def test_aliases_do_not_multiply() -> None:
    text = "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: [*c, *c]\n"
    found = tree(text)
    assert found.root is not None
    assert len(scalars(found.root)) == 12
    assert {diagnostic.rule for diagnostic in found.diagnostics} == {"anchor", "alias"}


def test_deep_brackets_are_refused_and_not_followed() -> None:
    for text in ("[" * 5000, "{a: " * 5000, "- " * 5000):
        assert tree(text).root is None
        assert tree(text).diagnostics
