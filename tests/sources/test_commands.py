"""The commands over sources: check, schema and new, as they are called."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from builder.cli import check, new, schema
from builder.cli.facts import FactError, Facts
from builder.model.parts import KINDS
from builder.sources.json_schemas import schema_files
from builder.sources.nodes import data_of
from builder.sources.starters import written
from builder.sources.text import decode
from builder.sources.workspace import load
from builder.sources.yaml_tree import read_tree

COMMANDS = {"check": check.command, "schema": schema.command, "new": new.command}


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*arguments: str, answers: str | None = None) -> Result:
    name, *rest = arguments
    return CliRunner().invoke(COMMANDS[name], rest, input=answers)


def broken(here: Path) -> None:
    (here / "bikes").mkdir()
    (here / "bikes" / "coot.yaml").write_text("name: Coot\nmesured: {}\n", encoding="utf-8")


def test_check_finds_no_error_in_the_shipped_library(here: Path) -> None:
    result = run("check")
    assert result.exit_code == 0
    last = result.output.splitlines()[-1]
    assert "source files read: " in last
    assert "error" not in last


def test_check_tells_every_mistake_and_ends_with_their_number(here: Path) -> None:
    broken(here)
    result = run("check")
    assert result.exit_code == 1
    first, quoted, carets, *_, last, waiting = result.output.splitlines()
    assert first == "bikes/coot.yaml:2:1: error: unknown key 'mesured'"
    assert quoted == "    2 | mesured: {}"
    assert carets == "      | ^^^^^^^ a bike has no such key"
    assert last.endswith("source files read: 1 error")
    assert waiting == "The proof and the writing rules wait until these are mended."


def test_check_writes_json_and_nothing_else(here: Path) -> None:
    broken(here)
    result = run("check", "--json")
    assert result.exit_code == 1
    found, *rest = json.loads(result.output)
    assert (found["rule"], found["line"], found["column"]) == ("unknown-key", 2, 1)
    assert {(one["rule"], one["gravity"]) for one in rest} <= {("waived", "note")}
    sound = json.loads(run("check", "--json", "--workspace", str(_empty(here))).output)
    assert "error" not in [one["gravity"] for one in sound]


def test_check_writes_one_line_for_each_mistake(here: Path) -> None:
    broken(here)
    first, *_ = run("check", "--lines").output.splitlines()
    assert first.startswith("bikes/coot.yaml:2:1: error: unknown key 'mesured' (a bike has no such key;")


def _empty(here: Path) -> Path:
    (here / "empty").mkdir()
    return here / "empty"


def test_a_warning_alone_is_no_failure(here: Path) -> None:
    (here / "bikes").mkdir()
    (here / "bikes" / "coot.yaml").write_text("name: Bike #3\n", encoding="utf-8")
    result = run("check")
    assert result.exit_code == 0
    assert "bikes/coot.yaml:1:" in result.output
    last = result.output.splitlines()[-1]
    assert "warning" in last
    assert "error" not in last


def test_check_of_a_folder_that_is_not_there_is_misuse(here: Path) -> None:
    assert run("check", "--workspace", "nowhere").exit_code == 2


def test_a_torque_that_no_bolt_bears_is_told_by_check(here: Path) -> None:
    (here / "catalogue").mkdir()
    (here / "catalogue" / "fasteners.yaml").write_text(
        "our-bolt:\n  name: our bolt\n  thread: M5\n  property-class: '8.8'\n  head: hex-4\n"
        "  preparation: greased\n  torque: 40 N·m\n  source: common-practice\n",
        encoding="utf-8",
    )
    result = run("check")
    assert result.exit_code == 1
    text = result.output.replace("\u00a0", " ")
    assert "catalogue/fasteners.yaml:7:11: error: 40 N·m is more than the M5 bolt of 'our-bolt' can bear" in text
    assert "has a decimal point slipped: 4 N·m would suit it?" in text


def test_schema_writes_a_file_for_each_kind_of_source(here: Path) -> None:
    result = run("schema", "--out", "deep/schemas")
    assert result.exit_code == 0
    names = {path.name for path in (here / "deep" / "schemas").iterdir()}
    assert names == {f"{name}.schema.json" for name, _, _ in schema_files()}
    assert "parts/chain/*.yaml" in result.output
    assert json.loads((here / "deep/schemas/bike.schema.json").read_text(encoding="utf-8"))["properties"]["parts"]


def test_schema_into_a_place_that_can_not_be_written_is_misuse(here: Path) -> None:
    (here / "file").write_text("x", encoding="utf-8")
    assert run("schema", "--out", "file/schemas").exit_code == 2


def test_everything_that_new_writes_is_accepted_by_check(here: Path) -> None:
    assert run("new", "workspace").exit_code == 0
    assert run("new", "guide", "saddle-height", "--title", "Set the saddle's height: by eye").exit_code == 0
    for kind in KINDS:
        assert run("new", "part", kind, f"our-{kind}").exit_code == 0
    assert run("new", "bike", "coot", "--no-ask").exit_code == 0
    loaded = load(here)
    assert loaded.diagnostics == ()
    assert loaded.library.guides["saddle-height"].title == "Set the saddle's height: by eye"
    assert {f"our-{kind}" for kind in KINDS} <= set(loaded.library.parts)
    assert run("check").exit_code == 0


def test_new_never_overwrites(here: Path) -> None:
    for arguments in (["workspace"], ["guide", "ours"], ["part", "chain", "ours"], ["bike", "ours"]):
        assert run("new", *arguments).exit_code == 0
        before = {path: path.read_text(encoding="utf-8") for path in here.rglob("*.yaml")}
        result = run("new", *arguments, *(["--name", "Other"] if arguments[0] != "guide" else []))
        assert result.exit_code == 2
        assert "is there already and stays as it is" in result.output
        assert {path: path.read_text(encoding="utf-8") for path in here.rglob("*.yaml")} == before


def test_new_says_the_next_command(here: Path) -> None:
    assert "cd ours\n  spannerleaf new bike" in run("new", "workspace", "ours").output
    assert "spannerleaf build --guide lift" in run("new", "guide", "lift").output


def test_new_bike_takes_facts_by_flags(here: Path) -> None:
    result = run(
        *("new", "bike", "--name", "Heron", "--tag", "M-9", "--set", "rear-hub.axle=nutted"),
        *("--set", "crankset.rings=46-30"),
        *("--set", "frame.chainstay=432 ± 1 mm", "--set", "drive-unit=none", "--set", "measured.chain-links=112"),
    )
    assert result.exit_code == 0
    text = (here / "bikes" / "heron.yaml").read_text(encoding="utf-8")
    facts = "tag: M-9|    axle: nutted|    rings: [46, 30]|    chainstay: 432 ± 1 mm|  drive-unit: none"
    for line in facts.split("|"):
        assert f"{line}\n" in text
    assert run("check").exit_code == 0


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        ("rear-hub.axle=nuted", "did you mean 'nutted'?"),
        ("rear-hub.axel=nutted", "did you mean 'axle'?"),
        ("rear-hubs.axle=nutted", "did you mean 'rear-hub'?"),
        ("frame.chainstay=432", "write '432 mm'"),
        ("chain=no-such-chain", "there is no chain called 'no-such-chain'"),
        ("crankset.rings=460", "is out of range"),
        ("rear-hub.axle", "wants KEY=VALUE"),
    ],
)
def test_a_wrong_fact_is_misuse_and_nothing_is_written(here: Path, fact: str, said: str) -> None:
    result = run("new", "bike", "heron", "--set", fact)
    assert result.exit_code == 2
    assert said in " ".join(result.output.split())
    assert not (here / "bikes").exists()


def test_facts_that_contradict_each_other_are_refused() -> None:
    facts = Facts(load().library)
    facts.set("cassette", "none")
    with pytest.raises(FactError, match="there is none"):
        facts.set("cassette.build", "loose")
    facts.set("rear-hub.axle", "nutted")
    with pytest.raises(FactError, match="facts of it are told too"):
        facts.set("rear-hub", "none")


def test_new_bike_asks_in_plain_words_and_each_question_may_be_left_open(here: Path) -> None:
    result = run("new", "bike", "--ask", answers="Coot\n" + "\n" * 60)
    assert result.exit_code == 0
    assert "What holds the rear wheel in the frame?" in result.output
    assert load(here).library.bikes["coot"].parts == {}


def test_new_bike_asks_again_after_an_answer_that_it_can_not_take(here: Path) -> None:
    result = run("new", "bike", "--ask", answers="Coot\n7\n1\n9\nx\n2\n" + "\n" * 60)
    assert result.exit_code == 0
    assert result.output.count("write a number from 1 to 3, or press Enter") == 2
    bike = load(here).library.bikes["coot"]
    assert bike.tag == "7"
    assert {role.value for role in bike.parts} == {"rear-derailleur", "rear-hub"}


def test_a_bike_with_a_gear_hub_is_asked_for_no_derailleur(here: Path) -> None:
    result = run("new", "bike", "--ask", answers="Coot\n\n2\n7\n" + "\n" * 60)
    assert result.exit_code == 0
    assert "cage clutch" not in result.output
    assert {role.value for role in load(here).library.bikes["coot"].without} >= {"rear-derailleur", "cassette"}


def test_a_bike_can_have_no_rear_brake_at_all(here: Path) -> None:
    """The answer that is no fact of a part says that there is no such part."""
    attribute = load().library.attributes["rear-brake"]
    number = list(attribute.cases).index("none") + 1
    answers = "Coot\n\n\n\n\n" + f"{number}\n" + "\n" * 60
    assert run("new", "bike", "--ask", answers=answers).exit_code == 0
    assert {role.value for role in load(here).library.bikes["coot"].without} == {"rear-brake"}


TRICKY = ("no", "012", "Bike #3", "it's: here", "a, b", "{{ x }}", "-", "Gänsesäger", "~", "3.", "[", "x: y", "- x")


@pytest.mark.parametrize("text", TRICKY)
def test_what_is_written_reads_back_as_the_same_text(text: str) -> None:
    tree = read_tree(decode("x.yaml", f"name: {written(text)}\nlist: [{written(text)}]\n".encode()))
    assert tree.diagnostics == ()
    assert tree.root is not None
    assert data_of(tree.root) == {"name": text, "list": [text]}


@pytest.mark.parametrize("arguments", [["check"], ["schema"], ["new"], *(["new", one] for one in new.command.commands)])
def test_every_command_explains_itself_with_an_example(arguments: list[str]) -> None:
    result = run(*arguments, "--help")
    assert result.exit_code == 0
    words = " ".join(result.output.split())
    assert f"Example: spannerleaf {' '.join(arguments)}" in words
