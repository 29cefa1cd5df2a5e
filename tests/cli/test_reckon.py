"""`reckon`: any check from plain numbers, for a person and for a program."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict
from tests.cli.calling import call, refusal, started


def reckoned(*arguments: str) -> dict[str, Any]:
    result = call("reckon", *arguments, "--json")
    assert result.exit_code == 0, result.stderr
    answer: dict[str, Any] = json.loads(result.stdout)
    return answer


def test_the_answer_has_the_shape_that_programs_count_on() -> None:
    answer = reckoned("chain-length", "chainstay=425mm", "ring=32", "sprocket=40")
    assert answer["check"] == "chain-length"
    assert answer["verdict"] == "fits"
    assert answer["unit"] == "links"
    assert {"exact", "approximation", "trade-rule"} <= answer["values"].keys()
    assert {"value", "limit", "margin", "working", "source"} <= answer.keys()


def test_an_adaptor_in_line_turns_the_setting_down_by_the_ratio_of_lengths() -> None:
    # Moments about the bolt: 40 · 350 / (350 + 50) = 35 N·m.
    answer = reckoned("adaptor-setting", "torque=40N·m", "wrench=350mm", "adaptor=50mm", "angle=0deg")
    assert answer["value"] == pytest.approx(35.0)
    assert answer["unit"] == "N·m"


@pytest.mark.parametrize(
    "inputs",
    [
        ("chainstay=42.5cm", "ring=32", "sprocket=40"),
        ("chainstay=425 mm", "ring=32", "sprocket=40"),
        ("sprocket=40", "ring=32", "chainstay=0.425 m"),
    ],
)
def test_any_sensible_unit_and_any_order_give_the_same(inputs: tuple[str, ...]) -> None:
    assert reckoned("chain-length", *inputs) == reckoned("chain-length", "chainstay=425mm", "ring=32", "sprocket=40")


def test_a_list_is_written_with_commas() -> None:
    # (48 − 31) + (34 − 11) = 40 teeth.
    assert reckoned("derailleur-capacity", "rings=48,31", "sprockets=11,34")["value"] == 40


def test_the_list_names_every_check_with_its_inputs_and_units() -> None:
    listed = json.loads(call("reckon", "--list", "--json").stdout)
    assert [check["check"] for check in listed] == list(CHECKS)
    assert all(item["name"] and "unit" in item for check in listed for item in check["inputs"])
    text = call("reckon", "--list").stdout
    for name, check in CHECKS.items():
        assert f"  {name}  " in text
        assert all(item.name in text for item in check.inputs)


@pytest.mark.parametrize("name", sorted(CHECKS))
def test_help_explains_the_check_and_its_example_runs(name: str) -> None:
    page = call("reckon", name, "--help").stdout
    for words in ("Inputs:", "Formula:", "Example:", "Source:"):
        assert words in page
    answer = call("reckon", name, *(f"{key}={text}" for key, text in CHECKS[name].example.items()))
    refused = reckon_texts(CHECKS[name], CHECKS[name].example).verdict is Verdict.DOES_NOT_FIT
    assert answer.exit_code == (1 if refused else 0)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("chain-lenght",), "did you mean 'chain-length'?"),
        (("chain-length", "chainstay=425mm", "ring=32"), "sprocket"),
        (("chain-length", "chainstay=4m", "ring=32", "sprocket=40"), "chainstay"),
        (("chain-length", "chainstay=425 N·m", "ring=32", "sprocket=40"), "chainstay"),
        (("chain-length", "chainstay=nan mm", "ring=32", "sprocket=40"), "chainstay"),
        (("chain-length", "chainstay=425mm", "ring=3", "sprocket=40"), "ring"),
        (("chain-length", "chainstay=425mm", "ring=32", "ring=33", "sprocket=40"), "ring is given twice"),
        (("chain-length", "chainstay"), "write chainstay=QUANTITY"),
        (("ring=32",), "name the check before its inputs"),
    ],
)
def test_a_wrong_input_is_one_line_that_names_it(arguments: tuple[str, ...], words: str) -> None:
    assert words in refusal(call("reckon", *arguments))


def test_a_tolerance_and_signs_survive_a_real_command_line(tmp_path: Path) -> None:
    done = started("reckon", "chain-length", "chainstay=425 ± 2 mm", "ring=32", "sprocket=40", "--json", cwd=tmp_path)
    assert done.returncode == 0
    assert json.loads(done.stdout)["check"] == "chain-length"
