"""The first use works as the README tells it: every command that it shows, in its order, in an empty folder."""

from __future__ import annotations

import os
import re
import shlex
from pathlib import Path

import pytest

from builder.cli import new
from tests.cli.calling import ROOT, call

# What a person with a common bike answers; the questions that follow are left open.
ANSWERS = ("", "1", "32", "11-42 11-speed", "1", "quick release", "bolt-through", "disc", "disc", *[""] * 60)
# A build prints every card of the library, which takes minutes; here it is held to one guide. With
# README_WHOLE=1 in the environment it runs as it stands.
WHOLE = os.environ.get("README_WHOLE") == "1"


def shell_blocks() -> list[list[str]]:
    """The commands of each block of shell lines in the README, without their comments."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```sh\n(.*?)```", text, re.DOTALL)
    return [[line.split("  #")[0].strip() for line in block.splitlines() if line.strip()] for block in blocks]


def commands() -> list[list[str]]:
    """Those blocks that call the program alone; the first of them need the net or run the tests."""
    return [block for block in shell_blocks() if all(line.startswith("spannerleaf ") for line in block)]


def test_the_readme_shows_a_rider_a_shop_and_a_club_and_the_rest_is_set_up() -> None:
    assert len(commands()) == 3
    others = [line for block in shell_blocks() if block not in commands() for line in block]
    assert others
    assert all(line.startswith("bash .ci/setup && .venv/bin/") for line in others)
    assert (ROOT / ".ci" / "setup").is_file()


@pytest.fixture
def on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(new, "_on_terminal", lambda: True)


@pytest.mark.usefixtures("on_a_terminal")
@pytest.mark.parametrize("block", commands(), ids=["rider", "shop", "club"])
def test_every_command_of_the_readme_works_in_an_empty_folder(
    block: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    for line in block:
        arguments = shlex.split(line)[1:]
        if arguments[0] == "build" and not WHOLE:
            arguments += ["--guide", "lock-bracket-fitted", "--processes", "1"]
        result = call(*arguments, answers="\n".join(ANSWERS) if arguments[0] == "new" else None)
        assert result.exit_code == 0, f"{line}\n{result.output}"
        if "-o" in arguments:
            assert (tmp_path / arguments[arguments.index("-o") + 1]).stat().st_size > 1000
    # Nothing that was written stands in the way of what is read.
    for workspace in (path for path in tmp_path.iterdir() if (path / "workshop.yaml").is_file()):
        assert call("parts", "chain", "--workspace", str(workspace)).exit_code == 0


@pytest.mark.usefixtures("on_a_terminal")
def test_the_next_command_that_new_bike_names_works_as_it_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    said = call("new", "bike", "--workspace", "mine", answers="Grey goose\n.\n").output
    commands_named = [line.strip() for line in said.split("Next:\n")[1].splitlines()]
    assert commands_named[0] == "spannerleaf card check-before-a-ride grey-goose --workspace mine -o grey-goose.html"
    result = call(*shlex.split(commands_named[0])[1:])
    assert result.exit_code == 0, result.output
    assert (tmp_path / "grey-goose.html").is_file()


@pytest.mark.usefixtures("on_a_terminal")
def test_a_card_written_into_the_workspace_stops_no_later_command(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "mine").mkdir()
    monkeypatch.chdir(tmp_path / "mine")
    assert call("new", "bike", "my-bike", answers="\n.\n").exit_code == 0
    for _ in range(2):
        assert call("card", "chain-wear-check", "my-bike", "-o", "card.html").exit_code == 0


def test_the_schema_that_the_readme_names_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (command,) = re.findall(r"`spannerleaf (schema --out \S+)`", text)
    (name,) = re.findall(r"\$schema=\.\./(\S+)", text)
    monkeypatch.chdir(tmp_path)
    assert call(*command.split()).exit_code == 0
    assert (tmp_path / "our-shop" / name).is_file()
