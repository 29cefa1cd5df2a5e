"""Sources that were made to hurt: each is told within a moment and little memory, and nothing of it is followed."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from builder.build.cards import GENERIC
from builder.build.printouts import CHARTS, SHEETS
from builder.diagnostics.diagnostic import Gravity
from builder.pages import paths
from builder.pages.markup import prose
from builder.sources.reading import Misread, read_as
from builder.sources.shapes import Text
from builder.sources.workspace import RESERVED, Loaded, load
from tests.sources.broken_cases import SMALL

MOMENT_SECONDS = 2.0


def read(folder: Path, files: dict[str, str | bytes]) -> Loaded:
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return load(folder, SMALL)


def rules(loaded: Loaded) -> set[str]:
    return {found.rule for found in loaded.diagnostics if found.gravity is Gravity.ERROR}


BOMBS: dict[str, str] = {
    "lists in lists": "- " * 100_000 + "a",
    "brackets in brackets": "[" * 300_000,
    "keys in keys": "{a: " * 100_000,
    "many aliases": "a: &a [1]\nb: [" + ",".join(["*a"] * 100_000) + "]",
    "aliases of aliases": "a: &a [x, x]\n" + "".join(f"b{n}: &b{n} [*a, *a, *a]\n" for n in range(9)),
    "many keys": "\n".join(f"k{number}: 1" for number in range(80_000)),
    "one key many times": "a: 1\n" * 150_000,
    "a giant text": "title: " + "x" * 900_000,
    "a giant key": "x" * 900_000 + ": 1",
    "many open braces": "do: '" + "{{" * 300_000 + "'",
    "many braces that hold little": "do: '" + "{{ a " * 150_000 + "'",
    "many tabs": "\t" * 900_000,
    "many lines": "\n" * 900_000 + "x",
    "many mistakes": "? [a]\n: b\n" * 50_000,
    "a tag that runs a program": "a: !!python/object/apply:os.system ['true']\n" * 1000,
}


@pytest.mark.parametrize("text", BOMBS.values(), ids=BOMBS)
def test_a_bomb_is_told_in_a_moment(text: str, tmp_path: Path) -> None:
    began = time.process_time()
    loaded = read(tmp_path, {"bomb.yaml": text})
    assert time.process_time() - began < MOMENT_SECONDS
    assert rules(loaded)
    assert len(loaded.diagnostics) < 110


def test_a_quantity_of_many_spaces_is_told_in_a_moment(tmp_path: Path) -> None:
    text = f"name: Coot\nparts:\n  frame: {{chainstay: '432{' ' * 9_000}1'}}\n"
    began = time.process_time()
    loaded = read(tmp_path, {"bikes/coot.yaml": text})
    assert time.process_time() - began < MOMENT_SECONDS
    assert rules(loaded) == {"value"}


def test_a_file_too_large_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "large.yaml").open("wb") as file:
        file.truncate(20_000_000_000)
    began = time.process_time()
    (found,) = load(tmp_path, SMALL).diagnostics
    assert time.process_time() - began < MOMENT_SECONDS
    assert "larger than 1000 kB" in found.message


def test_what_is_no_plain_file_is_not_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "queue.yaml")
    (tmp_path / "zero.yaml").symlink_to("/dev/zero")
    loaded = load(tmp_path, SMALL)
    assert [(found.at.file.rpartition("/")[2], found.rule) for found in loaded.diagnostics] == [
        ("queue.yaml", "unreadable"),
        ("zero.yaml", "link"),
    ]


def test_links_out_of_the_workspace_are_not_followed_and_links_within_are(tmp_path: Path) -> None:
    secret = tmp_path / "secret.yaml"
    secret.write_text("password: swordfish\n")
    shop = tmp_path / "shop"
    loaded = read(shop, {"shelf/one.yaml": "chain-z: {name: Z}\n"})
    (shop / "bikes").mkdir()
    (shop / "bikes/out.yaml").symlink_to("../../secret.yaml")
    (shop / "images").symlink_to("/")
    (shop / "parts").mkdir()
    (shop / "parts/chain").symlink_to("../shelf")
    loaded = load(shop, SMALL)
    told = {found.at.file.removeprefix(f"{shop}/"): found.rule for found in loaded.diagnostics}
    assert told == {"bikes/out.yaml": "link", "images": "link", "shelf": "unknown-folder"}
    assert not any("swordfish" in text for text in loaded.texts.values())
    assert "chain-z" in loaded.library.parts


@pytest.mark.parametrize(
    "escape", [r"\x1b[31m", r"\0", r"\u202e", r"\u200b", r"\u2066", r"\x85", r"\ufeff", r"\x7f", r"\r"]
)
def test_a_character_that_nobody_sees_is_refused_as_an_escape_too(escape: str, tmp_path: Path) -> None:
    loaded = read(tmp_path, {"bikes/coot.yaml": f'name: "Co{escape}ot"\n'})
    assert rules(loaded) == {"control-character"}


@pytest.mark.parametrize("sign", ["\u202e", "\u200b", "\u2066", "\u2060", "\x1b"])
def test_a_character_that_nobody_sees_is_refused(sign: str, tmp_path: Path) -> None:
    loaded = read(tmp_path, {"bikes/coot.yaml": f"name: Co{sign}ot\n"})
    assert rules(loaded) == {"control-character"}


def test_words_of_every_script_and_joined_letters_pass(tmp_path: Path) -> None:
    loaded = read(tmp_path, {"bikes/coot.yaml": 'name: "Żółw Велосипед 自転車 می\u200cخواهم\\t✓"\n'})
    assert rules(loaded) == set()


def test_a_name_that_a_terminal_would_obey_is_shown_harmless(tmp_path: Path) -> None:
    loaded = read(tmp_path, {"bikes/x\x1b[31m.yaml": "name: X\n"})
    assert all("\x1b" not in found.at.file and "\x1b" not in found.message for found in loaded.diagnostics)


def test_procedures_that_double_are_told_and_not_laid_out(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        f"procedures/p{number}.yaml": f"title: P\nsteps: [{{use: p{number + 1}}}, {{use: p{number + 1}}}]\n"
        for number in range(30)
    }
    files["procedures/p30.yaml"] = "title: P\nsteps:\n  - id: look\n    do: Look at the chain.\n"
    guide = (SMALL / "cassette.yaml").read_text(encoding="utf-8")
    assert "steps:\n" in guide
    files["cassette.yaml"] = guide.replace("steps:\n", "steps:\n      - use: p0\n", 1)
    began = time.process_time()
    loaded = read(tmp_path, files)
    assert time.process_time() - began < MOMENT_SECONDS
    assert "too-large" in rules(loaded)


def test_a_long_chain_of_procedures_breaks_nothing(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {
        f"procedures/p{number}.yaml": f"title: P\nsteps: [{{use: p{(number + 1) % 1500}}}]\n" for number in range(1500)
    }
    read(tmp_path, files)


def test_a_broken_file_is_not_stood_in_for_by_the_library(tmp_path: Path) -> None:
    for text in ("name: [", "", b"\xff\xfe"):
        loaded = read(tmp_path, {"bikes/wagtail.yaml": text})
        assert "wagtail" not in loaded.library.bikes
        assert rules(loaded)


@pytest.mark.parametrize(
    ("collection", "name"), [(key, name) for key, names in RESERVED.items() for name in sorted(names)]
)
def test_names_that_the_output_uses_itself_are_refused(collection: str, name: str, tmp_path: Path) -> None:
    place = f"bikes/{name}.yaml" if collection == "bikes" else f"{name}.yaml"
    assert "name" in rules(read(tmp_path, {place: "name: X\n"}))


def test_what_is_reserved_is_what_the_output_uses() -> None:
    assert {GENERIC, SHEETS, CHARTS} == RESERVED["bikes"]
    assert {Path(paths.upkeep("x")).stem} == RESERVED["guides"]


@pytest.mark.parametrize("mark", ["- ", "+ ", "* ", "1. ", "> "])
def test_lists_in_lists_without_end_are_refused_before_they_are_laid_out(mark: str) -> None:
    with pytest.raises(Misread, match="too many times"):
        read_as(Text(prose=True), mark * 500 + "a")
    assert read_as(Text(prose=True), mark * 8 + "a")
    assert prose(mark * 8 + "a")


def test_what_stands_beside_the_sources_is_a_note_and_no_mistake(tmp_path: Path) -> None:
    loaded = read(
        tmp_path, {"card.html": "x", "card.pdf": "x", "notes": "x", "bikes/photo.jpg": "x", "parts/list.ods": "x"}
    )
    assert {found.gravity for found in loaded.diagnostics} == {Gravity.NOTE}
    assert len(loaded.diagnostics) == 5
