"""The output folder goes from one whole state to the next, whatever happens on the way."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from builder.build import exchange, output
from builder.build.alone import refuse_place
from builder.build.output import OutputRefused, settle, settled, staged, state_file
from builder.sources.workspace import shipped_library
from tests.build.harm import harmed, killed, refuse_to_write

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


WHOLE = (dict(OLD), dict(NEW))


def whole(files: dict[str, bytes], name: str) -> tuple[dict[str, bytes], ...]:
    return tuple({path: data for path, data in state.items() if path.startswith(name)} for state in WHOLE)


@pytest.mark.parametrize("at_once", [True, False], ids=["exchanged at once", "renamed twice"])
def test_a_build_that_is_killed_anywhere_leaves_a_whole_state_and_nothing_to_clean(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at_once: bool
) -> None:
    """Killed before each single thing that it does to a file, until it has nothing more to do."""
    if not at_once:
        monkeypatch.setattr(exchange, "_exchanged", lambda one, other: False)
    at = 0
    while True:
        out = tmp_path / str(at)
        build(out, OLD)
        if not killed(out, at, lambda out=out: build(out, NEW)):
            break
        if at_once:
            for name in output.OWNED:
                here = {path: data for path, data in state(out).items() if path.startswith(name)}
                assert here in whole(NEW, name), f"killed at {at}"
        settled(out)
        assert state(out) in WHOLE, f"killed at {at}"
        build(out, NEW)
        assert state(out) == NEW, f"killed at {at}"
        assert sorted(path.name for path in (out / output.ASIDE).iterdir()) == ["lock", "made-here", "made.json"]
        at += 1
    assert at > 25
    assert state(out) == NEW


def test_a_write_error_anywhere_leaves_a_whole_state_and_nothing_to_clean(tmp_path: Path) -> None:
    at, told = 0, 0
    while True:
        out = tmp_path / str(at)
        build(out, OLD)
        with harmed(out, at, refuse_to_write) as watch:
            try:
                build(out, NEW)
            except (OSError, OutputRefused):
                told += 1
        settled(out)
        assert state(out) in WHOLE, f"failed at {at}"
        build(out, NEW)
        assert state(out) == NEW, f"failed at {at}"
        if len(watch.seen) <= at:
            break
        at += 1
    assert at > 25
    assert told > 10


def test_a_killed_process_leaves_no_lock(tmp_path: Path) -> None:
    assert killed(tmp_path, 12, lambda: build(tmp_path, OLD))
    build(tmp_path, NEW)
    assert state(tmp_path) == NEW


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


def test_two_builds_do_not_write_at_once_and_the_second_says_who_holds_the_folder(tmp_path: Path) -> None:
    with staged(tmp_path), pytest.raises(OutputRefused, match=rf"another build \(process {os.getpid()}\)"):
        build(tmp_path, NEW)


def test_files_of_somebody_else_in_the_site_are_carried_along(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    (tmp_path / "site/CNAME").write_text("guides.example")
    (tmp_path / "site/a/own").mkdir()
    (tmp_path / "site/a/own/notes.txt").write_text("mine")
    (tmp_path / "cards/link").symlink_to("generic")
    for files in (NEW, OLD, NEW):
        staging = build(tmp_path, files)
        assert staging.kept == ("cards/link", "site/CNAME", "site/a/own/notes.txt")
        assert (tmp_path / "site/CNAME").read_text() == "guides.example"
        assert (tmp_path / "site/a/own/notes.txt").read_text() == "mine"
        assert os.readlink(tmp_path / "cards/link") == "generic"
        assert set(files.items()) <= set(state(tmp_path).items())


@pytest.mark.parametrize("own", ["site/new.html", "site/b"])
def test_a_file_of_somebody_else_that_stands_in_the_way_is_not_replaced(tmp_path: Path, own: str) -> None:
    build(tmp_path, OLD)
    (tmp_path / own).write_text("mine")
    with pytest.raises(OutputRefused, match="would be replaced"):
        build(tmp_path, {**NEW, "site/new.html": b"page", "site/b/c.html": b"page"})
    assert (tmp_path / own).read_text() == "mine"
    assert set(OLD.items()) <= set(state(tmp_path).items())


def test_what_an_older_build_made_is_known_by_its_record(tmp_path: Path) -> None:
    build(tmp_path, OLD)
    (tmp_path / ".spannerleaf/made.json").unlink()
    state_file(tmp_path).write_text(json.dumps({"files": {path: [1, 2] for path in OLD}}))
    (tmp_path / "site/CNAME").write_text("guides.example")
    assert build(tmp_path, NEW).kept == ("site/CNAME",)
    assert state(tmp_path) == {**NEW, "site/CNAME": b"guides.example"}


@pytest.mark.parametrize(
    "name", [".spannerleaf", ".spannerleaf/store", ".spannerleaf/next", ".spannerleaf/lock", "site"]
)
def test_links_where_a_build_writes_and_deletes_are_refused(tmp_path: Path, name: str) -> None:
    elsewhere, out = tmp_path / "elsewhere", tmp_path / "out"
    elsewhere.mkdir()
    (elsewhere / "thesis.txt").write_text("years of work")
    (out / name).parent.mkdir(parents=True)
    (out / name).symlink_to(elsewhere)
    with pytest.raises(OutputRefused, match="is a link"):
        build(out, NEW)
    assert [path.name for path in elsewhere.iterdir()] == ["thesis.txt"]


def test_folders_that_are_no_place_for_output_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shop = tmp_path / "shop"
    shop.mkdir()
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    for out in (Path("/"), tmp_path / "home", shop, shop / "parts", shop / "bikes/out", shipped_library()):
        with pytest.raises(OutputRefused, match="with --out"):
            refuse_place(out, (shop, shipped_library()))
    with pytest.raises(OutputRefused, match="holds the sources"):
        refuse_place(tmp_path, (tmp_path / "site/shop",))
    for out in (shop / "output", tmp_path, tmp_path / "home/public"):
        refuse_place(out, (shop, shipped_library()))


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
