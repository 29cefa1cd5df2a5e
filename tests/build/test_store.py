"""Finished cards are found again by what they were made from, and never in part."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from builder.build import fingerprint
from builder.build.fingerprint import digest, of_folders, of_program, of_sources, of_system_fonts
from builder.build.store import Store, own_seal


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
    old, used = "0" * 64, "1" * 64
    for key in (old, used):
        store.put(key, b"%PDF")
        os.utime(tmp_path / key, (1e9, 1e9))
    assert store.get(used)
    store.prune(now=(tmp_path / used).stat().st_mtime + 24 * 3600)
    assert store.get(old) is None
    assert store.get(used) == b"%PDF"


def test_what_no_build_put_there_is_never_thrown_away(tmp_path: Path) -> None:
    names = ["thesis.txt", "a", "F" * 64, "0" * 63, f"{'0' * 64}.txt"]
    for name in names:
        (tmp_path / name).write_text("years of work")
    Store(tmp_path).prune(now=time.time() + 1e9)
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(names)


def test_what_a_killed_build_began_is_thrown_away_after_a_day(tmp_path: Path) -> None:
    begun = tmp_path / f"{'0' * 64}.4711"
    begun.write_bytes(b"half a card")
    Store(tmp_path).prune(now=time.time() + 3600)
    assert begun.exists()
    Store(tmp_path).prune(now=time.time() + 25 * 3600)
    assert not begun.exists()


def test_a_store_behind_a_link_is_not_pruned(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    Store(elsewhere).put("0" * 64, b"%PDF")
    (tmp_path / "store").symlink_to(elsewhere)
    Store(tmp_path / "store").prune(now=time.time() + 1e9)
    assert (elsewhere / ("0" * 64)).exists()


@pytest.mark.parametrize("other", [b"x" * 32, b""])
def test_an_entry_that_somebody_else_sealed_counts_as_absent(tmp_path: Path, other: bytes) -> None:
    Store(tmp_path, other).put("a", b"%PDF forged")
    assert Store(tmp_path).get("a") is None


def test_an_entry_under_another_key_counts_as_absent(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.put("a", b"%PDF")
    (tmp_path / "a").rename(tmp_path / "b")
    assert store.get("b") is None


def test_the_seal_is_kept_for_its_owner_alone_and_stays_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    assert len({own_seal(), own_seal(), (tmp_path / "cache/spannerleaf/seal").read_bytes()}) == 1
    assert (tmp_path / "cache/spannerleaf/seal").stat().st_mode & 0o077 == 0
    assert [path.name for path in (tmp_path / "cache/spannerleaf").iterdir()] == ["seal"]


def test_a_full_disk_costs_the_store_an_entry_and_nothing_else(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(self: Path, data: bytes) -> int:
        raise OSError(28, "No space left on device")

    store = Store(tmp_path)
    monkeypatch.setattr(Path, "write_bytes", full)
    store.put("a", b"%PDF")
    assert store.get("a") is None
    assert list(tmp_path.iterdir()) == []


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


def test_a_linked_folder_counts_with_what_is_in_it(tmp_path: Path) -> None:
    (tmp_path / "shop/shelf").mkdir(parents=True)
    (tmp_path / "shop/shelf/one.yaml").write_text("x: 1")
    (tmp_path / "shop/parts").mkdir()
    (tmp_path / "shop/parts/chain").symlink_to("../shelf")
    shop = tmp_path / "shop"
    first = of_sources(shop, tmp_path / "out")
    (tmp_path / "shop/shelf/one.yaml").write_text("x: 2")
    assert of_sources(shop, tmp_path / "out") != first


def test_a_link_out_of_the_sources_counts_by_where_it_leads_and_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop/images").symlink_to("/")
    began = time.process_time()
    first = of_sources(tmp_path / "shop", tmp_path / "out")
    assert time.process_time() - began < 1
    (tmp_path / "shop/images").unlink()
    (tmp_path / "shop/images").symlink_to("/usr")
    assert of_sources(tmp_path / "shop", tmp_path / "out") != first


def test_links_in_a_ring_a_queue_and_a_locked_file_do_not_hold_a_fingerprint_up(tmp_path: Path) -> None:
    (tmp_path / "parts/a").mkdir(parents=True)
    (tmp_path / "parts/a/back").symlink_to("..")
    os.mkfifo(tmp_path / "parts/queue.yaml")
    os.mkfifo(tmp_path / "queue.yaml")
    (tmp_path / "parts/locked.yaml").write_text("x: 1")
    (tmp_path / "parts/locked.yaml").chmod(0)
    assert of_sources(tmp_path, tmp_path / "out") == of_sources(tmp_path, tmp_path / "out")


def test_the_version_of_the_program_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    first = of_program.__wrapped__()
    monkeypatch.setattr(fingerprint, "version", lambda: "99")
    assert of_program.__wrapped__() != first


def test_a_face_that_the_system_gains_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(fingerprint, "_font_folders", lambda: [str(tmp_path)])
    first = of_system_fonts.__wrapped__()
    (tmp_path / "face.ttf").write_bytes(b"a face")
    assert of_system_fonts.__wrapped__() != first


def test_the_program_is_known_by_one_digest() -> None:
    assert of_program() == of_program()
    assert len(of_program()) == 64


def test_a_file_that_another_build_takes_away_meanwhile_does_no_harm(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path)
    gone, kept = "0" * 64, "1" * 64
    store.put(kept, b"data")
    listed = [tmp_path / gone, tmp_path / kept]
    monkeypatch.setattr(Path, "iterdir", lambda _: iter(listed))
    store.prune(now=time.time() + 31 * 24 * 3600)
    assert store.get(kept) is None


def test_a_store_whose_marks_of_use_can_not_be_set_is_read_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Store(tmp_path)
    store.put("key", b"data")

    def refused(_: Path) -> None:
        raise PermissionError

    monkeypatch.setattr("builder.build.store.os.utime", refused)
    assert store.get("key") == b"data"
