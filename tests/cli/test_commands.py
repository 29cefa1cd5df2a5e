"""What all commands have in common: help with an example, exit statuses, and one line for misuse."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from builder.cli import _COMMANDS
from tests.cli.calling import LEAD, call, refusal, started


@pytest.mark.parametrize("name", sorted(_COMMANDS))
def test_every_command_has_help_with_an_example(name: str) -> None:
    result = call(name, "--help")
    assert result.exit_code == 0
    assert "Example" in result.output
    assert f"  spannerleaf {name}" in result.output


@pytest.mark.parametrize("kind", ["workspace", "guide", "bike", "part", "theme"])
def test_every_kind_of_new_file_has_help_with_an_example(kind: str) -> None:
    result = call("new", kind, "--help")
    assert result.exit_code == 0
    assert f"  spannerleaf new {kind}" in result.output


def test_the_list_of_commands_tells_what_each_does() -> None:
    result = call("--help")
    assert result.exit_code == 0
    assert all(f"{name} " in result.output and words in result.output for name, words in _COMMANDS.items())


def test_without_a_command_the_help_is_shown_and_the_status_says_misuse() -> None:
    result = call()
    assert result.exit_code == 2
    assert "Commands:" in result.stderr


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (("bild",), "spannerleaf: unknown command 'bild'; did you mean 'build'?"),
        (("fit", "heron"), "spannerleaf: Missing option '--with'."),
        (("fit", "hern", "--with", "cs-11-50-11s"), "spannerleaf: unknown bike 'hern'; did you mean 'heron'?"),
        (
            ("fit", "heron", "--with", "cs-11-50-12s"),
            (
                "spannerleaf: unknown part 'cs-11-50-12s'; those that begin alike: cs-11-50-11s, cs-11-32-11s,"
                " cs-11-36-11s, cs-11-42-11s, cs-11-32-9s, cs-11-36-9s; 'spannerleaf parts' lists the known parts,"
                " and 'spannerleaf new part' starts one of your own"
            ),
        ),
        (
            ("fit", "heron", "--with", "cs-1150-11s"),
            "spannerleaf: unknown part 'cs-1150-11s'; did you mean 'cs-11-50-11s'?",
        ),
        (
            ("fit", "heron", "--with", "cs-11-50-11s", "--with", "cs-11-42-11s"),
            "spannerleaf: 'cs-11-50-11s' and 'cs-11-42-11s' both go in one place, the cassette; name one",
        ),
        (
            ("card", LEAD, "heron"),
            "spannerleaf: name the file to write with -o FILE.pdf or -o FILE.html, or ask with --explain",
        ),
        (
            ("card", LEAD, "heron", "-o", "card.doc"),
            "spannerleaf: 'card.doc' ends neither in .pdf nor in .html, so that the kind of card is not clear",
        ),
        (
            ("card", "wider-range-casette", "heron", "--explain"),
            f"spannerleaf: unknown guide 'wider-range-casette'; did you mean '{LEAD}'?",
        ),
        (
            ("card", LEAD, "heron", "--with", "ch-11s-116", "--explain"),
            "spannerleaf: 'ch-11s-116' is a chain; this guide plans for: cassette",
        ),
        (
            ("build", "--paper", "a7"),
            "spannerleaf: Invalid value for '--paper': 'a7' is not one of 'a6', 'a5', 'a4', 'a3', 'a2', 'halfletter', "
            "'letter', 'tabloid'.",
        ),
        (
            ("check", "--workspace", "nowhere"),
            "spannerleaf: Invalid value for '--workspace': Directory 'nowhere' does not exist.",
        ),
        (
            ("reckon",),
            "spannerleaf: name a check, such as 'reckon chain-length --help'; 'reckon --list' names them all",
        ),
    ],
)
def test_misuse_is_told_in_one_line(arguments: tuple[str, ...], line: str) -> None:
    assert refusal(call(*arguments)) == line


def test_processes_end_with_the_status_that_is_promised(tmp_path: Path) -> None:
    assert started("check", cwd=tmp_path).returncode == 0
    (tmp_path / "bikes").mkdir()
    (tmp_path / "bikes" / "ours.yaml").write_text("nmae: Ours\n", encoding="utf-8")
    found = started("check", cwd=tmp_path)
    assert found.returncode == 1
    assert "bikes/ours.yaml:1:1: error: unknown key 'nmae'" in found.stdout
    misused = started("check", "--nothing", cwd=tmp_path)
    assert (misused.returncode, misused.stdout) == (2, "")
    assert misused.stderr == "spannerleaf: No such option: --nothing\n" or misused.stderr.count("\n") == 1


def test_a_mistake_in_the_sources_stops_what_needs_them(tmp_path: Path) -> None:
    (tmp_path / "bikes").mkdir()
    (tmp_path / "bikes" / "ours.yaml").write_text("nmae: Ours\n", encoding="utf-8")
    for arguments in (
        ("fit", "heron", "--with", "cs-11-50-11s"),
        ("card", LEAD, "heron", "-o", str(tmp_path / "card.html")),
        ("build", "--out", str(tmp_path / "output")),
    ):
        result = call(*arguments, "--workspace", str(tmp_path))
        assert result.exit_code == 1
        assert result.stdout == ""
        assert "unknown key 'nmae'" in result.stderr
        assert "Traceback" not in result.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bikes"]


def test_prove_counts_in_words_and_names_no_waiver_of_another_guide() -> None:
    result = call("prove", "saddle-height-set")
    assert result.exit_code == 0
    (line,) = result.stdout.splitlines()
    assert re.fullmatch(r"saddle-height-set: \d+ steps, [\d,]+ configurations?, [\d,]+ distinct paths?: proven", line)
    listed = call("prove", "cassette-replaced-like-for-like").stdout
    assert "cassette-on.freewheel-on: sprocket-slip" in listed
    assert "chain-join" not in listed
