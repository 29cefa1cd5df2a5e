"""What authors set aside on purpose is listed with its reason: by `check`, by `build`, and for programs."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from builder.proof.waived import waived
from builder.sources.workspace import load, shipped_library
from tests.build.ordering import built
from tests.cli.calling import call
from tests.demo import library

JOB = "hub-gear-cable-adjusted"
CAUTION = "waivers: [{rule: 'caution:spring', reason: No spring is near., by: M. Muster}]"
RULE = "waivers: [{rule: W22, reason: The act is one that people try., by: M. Muster}]"


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    """A workspace with one guide, of which a step goes without a rule of writing."""
    (tmp_path / "shop").mkdir()
    text = (shipped_library() / f"{JOB}.yaml").read_text(encoding="utf-8")
    place = "- id: inspect-cable\n        do: Inspect the gear cable and its housing from the shifter to the hub."
    assert place in text
    changed = "- id: inspect-cable\n        do: Do not touch the gear cable.\n        " + RULE
    (tmp_path / "shop" / f"{JOB}.yaml").write_text(text.replace(place, changed), encoding="utf-8")
    shutil.copytree(shipped_library() / "bikes", tmp_path / "shop" / "bikes")
    return tmp_path / "shop"


def test_every_waiver_is_found_with_its_place_reason_and_name(workspace: Path) -> None:
    mine = [one for one in waived(load(workspace).library) if one.element == f"{JOB}.inspect-cable"]
    (one,) = mine
    assert (one.what, one.reason, one.by) == ("the rule W22", "The act is one that people try.", "M. Muster")
    assert one.at.file.endswith(f"{JOB}.yaml")
    assert one.at.line > 1


def test_the_list_holds_every_waiver_that_is_written_in_the_library() -> None:
    written = sum(
        line.count("{rule:") + line.lstrip().startswith("- rule:")
        for path in shipped_library().rglob("*.yaml")
        for line in path.read_text(encoding="utf-8").splitlines()
        if "reason:" in line or "rule:" in line
    )
    assert len(waived(library())) == written


@pytest.fixture
def no_proof(monkeypatch: pytest.MonkeyPatch) -> None:
    """`check` without the proof of all guides, which has no say in what it lists."""
    monkeypatch.setattr("builder.cli.check.examined", lambda *_: ())


@pytest.mark.usefixtures("no_proof")
def test_check_lists_them_before_its_last_line(workspace: Path) -> None:
    lines = call("check", "--workspace", str(workspace)).stdout.splitlines()
    # Those of the library below the workspace are not the workspace's to answer for.
    number = lines.index("1 waiver, each with its reason:")
    (line,) = lines[number + 1 : -1]
    assert f"'{JOB}.inspect-cable' goes without the rule W22: The act is one that people try. (M. Muster)" in line
    assert "source files read" in lines[-1]


@pytest.mark.usefixtures("no_proof")
def test_check_of_the_library_itself_lists_all_of_them(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    assert f"{len(waived(library()))} waivers, each with its reason:" in call("check").stdout


@pytest.mark.usefixtures("no_proof")
def test_check_lists_them_for_programs(workspace: Path) -> None:
    found = json.loads(call("check", "--json", "--workspace", str(workspace)).stdout)
    mine = [one for one in found if one["rule"] == "waived" and JOB in one["message"]]
    assert [(one["gravity"], one["label"]) for one in mine] == [("note", "answered for by M. Muster")]


def test_a_caution_that_is_left_out_is_listed_too(workspace: Path) -> None:
    file = workspace / f"{JOB}.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace(RULE, CAUTION), encoding="utf-8")
    words = [str(one) for one in waived(load(workspace).library)]
    assert any("goes without the caution 'spring': No spring is near. (M. Muster)" in word for word in words)


def test_a_build_tells_them_and_tells_them_again_when_nothing_has_changed(workspace: Path, tmp_path: Path) -> None:
    wishes = {"workspace": workspace, "guides": (JOB,), "bikes": ("plover",), "processes": 1}
    first = built(tmp_path / "output", **wishes)
    assert first.told is not None
    assert any("goes without the rule W22: The act is one that people try." in words for words in first.told.waivers)
    again = built(tmp_path / "output", **wishes)
    assert again.unchanged
    assert again.told == first.told


def test_the_build_command_lists_them_in_its_report(workspace: Path, tmp_path: Path) -> None:
    result = call(
        "build", "--workspace", str(workspace), "--guide", JOB, "--bike", "plover", "--out", str(tmp_path / "output")
    )
    assert result.exit_code == 0, result.stderr
    assert "1 waiver, each with its reason:" in result.stderr
    assert "goes without the rule W22: The act is one that people try. (M. Muster)" in result.stderr
