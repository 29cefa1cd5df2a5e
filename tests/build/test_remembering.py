"""A remembered reading is the reading itself, and is taken back only where nothing that it comes from has changed."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from pathlib import Path

import pytest

from builder.build import remembering
from builder.build.remembering import READING_ROOMS, load_remembered, remembered_findings
from builder.build.store import Store
from builder.diagnostics.diagnostic import Diagnostic
from builder.sources.workspace import load

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A memory of this test alone."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "spannerleaf" / "read"


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    (tmp_path / "shop" / "bikes").mkdir(parents=True)
    (tmp_path / "shop" / "workshop.yaml").write_text("name: Ours\n", encoding="utf-8")
    (tmp_path / "shop" / "bikes" / "ours.yaml").write_text("name: Ours\nmesured: {}\n", encoding="utf-8")
    return tmp_path / "shop"


def without_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise AssertionError("the sources were read")

    monkeypatch.setattr("builder.sources.workspace.load", refuse)


def test_what_is_remembered_is_what_was_read(kept: Path, workspace: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = load_remembered(workspace)
    assert first == load(workspace)
    assert [one.rule for one in first.diagnostics] == ["unknown-key"]
    assert list(kept.iterdir())
    without_reading(monkeypatch)
    again = load_remembered(workspace)
    assert again == first
    assert again.library.bikes["heron"].places.at == first.library.bikes["heron"].places.at


@pytest.mark.parametrize("change", ["contents", "new", "gone", "stray", "folder", "deep"])
def test_a_change_of_any_source_is_read_anew(kept: Path, workspace: Path, change: str) -> None:
    (workspace / "mine").mkdir()
    before = load_remembered(workspace)
    bike = workspace / "bikes" / "ours.yaml"
    match change:
        case "contents":
            bike.write_text("name: Theirs\n", encoding="utf-8")
        case "new":
            (workspace / "bikes" / "theirs.yaml").write_text("name: Theirs\n", encoding="utf-8")
        case "gone":
            bike.unlink()
        case "stray":
            (workspace / "bikes" / "notes.txt").write_text("x", encoding="utf-8")
        case "folder":
            (workspace / "bike").mkdir()
        case "deep":
            (workspace / "mine" / "ours.yaml").write_text("name: Ours\n", encoding="utf-8")
    after = load_remembered(workspace)
    assert after.digest != before.digest
    assert after == load(workspace)
    assert after != before
    assert len(list(kept.iterdir())) == 2


def test_a_place_is_shown_from_where_one_stands(kept: Path, workspace: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert load_remembered(workspace).diagnostics[0].at.file.endswith("shop/bikes/ours.yaml")
    monkeypatch.chdir(workspace)
    assert load_remembered(workspace).diagnostics[0].at.file == "bikes/ours.yaml"


class Wicked:
    """What would run a command when it is taken back from a pickle."""

    def __reduce__(self) -> tuple[object, tuple[str]]:
        return os.system, ("touch wicked",)


@pytest.mark.parametrize("data", [b"", b"nonsense", pickle.dumps(["no", "reading"]), pickle.dumps(Wicked())])
def test_what_is_no_reading_is_not_believed(
    kept: Path, workspace: Path, monkeypatch: pytest.MonkeyPatch, data: bytes
) -> None:
    monkeypatch.chdir(workspace.parent)
    first = load_remembered(workspace)
    Store(kept).put(first.digest, data)
    assert load_remembered(workspace) == first
    assert not (workspace.parent / "wicked").exists()


def test_a_damaged_file_is_read_anew(kept: Path, workspace: Path) -> None:
    first = load_remembered(workspace)
    path = kept / first.digest
    raw = path.read_bytes()
    path.write_bytes(raw[:-100] + bytes(100))
    assert load_remembered(workspace) == first


def test_where_nothing_can_be_kept_the_sources_are_read(workspace: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", "not/absolute")
    assert load_remembered(workspace) == load(workspace)


def test_findings_are_remembered_for_what_was_read_and_for_nothing_else(kept: Path, workspace: Path) -> None:
    loaded = load_remembered(workspace)
    finding = Diagnostic(rule="x", message="y")
    assert remembered_findings(loaded, "a", lambda: (finding,)) == (finding,)
    assert remembered_findings(loaded, "a", lambda: ()) == (finding,)
    assert remembered_findings(loaded, "b", lambda: ()) == ()
    assert remembered_findings(load(workspace), "a", lambda: ()) == ()


def test_no_more_is_kept_than_is_useful(kept: Path, workspace: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(remembering, "_MOST_KEPT", 2)
    for number in range(4):
        (workspace / "bikes" / "ours.yaml").write_text(f"name: Ours {number}\n", encoding="utf-8")
        load_remembered(workspace)
    assert len(list(kept.iterdir())) == 2


def loaded_modules(code: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", f"{code}; import sys; print(*sys.modules)"],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stdout.split())


def test_the_reading_hangs_on_the_rooms_of_its_digest_alone() -> None:
    modules = loaded_modules("import builder.sources.workspace")
    rooms = {name.split(".")[1] for name in modules if name.startswith("builder.")}
    assert rooms == set(READING_ROOMS)


@pytest.mark.parametrize("command", ["fit", "reckon", "parts", "card"])
def test_a_command_that_only_looks_something_up_gets_nothing_heavy_ready(command: str) -> None:
    modules = loaded_modules(f"import builder.cli.{command}")
    assert {"pydantic", "rich", "weasyprint", "yaml", "jinja2"} & modules == set()
