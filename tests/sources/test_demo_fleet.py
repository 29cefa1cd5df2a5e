"""A workspace may do without the demo's invented bikes."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.sources.workspace import load
from tests.demo import library


def workspace(folder: Path, workshop: str) -> Path:
    (folder / "bikes").mkdir(parents=True)
    (folder / "workshop.yaml").write_text(f"name: Ours\n{workshop}", encoding="utf-8")
    (folder / "bikes" / "ours.yaml").write_text("name: Ours\n", encoding="utf-8")
    return folder


def test_a_workspace_that_says_so_has_its_own_bikes_alone(tmp_path: Path) -> None:
    loaded = load(workspace(tmp_path / "shop", "demo-fleet: false\n"))
    assert loaded.diagnostics == ()
    assert list(loaded.library.bikes) == ["ours"]
    assert not loaded.library.workshop.demo_fleet
    assert loaded.library.parts == library().parts


@pytest.mark.parametrize("words", ["", "demo-fleet: true\n"])
def test_without_a_word_the_demo_stays(tmp_path: Path, words: str) -> None:
    loaded = load(workspace(tmp_path / "shop", words))
    assert loaded.diagnostics == ()
    assert set(loaded.library.bikes) == {*library().bikes, "ours"}


def test_a_word_that_is_neither_is_told_and_leaves_the_demo(tmp_path: Path) -> None:
    loaded = load(workspace(tmp_path / "shop", "demo-fleet: no\n"))
    (found,) = loaded.diagnostics
    assert found.at.line == 2
    assert any("false for the truth value" in hint for hint in found.hints), found
    assert "heron" in loaded.library.bikes
