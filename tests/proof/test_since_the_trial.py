"""From a trial to the card and back: a step that changes takes the status of its guide along, and `check` tells which.

The trial is invented.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from builder.build.printer import Printer
from builder.build.store import kept_blocks
from builder.diagnostics.rendering import as_text
from builder.pages.paper import Paper
from builder.proof.jobs import Job, Ready, work_out
from builder.proof.revisions import check_trials
from builder.sources.workspace import load, shipped_library
from tests.cli.calling import call
from tests.read_back import read_sides

JOB = "hub-gear-cable-adjusted"
SHARED = "bike-into-stand"


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    """A workspace with a guide and a procedure of its own, which stand in for the library's; the guide was tried."""
    folder = tmp_path / "shop"
    (folder / "procedures").mkdir(parents=True)
    shutil.copy(shipped_library() / f"{JOB}.yaml", folder / f"{JOB}.yaml")
    shutil.copy(shipped_library() / "procedures" / f"{SHARED}.yaml", folder / "procedures" / f"{SHARED}.yaml")
    tried = call(
        "tried", JOB, "--by", "M. Muster", "--how", "on-bicycle", "--bike", "the blue one", "--date", "2026-02-03",
        "--workspace", str(folder),
    )  # fmt: skip
    assert tried.exit_code == 0, tried.output
    return folder


def alter(file: Path, old: str, new: str) -> int:
    """Replace a text that stands once in a file; the line where it stands."""
    text = file.read_text(encoding="utf-8")
    assert text.count(old) == 1
    file.write_text(text.replace(old, new), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


def checked(workspace: Path) -> str:
    result = call("check", "--workspace", str(workspace))
    return result.stdout


def noted(workspace: Path) -> str:
    """What `check` tells of trials, without the proof of all guides, which takes longer."""
    loaded = load(workspace)
    return "\n".join(as_text(one, loaded.texts) for one in check_trials(loaded.library))


def first_side(workspace: Path) -> str:
    """The words of the first side of the guide's card, as it is printed."""
    library = load(workspace).library
    outcome = work_out(Job(guide=library.guides[JOB]), library)
    assert isinstance(outcome, Ready)
    printer = Printer((workspace,), keeper=kept_blocks())
    return read_sides(printer.pdf(printer.html(outcome.tailored, Paper.A5, library.workshop)).data)[0].words


def test_a_changed_step_takes_the_status_on_the_card_back_and_check_names_it(workspace: Path) -> None:
    before = first_side(workspace)
    assert "Tried on a bike by M. Muster, 2026-02-03" in before
    assert "UNVERIFIED" not in before
    assert "unverified" not in noted(workspace)

    line = alter(
        workspace / f"{JOB}.yaml",
        "Inspect the gear cable and its housing from the shifter to the hub.",
        "Inspect the gear cable from the shifter to the hub.",
    )

    after = first_side(workspace)
    assert "UNVERIFIED" in after
    assert "Tried on a bike by M. Muster" not in after
    told = checked(workspace)
    assert f"'{JOB}' is unverified again: its text changed after M. Muster tried it on 2026-02-03" in told
    assert "changed since: inspect-cable" in told
    # The step begins a line before its sentence.
    assert f"{JOB}.yaml:{line - 1})" in told
    assert "added since" not in told
    assert "removed since" not in told

    # A program reads the same.
    found = json.loads(call("check", "--json", "--workspace", str(workspace)).stdout)
    (note,) = [one for one in found if one["rule"] == "trial"]
    assert note["gravity"] == "note"
    assert "changed since: inspect-cable" in note["hints"]
    assert [place["message"] for place in note["related"]] == ["changed"]


def test_a_changed_torque_or_procedure_counts_as_the_text_does(workspace: Path) -> None:
    procedure = workspace / "procedures" / f"{SHARED}.yaml"
    text = procedure.read_text(encoding="utf-8")
    first = text.index("why: ")
    end = text.index("\n", first)
    procedure.write_text(f"{text[:first]}why: It is easier to reach so.{text[end:]}", encoding="utf-8")
    told = noted(workspace)
    assert f"changed since: {SHARED}." in told
    assert "UNVERIFIED" in first_side(workspace)


def test_added_and_removed_steps_are_told_as_such(workspace: Path) -> None:
    alter(workspace / f"{JOB}.yaml", "- id: inspect-cable", "- id: see-cable")
    told = noted(workspace)
    assert "added since: see-cable" in told
    assert "removed since: inspect-cable" in told


def test_what_no_reader_sees_leaves_the_card_as_it_was(workspace: Path) -> None:
    before = first_side(workspace)
    alter(workspace / f"{JOB}.yaml", "# The cable of a gear hub", "# A gear hub's cable")
    assert first_side(workspace) == before
    assert "unverified" not in noted(workspace)
