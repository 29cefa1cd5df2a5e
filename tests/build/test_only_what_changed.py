"""After an edit of each kind of source: what is made again, counted; and all comes out as if it were made anew."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

from builder.build.driver import build
from builder.build.order import Order, Quiet
from builder.build.printer import Printer
from builder.model.memory import Memory
from builder.pages.theme import load_theme
from builder.sources.workspace import load, shipped_library, shipped_themes
from tests.build.ordering import FITS, SHORT, state

OTHER = "grips-fitted"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace with two bikes, two guides and some of the catalogue of its own."""
    folder = tmp_path_factory.mktemp("shop")
    for name in ("bikes", "procedures", "catalogue"):
        (folder / name).mkdir()
    for name in (FITS, "coot"):
        shutil.copy(shipped_library() / "bikes" / f"{name}.yaml", folder / "bikes" / f"{name}.yaml")
    for name in (SHORT, OTHER):
        shutil.copy(shipped_library() / f"{name}.yaml", folder / f"{name}.yaml")
    for name in ("fasteners", "cautions"):
        shutil.copy(shipped_library() / "catalogue" / f"{name}.yaml", folder / "catalogue" / f"{name}.yaml")
    return folder


def ordered(shop: Path, out: Path) -> Order:
    return Order(workspace=shop, out=out, guides=(SHORT, OTHER), bikes=(FITS, "coot"), printing=False)


def first(text: str, key: str, more: str) -> str:
    """The text with something put in front of the first value of a key."""
    before, found, after = text.partition(f"\n{key}: ")
    assert found
    return f"{before}{found}{more}{after}"


# Jobs are the two guides, generic and for each of two bikes; pages of guides are as many.
EDITS: dict[str, tuple[str, Callable[[str], str], dict[str, int]]] = {
    "a comment": (f"{SHORT}.yaml", lambda text: f"{text}# later\n", {"job": 0, "page": 0}),
    "a guide's title": (f"{SHORT}.yaml", lambda text: first(text, "title", "Now "), {"job": 3, "card": 3}),
    "a word of a step": (
        f"{SHORT}.yaml",
        lambda text: text.replace("Clean the threads", "Clean all threads", 1),
        {"job": 3, "card": 3, "code": 3, "templates": 0},
    ),
    "a bike's name": (f"bikes/{FITS}.yaml", lambda text: first(text, "name", "New "), {"job": 2, "upkeep": 1}),
    "a torque of neither": (
        "catalogue/fasteners.yaml",
        lambda text: text.replace("30–50 N·m", "30–49 N·m", 1),
        {"job": 4},  # a plan looks through all fasteners; a generic guide through those that it turns
    ),
}


def test_only_what_an_edit_bears_on_is_made_again(shop: Path, tmp_path: Path) -> None:
    memory = Memory()
    out = tmp_path / "output"
    build(ordered(shop, out), Quiet(), memory)
    assert Counter(memory.made)["job"] == 6
    for edit, (name, change, again) in EDITS.items():
        path = shop / name
        text = path.read_text(encoding="utf-8")
        path.write_text(change(text), encoding="utf-8")
        assert path.read_text(encoding="utf-8") != text, edit
        assert build(ordered(shop, out), Quiet(), memory).told is not None
        made = Counter(memory.made)
        assert {what: made[what] for what in ("file", "printer", *again)} == {"file": 1, "printer": 0, **again}, edit
    fresh = tmp_path / "fresh"
    build(ordered(shop, fresh), Quiet(), Memory(lasting=False))
    assert state(out) == state(fresh)


def test_a_style_of_the_screen_prints_no_card_again(tmp_path: Path) -> None:
    """The key of a card hangs on what a card is dressed in, and no stylesheet or script of the site has part in it."""
    theme = tmp_path / "bench"
    shutil.copytree(shipped_themes() / "bench", theme)
    html = "<html><title>x</title><body>x</body></html>"
    before = Printer(theme=load_theme(theme)).key(html)
    for name in ("site.css", "dark.css", "site.js"):
        with (theme / name).open("a", encoding="utf-8") as file:
            file.write("/* later */\n")
    assert load_theme(theme).assets != load_theme(shipped_themes() / "bench").assets
    assert Printer(theme=load_theme(theme)).key(html) == before
    for name in ("card.css", "tokens.css", "blocks.css", "bands.css", "large.css"):
        with (theme / name).open("a", encoding="utf-8") as file:
            file.write("/* later */\n")
        after = Printer(theme=load_theme(theme)).key(html)
        assert after != before
        before = after
    face = next((theme / "fonts").glob("*.woff2"))
    face.write_bytes(face.read_bytes() + b" ")
    assert Printer(theme=load_theme(theme)).key(html) != before


def test_the_key_of_a_card_does_not_hang_on_the_folder(tmp_path: Path) -> None:
    shutil.copytree(shipped_themes() / "bench", tmp_path / "elsewhere" / "bench")
    here = Printer(theme=load_theme(shipped_themes() / "bench")).key("<html>x</html>")
    assert Printer(theme=load_theme(tmp_path / "elsewhere" / "bench")).key("<html>x</html>") == here


def test_a_record_that_moved_down_its_file_is_told_at_its_new_lines(shop: Path) -> None:
    memory, path = Memory(), shop / f"{OTHER}.yaml"
    before = load(shop, memory=memory).library.guides[OTHER]
    path.write_text(f"# later\n{path.read_text(encoding='utf-8')}", encoding="utf-8")
    memory.turn()
    after = load(shop, memory=memory).library.guides[OTHER]
    assert after == before
    assert after.places.of("title").line == before.places.of("title").line + 1
