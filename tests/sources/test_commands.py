"""The commands over sources: check, schema and new, as they are called."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from builder.cli import check, new, schema
from builder.model.bike import Bike
from builder.model.facts import Axle, Role
from builder.model.parts import KINDS, Cassette, Crankset, Hub, Shifter
from builder.rider.facts import FactError, Facts
from builder.sources.json_schemas import schema_files
from builder.sources.loaded import Loaded
from builder.sources.nodes import data_of
from builder.sources.starters import written
from builder.sources.text import decode
from builder.sources.workspace import load
from builder.sources.yaml_tree import read_tree

COMMANDS = {"check": check.command, "schema": schema.command, "new": new.command}


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to be in. What is read there is not packed for the next command, which reads something else."""
    for module in (check, new):
        monkeypatch.setattr(module, "load_remembered", load)
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


def with_few_guides(workspace: Path | None) -> Loaded:
    """What was read, with two guides of the library and those of the workspace."""
    read = load(workspace)
    few = {name: one for name, one in read.library.guides.items() if one.places.at.file not in read.laid_under}
    few |= {name: read.library.guides[name] for name in ("pedals-fitted", "mudguards-fitted")}
    return replace(read, library=replace(read.library, guides=few))


def test_everything_that_new_writes_is_accepted_by_check(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run("new", "workspace").exit_code == 0
    assert run("new", "guide", "saddle-height", "--title", "Set the saddle's height: by eye").exit_code == 0
    for kind in KINDS:
        assert run("new", "part", kind, f"our-{kind}").exit_code == 0
    for number in (1, 2):
        assert run("new", "fastener", f"our-bolt-{number}").exit_code == 0
        assert run("new", "tool", f"our-key-{number}").exit_code == 0
    assert run("new", "standard", "our-mount", "--of", "rotor-mount").exit_code == 0
    assert run("new", "bike", "coot", "--no-ask").exit_code == 0
    loaded = load(here)
    assert loaded.diagnostics == ()
    assert loaded.library.guides["saddle-height"].title == "Set the saddle's height: by eye"
    assert {f"our-{kind}" for kind in KINDS} <= set(loaded.library.parts)
    assert {"our-bolt-1", "our-bolt-2"} <= set(loaded.library.fasteners)
    assert {"our-key-1", "our-key-2"} <= set(loaded.library.tools)
    assert "heron" not in loaded.library.bikes
    # That all guides of the library stay sound beside a guide and a fastener of one's own, the README's club asks.
    monkeypatch.setattr(check, "load_remembered", with_few_guides)
    assert "saddle-height" in with_few_guides(here).library.guides
    result = run("check")
    assert result.exit_code == 0
    # Warnings of what comes with the program are its own; none is of a file that was written here. That no guide turns
    # a new fastener yet is a note.
    at = re.findall(r"^(\S+\.yaml):\d+:\d+: (?:error|warning)", result.output, re.MULTILINE)
    assert [path for path in at if not Path(path).is_absolute()] == []


def test_the_guide_that_new_writes_belongs_to_a_family_that_there_is(here: Path) -> None:
    assert run("new", "guide", "saddle-height").exit_code == 0
    guides = load(here).library.guides
    assert guides["saddle-height"].family in {one.family for name, one in guides.items() if name != "saddle-height"}


def test_a_fastener_or_tool_that_is_there_is_not_added_again(here: Path) -> None:
    for kind in ("fastener", "tool"):
        assert run("new", kind, "ours").exit_code == 0
        before = (here / "catalogue" / f"{kind}s.yaml").read_text(encoding="utf-8")
        result = run("new", kind, "ours")
        assert result.exit_code == 2
        assert "holds 'ours' already" in result.output
        assert (here / "catalogue" / f"{kind}s.yaml").read_text(encoding="utf-8") == before


def test_a_fastener_takes_its_thread_and_head_and_refuses_a_head_that_is_unknown(here: Path) -> None:
    assert run("new", "fastener", "crown-bolt", "--thread", "M6", "--head", "hex-5").exit_code == 0
    made = load(here).library.fasteners["crown-bolt"]
    assert (made.name, made.thread, made.head) == ("crown bolt", "M6", "hex-5")
    result = run("new", "fastener", "other", "--head", "hex-99")
    assert result.exit_code == 2
    assert "unknown head 'hex-99'" in result.output


@pytest.mark.parametrize(
    "arguments", [("bike", "ours"), ("guide", "ours"), ("part", "chain", "ours"), ("tool", "ours")]
)
def test_new_makes_the_workspace_that_it_is_given(here: Path, arguments: tuple[str, ...]) -> None:
    assert run("new", *arguments, "--workspace", "our-shop").exit_code == 0
    assert load(here / "our-shop").library.workshop.name == "Our shop"
    assert not load(here / "our-shop").library.workshop.demo_fleet


def test_new_leaves_a_workspace_that_is_there_as_it_is(here: Path) -> None:
    (here / "our-shop" / "bikes").mkdir(parents=True)
    assert run("new", "bike", "ours", "--workspace", "our-shop").exit_code == 0
    assert sorted(path.name for path in (here / "our-shop").iterdir()) == ["bikes"]


def test_new_never_overwrites(here: Path) -> None:
    for arguments in (["workspace"], ["guide", "ours"], ["part", "chain", "ours"], ["bike", "ours"]):
        assert run("new", *arguments).exit_code == 0
        before = {path: path.read_text(encoding="utf-8") for path in here.rglob("*.yaml")}
        result = run("new", *arguments, *(["--name", "Other"] if arguments[0] != "guide" else []))
        assert result.exit_code == 2
        assert "is there already and stays as it is" in result.output
        assert {path: path.read_text(encoding="utf-8") for path in here.rglob("*.yaml")} == before


def test_new_says_the_next_command(here: Path) -> None:
    assert "  spannerleaf new bike --workspace ours\n" in run("new", "workspace", "ours").output
    assert "spannerleaf build --guide lift" in run("new", "guide", "lift").output
    said = run("new", "bike", "coot", "--workspace", "ours").output
    assert "  spannerleaf card check-before-a-ride coot --workspace ours -o coot.html\n" in said
    said = run("new", "bike", "teal", "--for", "wider-range-cassette", "--no-ask").output
    assert "  spannerleaf card wider-range-cassette teal --with PART -o teal.html\n" in said


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


def questions(output: str) -> list[str]:
    """What was asked, in order."""
    return re.findall(r"[A-Z][^?.:]*\?", output)


def described(here: Path, *answers: str, options: tuple[str, ...] = ()) -> tuple[str, Bike]:
    """What is said while a bike is described by answers, all others left open, and the bike that comes of it."""
    result = run("new", "bike", "coot", "--name", "Coot", "--ask", *options, answers="\n".join((*answers, *[""] * 120)))
    assert result.exit_code == 0, result.output
    loaded = load(here / options[1] if "--workspace" in options else here)
    assert loaded.diagnostics == ()
    return result.output, loaded.library.bikes["coot"]


def test_new_bike_asks_in_plain_words_and_each_question_may_be_left_open(here: Path) -> None:
    output, bike = described(here)
    assert "What holds the rear wheel in the frame?" in output
    assert bike.parts == {}


@pytest.mark.parametrize("word", ["don't know", "?", "unknown", "-", "No idea"])
def test_not_to_know_is_an_answer(here: Path, word: str) -> None:
    output, bike = described(here, *[word] * 50)
    assert bike.parts == {}
    assert "press Enter\n" not in output


def test_a_full_stop_leaves_the_rest_open(here: Path) -> None:
    output, bike = described(here, "1", ".")
    assert "The rest stays open." in output
    assert len(questions(output)) == 2
    assert set(bike.parts) == {Role.REAR_DERAILLEUR}


def test_new_bike_asks_again_after_an_answer_that_it_can_not_take(here: Path) -> None:
    output, bike = described(here, "9", "x", "2")
    assert output.count("write a number from 1 to 3, or press Enter") == 2
    assert Role.REAR_DERAILLEUR in bike.without


def test_a_bike_with_a_gear_hub_is_asked_for_no_derailleur(here: Path) -> None:
    output, bike = described(here, "2", "7")
    assert not any(word in output for word in ("cage clutch", "sprockets are at", "capacity", "hanger"))
    assert {role.value for role in bike.without} >= {"rear-derailleur", "cassette"}


def test_what_earlier_answers_settle_is_not_asked(here: Path) -> None:
    """One ring, so no front derailleur; no suspension, so no springs; rim brakes, so no rotor and no fluid."""
    output, _ = described(here, "derailleur", "32", "", "", "", "rim", "rim", "cable", "cable", "", "", "rigid")
    assert not any(word in output for word in ("front derailleur", "springs", "rotor", "fills"))
    output, _ = described(
        here, "derailleur", "46, 32", "", "", "", "disc", "", "hydraulic", options=("--workspace", "b")
    )
    assert all(word in output for word in ("front derailleur", "springs", "rotor", "fills"))


def test_a_bike_for_one_guide_is_asked_only_what_that_guide_asks(here: Path) -> None:
    output, bike = described(here, "1", "3", options=("--for", "chain-wear-check"))
    assert questions(output) == [
        "What changes the gears at the rear wheel?",
        "Is this an electric bike, and can its battery be taken out?",
    ]
    assert set(bike.parts) == {Role.REAR_DERAILLEUR, Role.DRIVE_UNIT}


def test_an_answer_may_be_words_or_yes_and_no(here: Path) -> None:
    _, bike = described(here, "a rear derailleur", "46/30", "", "Quick release", "nuts", "disc", "", "", "", "yes")
    hub = bike.parts[Role.REAR_HUB]
    assert isinstance(hub, Hub)
    assert hub.axle is Axle.QUICK_RELEASE
    crankset = bike.parts[Role.CRANKSET]
    assert isinstance(crankset, Crankset)
    assert crankset.rings == (46, 30)


def test_a_bike_can_have_no_rear_brake_at_all(here: Path) -> None:
    """The answer that is no fact of a part says that there is no such part."""
    _, bike = described(here, "", "", "", "", "", "none")
    assert {role.value for role in bike.without} == {"rear-brake"}


@pytest.mark.parametrize(
    ("answers", "sprockets"),
    [
        (("11, 13, 15, 18, 21, 24, 28",), (11, 13, 15, 18, 21, 24, 28)),
        (("11-42 11-speed", "1"), "cs-11-42-11s"),
        (("11-speed 11-42", "1"), "cs-11-42-11s"),
        (("11-42t", "11 speed", "1"), "cs-11-42-11s"),
        (("cs-11-42-11s",), "cs-11-42-11s"),
        (("11 to 42", "", "2", ""), ()),
        (("11-36 10-speed", "11 13 15 17 19 21 24 28 32 36"), (11, 13, 15, 17, 19, 21, 24, 28, 32, 36)),
        (("11-36 10-speed", ""), ()),
        (("16",), (16,)),
    ],
)
def test_sprockets_are_taken_in_any_sensible_form(
    here: Path, answers: tuple[str, ...], sprockets: str | tuple[int, ...]
) -> None:
    _, bike = described(here, "1", "32", *answers)
    cassette = bike.parts[Role.CASSETTE]
    assert isinstance(cassette, Cassette)
    if isinstance(sprockets, str):
        assert cassette.id == sprockets
        hub = bike.parts[Role.REAR_HUB]
        assert isinstance(hub, Hub)
        assert hub.sprocket_mount is cassette.mount
    else:
        assert cassette.sprockets == sprockets


def test_the_ends_of_a_cassette_are_never_two_sprockets(here: Path) -> None:
    _, bike = described(here, "1", "32", "11-36 10-speed")
    assert bike.parts[Role.CASSETTE].note == "11-36, 10 sprockets. Every sprocket is to be counted."
    shifter = bike.parts[Role.REAR_SHIFTER]
    assert isinstance(shifter, Shifter)
    assert shifter.speeds == 10
    result = run("new", "bike", "teal", "--set", "cassette.sprockets=11-36")
    assert result.exit_code == 2
    assert "'11-36' are the ends of a cassette" in result.output


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
    example = words.partition("Example")[2]
    assert f": spannerleaf {' '.join(arguments)}" in example
