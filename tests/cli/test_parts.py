"""`parts` lists what is known by what one looks for."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.calling import call, refusal
from tests.demo import library


def ids(*arguments: str) -> list[str]:
    result = call("parts", *arguments, "--json")
    assert result.exit_code == (0 if result.stdout.strip() != "[]" else 1)
    return [one["id"] for one in json.loads(result.stdout)]


def test_without_a_filter_every_known_part_is_listed() -> None:
    assert ids() == list(library().parts)


def test_the_table_shows_name_price_stock_and_facts() -> None:
    result = call("parts", "cassette", "--teeth", "42", "--stock")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0] == "cassette:"
    assert lines[1] == "  cs-11-42-11s  Cassette 11-42, 11 sprockets    58.00 EUR  2 in stock"
    assert "sprockets 11, 13, 15, 17, 19, 21, 24, 28, 32, 37, 42; mount nine spline" in result.stdout
    assert lines[-1] == "1 part"


@pytest.mark.parametrize(
    ("arguments", "holds"),
    [
        (("cassette", "--speeds", "11"), lambda part: len(part.sprockets) == 11),
        (("chain", "--speeds", "11"), lambda part: 11 in part.speeds),
        (("chain", "--where", "links>=116"), lambda part: part.links >= 116),
        (("rotor", "--mount", "splined"), lambda part: part.rotor_mount.value == "splined"),
        (("rotor", "--where", "diameter<=6.4 in"), lambda part: part.diameter_mm <= 162.56),
        (("--under", "20"), lambda part: part.price_eur <= 20),
        (("cassette", "--where", "mount=screw-on"), lambda part: part.mount.value == "screw-on"),
        (("rear-derailleur", "--teeth", "42"), lambda part: part.largest_sprocket == 42),
    ],
)
def test_a_filter_keeps_all_parts_that_are_so_and_no_others(arguments: tuple[str, ...], holds) -> None:
    found = ids(*arguments)
    assert found
    assert all(holds(library().parts[name]) for name in found)
    kind = {"kind": arguments[0]} if not arguments[0].startswith("--") else {}
    for name, part in library().parts.items():
        if name not in found and kind and type(part) is type(library().parts[found[0]]):
            with pytest.raises((AssertionError, TypeError, AttributeError)):
                assert holds(part)


def test_words_are_looked_for_in_names_and_facts() -> None:
    assert set(ids("--text", "pin 118")) == {"ch-11s-118-pin"}


def test_filters_hold_together_and_nothing_left_is_a_finding() -> None:
    assert ids("cassette", "--teeth", "42", "--under", "1") == []
    result = call("parts", "cassette", "--under", "1")
    assert result.exit_code == 1
    assert "'spannerleaf new part' starts one of your own" in result.stdout


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (("casette",), "spannerleaf: unknown kind of part 'casette'; did you mean 'cassette'?"),
        (("chain", "--where", "lnks>=116"), "spannerleaf: a chain has no fact 'lnks'; did you mean 'links'?"),
        (("rotor", "--where", "diameter>=170"), "spannerleaf: '170' has no unit; write '170 mm'"),
        (
            ("chain", "--where", "links"),
            "spannerleaf: 'links' is no filter; write FACT=VALUE, FACT>=VALUE or FACT<=VALUE",
        ),
    ],
)
def test_a_filter_that_can_not_be_meant_is_misuse(arguments: tuple[str, ...], line: str) -> None:
    assert refusal(call("parts", *arguments)) == line


def test_the_parts_of_a_workspace_are_listed_too(tmp_path: Path) -> None:
    assert call("new", "part", "chain", "our-chain", "--workspace", str(tmp_path / "ours")).exit_code == 0
    result = call("parts", "chain", "--text", "our-chain", "--workspace", str(tmp_path / "ours"))
    assert result.exit_code == 0
    assert "our-chain" in result.stdout
    assert result.stdout.splitlines()[-1] == "1 part; nothing is written as stock"
