"""One bad guide does not stop the others: it is told, its old output stays and is marked, and all others are built."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from builder.build import making
from builder.build.order import Built, SetAside
from builder.build.set_aside import is_of, marked
from builder.sources.workspace import shipped_library
from tests.build.ordering import FITS, SHORT, built, state

BAD = "grips-fitted"
SHARED, USER = "belt-tension-read", "belt-tension-set"


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workspace with a bike and a guide of its own, and what was built of it before anything was wrong."""
    folder = tmp_path_factory.mktemp("shop")
    (folder / "shop" / "bikes").mkdir(parents=True)
    (folder / "shop" / "procedures").mkdir()
    shutil.copy(shipped_library() / "bikes" / f"{FITS}.yaml", folder / "shop" / "bikes" / "ours.yaml")
    shutil.copy(shipped_library() / f"{BAD}.yaml", folder / "shop" / f"{BAD}.yaml")
    going(folder / "shop", folder / "output")
    return folder


@pytest.fixture
def copied(shop: Path, tmp_path: Path) -> Path:
    shutil.copytree(shop, tmp_path / "all")
    return tmp_path / "all"


def going(shop: Path, out: Path, **wishes: object) -> Built:
    few = {"guides": (SHORT, BAD), "bikes": ("ours",), "printing": False, "keep_going": True}
    return built(out, workspace=shop, **(few | wishes))


def edited(path: Path, edit: Callable[[str], str]) -> None:
    before = path.read_text(encoding="utf-8")
    path.write_text(edit(before), encoding="utf-8")
    assert path.read_text(encoding="utf-8") != before


def misread(text: str) -> str:
    return text.replace("title:", "tilte:", 1)


def unproven(text: str) -> str:
    """Without its test the guide can be read and fails in the proof."""
    return text[: text.index("\ntest:")] + "\n"


@pytest.mark.parametrize("edit", [misread, unproven])
def test_a_bad_guide_is_told_and_its_old_pages_stay_marked_while_others_are_built(
    copied: Path, edit: Callable[[str], str]
) -> None:
    out = copied / "output"
    before = state(out)
    edited(copied / "shop" / f"{BAD}.yaml", edit)
    edited(copied / "shop" / "bikes" / "ours.yaml", lambda text: text.replace("name: ", "name: New ", 1))
    made = going(copied / "shop", out)
    assert made.told is not None
    assert [str(one) for one in made.set_aside] == [f"'{BAD}'"]
    assert made.set_aside[0].diagnostics
    after = state(out)
    for path in (f"site/guides/{BAD}.html", f"site/bikes/ours/{BAD}.html"):
        assert path in made.stale
        assert after[path] == marked(before[path]) != before[path]
    assert after[f"site/bikes/ours/{SHORT}.html"] != before[f"site/bikes/ours/{SHORT}.html"]
    assert b"stale" not in after[f"site/guides/{SHORT}.html"]
    again = going(copied / "shop", out)
    assert not again.unchanged
    assert state(out) == after


def test_without_it_nothing_is_written(copied: Path) -> None:
    before = state(copied / "output")
    edited(copied / "shop" / f"{BAD}.yaml", misread)
    assert going(copied / "shop", copied / "output", keep_going=False).told is None
    assert state(copied / "output") == before


def test_once_it_is_mended_everything_is_as_if_it_had_never_been_bad(copied: Path) -> None:
    before = state(copied / "output")
    guide = copied / "shop" / f"{BAD}.yaml"
    sound = guide.read_text(encoding="utf-8")
    edited(guide, misread)
    going(copied / "shop", copied / "output")
    guide.write_text(sound, encoding="utf-8")
    assert going(copied / "shop", copied / "output").set_aside == ()
    assert state(copied / "output") == before


def test_a_bad_bike_is_left_out_with_all_its_pages(copied: Path) -> None:
    edited(copied / "shop" / "bikes" / "ours.yaml", lambda text: f"{text}colour: green\n")
    made = going(copied / "shop", copied / "output", bikes=())
    assert [one.bike for one in made.set_aside] == ["ours"]
    assert {"site/bikes/ours.html", f"site/bikes/ours/{SHORT}.html"} <= set(made.stale)


def test_a_mistake_that_bears_on_everything_stops_everything(copied: Path) -> None:
    (copied / "shop" / "workshop.yaml").write_text("nmae: Ours\n", encoding="utf-8")
    before = state(copied / "output")
    assert going(copied / "shop", copied / "output").told is None
    assert state(copied / "output") == before


def test_a_bad_procedure_spoils_the_guides_that_use_it(copied: Path) -> None:
    text = (shipped_library() / "procedures" / f"{SHARED}.yaml").read_text(encoding="utf-8")
    (copied / "shop" / "procedures" / f"{SHARED}.yaml").write_text(misread(text), encoding="utf-8")
    made = going(copied / "shop", copied / "output", guides=(SHORT, USER))
    assert made.told is not None
    spoiled = {one.guide for one in made.set_aside}
    assert USER in spoiled
    assert SHORT not in spoiled


def test_a_card_that_can_not_be_read_is_left_out_and_the_old_one_stays(
    copied: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from builder.build.cards import CardPdf
    from builder.diagnostics.diagnostic import Diagnostic

    def printed(cards: object, *_: object) -> object:
        for card in cards:  # type: ignore[attr-defined]
            bad = f"{BAD}-a5" in card.path and card.path.startswith("ours") and broken
            findings = (Diagnostic(rule="L01", message="too small"),) if bad else ()
            yield card, CardPdf(data=b"%PDF", overflows=(), findings=findings, new=True)

    monkeypatch.setattr(making, "printed_cards", printed)
    broken = False
    going(copied / "shop", copied / "output", printing=True)
    broken = True
    (copied / "output" / "site" / "index.html").unlink()
    made = going(copied / "shop", copied / "output", printing=True)
    assert [str(one) for one in made.set_aside] == [f"'{BAD}' on 'ours'"]
    assert set(made.stale) == {f"cards/ours/{BAD}-a5.pdf", f"site/cards/ours/{BAD}-a5.pdf"}


@pytest.mark.parametrize(
    ("one", "path", "is_its"),
    [
        (SetAside(guide="a"), "site/guides/a.html", True),
        (SetAside(guide="a"), "cards/x/a-large-a4.pdf", False),
        (SetAside(guide="a"), "cards/x/a-teaching-a4.pdf", True),
        (SetAside(guide="a"), "site/checks/a.html", False),
        (SetAside(guide="a"), "site/cards/sheets/a-a4.pdf", True),
        (SetAside(guide="a", bike="b"), "site/guides/a.html", False),
        (SetAside(guide="a", bike="b"), "site/bikes/b/a.html", True),
        (SetAside(guide="a", bike="b"), "cards/generic/a-a5.pdf", False),
        (SetAside(bike="b"), "site/bikes/b.html", True),
        (SetAside(bike="b"), "cards/b/z-a5.pdf", True),
        (SetAside(bike="b"), "site/bikes/c/b.html", False),
        (SetAside(bike="b"), "site/index.html", False),
    ],
)
def test_a_path_belongs_to_what_it_shows(one: SetAside, path: str, is_its: bool) -> None:
    assert is_of(one, path) == is_its
