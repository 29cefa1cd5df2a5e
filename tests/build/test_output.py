"""The output folder goes from one whole state to the next, whatever happens on the way."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from builder.build import output
from builder.build.output import OutputRefused, settle, staged, state_file

OLD = {"site/index.html": b"old page", "site/a/deep.html": b"same", "cards/generic/card.pdf": b"%PDF old"}
NEW = {"site/index.html": b"new page", "site/a/deep.html": b"same", "cards/one/card.pdf": b"%PDF new"}


def build(out: Path, files: dict[str, bytes]) -> output.Staging:
    with staged(out) as staging:
        for path, data in files.items():
            staging.write(path, data)
    return staging


def state(out: Path) -> dict[str, bytes]:
    return {
        path.relative_to(out).as_posix(): path.read_bytes()
        for name in output.OWNED
        for path in sorted((out / name).rglob("*"))
        if path.is_file()
    }


class Stopped(Exception):
    """The power went."""


def test_a_build_replaces_the_whole_state(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    build(tmp_path, NEW)
    assert state(tmp_path) == dict(sorted(NEW.items(), key=lambda item: (item[0].startswith("cards"), item[0])))
    assert "cards/generic/card.pdf" not in state(tmp_path)


def test_what_a_build_does_not_own_stays(tmp_path: Path) -> None:
    (tmp_path / ".gitkeep").touch()
    (tmp_path / "notes.txt").write_text("mine")
    build(tmp_path, OLD)
    build(tmp_path, NEW)
    assert (tmp_path / ".gitkeep").exists()
    assert (tmp_path / "notes.txt").read_text() == "mine"
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        ".gitkeep", ".spannerleaf", "cards", "notes.txt", "site",
    ]  # fmt: skip


def test_a_file_that_is_as_it_was_keeps_its_time_stamp(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    os.utime(tmp_path / "site/a/deep.html", (1, 1))
    staging = build(tmp_path, NEW)
    assert (tmp_path / "site/a/deep.html").stat().st_mtime == 1
    assert staging.changed == ["site/index.html", "cards/one/card.pdf"]


def test_an_exception_on_the_way_leaves_the_old_state(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    before = state(tmp_path)
    with pytest.raises(Stopped), staged(tmp_path) as staging:
        staging.write("site/index.html", b"half a page")
        raise Stopped
    assert state(tmp_path) == before
    assert not (tmp_path / ".spannerleaf/next").exists()


def test_ctrl_c_on_the_way_leaves_the_old_state(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    before = state(tmp_path)
    with pytest.raises(KeyboardInterrupt), staged(tmp_path) as staging:
        staging.write("site/index.html", b"half a page")
        raise KeyboardInterrupt
    assert state(tmp_path) == before


@pytest.mark.parametrize("steps", range(4))
def test_a_power_cut_at_any_rename_ends_in_the_new_state(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, steps: int
) -> None:
    build(tmp_path, OLD)
    renames = 0

    def rename(source: Any, target: Any) -> None:
        nonlocal renames
        if renames == steps:
            raise Stopped
        renames += 1
        os.replace(source, target)

    with monkeypatch.context() as patched:
        patched.setattr(output.os, "rename", rename)
        with pytest.raises(Stopped):
            build(tmp_path, NEW)
    settle(tmp_path)
    assert set(state(tmp_path).items()) == set(NEW.items())


def test_a_killed_build_is_thrown_away_by_the_next(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    leftover = tmp_path / ".spannerleaf/next/site/index.html"
    leftover.parent.mkdir(parents=True)
    leftover.write_bytes(b"half a page")
    settle(tmp_path)
    assert set(state(tmp_path).items()) == set(OLD.items())
    assert not leftover.exists()


def test_an_exchange_removes_the_record_of_the_state_before(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    state_file(tmp_path).write_text("{}")
    build(tmp_path, NEW)
    assert not state_file(tmp_path).exists()


def test_folders_of_somebody_else_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site/thesis.txt").write_text("years of work")
    with pytest.raises(OutputRefused, match="was not built by spannerleaf"):
        build(tmp_path, NEW)
    assert (tmp_path / "site/thesis.txt").read_text() == "years of work"


def test_two_builds_do_not_write_at_once(tmp_path: Path) -> None:
    with staged(tmp_path), pytest.raises(OutputRefused, match="another build"):
        build(tmp_path, NEW)


def test_an_output_folder_that_is_a_file_is_refused_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(OutputRefused, match="can't be used") as refused:
        build(tmp_path / "out", NEW)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("path", ["index.html", "site", "site/../../x", "elsewhere/x", "", "/etc/passwd"])
def test_nothing_is_written_outside_what_a_build_owns(tmp_path: Path, path: str) -> None:
    with pytest.raises(ValueError, match="is not a place"), staged(tmp_path) as staging:
        staging.write(path, b"")


def test_one_place_is_written_once(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="twice"), staged(tmp_path) as staging:
        staging.write("site/index.html", b"1")
        staging.write("site/index.html", b"2")
