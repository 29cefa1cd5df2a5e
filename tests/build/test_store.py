"""Finished cards are found again by what they were made from, and never in part."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from builder.build.fingerprint import digest, of_folders, of_program
from builder.build.store import Store


def test_what_is_put_is_got(tmp_path: Path) -> None:
    store = Store(tmp_path / "cards")
    assert store.get("a") is None
    store.put("a", b"%PDF")
    assert store.get("a") == b"%PDF"


@pytest.mark.parametrize("harm", [lambda raw: raw[:-1], lambda raw: raw[:-1] + b"x", lambda raw: b""])
def test_a_damaged_entry_counts_as_absent(tmp_path: Path, harm) -> None:  # type: ignore[no-untyped-def]
    store = Store(tmp_path)
    store.put("a", b"%PDF")
    (tmp_path / "a").write_bytes(harm((tmp_path / "a").read_bytes()))
    assert store.get("a") is None


def test_only_what_no_build_has_used_for_long_is_thrown_away(tmp_path: Path) -> None:
    store = Store(tmp_path)
    for key in ("old", "used"):
        store.put(key, b"%PDF")
        os.utime(tmp_path / key, (1e9, 1e9))
    assert store.get("used")
    store.prune(now=(tmp_path / "used").stat().st_mtime + 24 * 3600)
    assert store.get("old") is None
    assert store.get("used") == b"%PDF"


def test_pruning_a_store_that_is_not_there_is_no_mistake(tmp_path: Path) -> None:
    Store(tmp_path / "none").prune()


def test_where_one_part_ends_counts() -> None:
    assert digest("ab", "c") != digest("a", "bc")
    assert digest("a") != digest("a", "")


def test_a_folder_is_known_by_names_and_contents(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "a/one.yaml").write_text("x: 1")
    first = of_folders([tmp_path])
    (tmp_path / "a/.swap").write_text("an editor's own file")
    assert of_folders([tmp_path]) == first
    (tmp_path / "a/one.yaml").write_text("x: 2")
    changed = of_folders([tmp_path])
    (tmp_path / "a/one.yaml").rename(tmp_path / "a/two.yaml")
    assert len({first, changed, of_folders([tmp_path])}) == 3


def test_the_program_is_known_by_one_digest() -> None:
    assert of_program() == of_program()
    assert len(of_program()) == 64


def test_a_file_that_another_build_takes_away_meanwhile_does_no_harm(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path)
    store.put("kept", b"data")
    listed = [tmp_path / "gone", tmp_path / "kept"]
    monkeypatch.setattr(Path, "iterdir", lambda _: iter(listed))
    store.prune(now=time.time() + 31 * 24 * 3600)
    assert store.get("kept") is None


def test_a_store_whose_marks_of_use_can_not_be_set_is_read_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path)
    store.put("key", b"data")

    def refused(_: Path) -> None:
        raise PermissionError

    monkeypatch.setattr("builder.build.store.os.utime", refused)
    assert store.get("key") == b"data"
