"""A build holds every card that it prints against the rules of print; cards are broken on purpose by a theme's copy."""

from __future__ import annotations

import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from builder.build import dressing, legible
from builder.build.order import Built
from builder.diagnostics.diagnostic import Diagnostic
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.printing.faces import letter_heights
from builder.printing.laid_out import sheets_of
from builder.printing.sheet import Ground, Sheet
from tests.build.ordering import built
from tests.pages.shop import THEME, html_of, theme, writer
from tests.read_back import read_sheets

# A short guide that no bike of the demo plans.
SHORT = "hub-gear-cable-adjusted"
CARD = f"cards/generic/{SHORT}-teaching-a5.pdf"


@pytest.fixture
def dress(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the theme, which builds of the test are dressed in."""
    copy = tmp_path / "themes" / "bench"
    shutil.copytree(THEME, copy)
    for module in (dressing, legible):
        monkeypatch.setattr(module, "shipped_themes", lambda: tmp_path / "themes")
    return copy


def alter(dress: Path, name: str, old: str, new: str) -> None:
    text = (dress / name).read_text(encoding="utf-8")
    assert old in text
    (dress / name).write_text(text.replace(old, new), encoding="utf-8")


def short_build(out: Path) -> Built:
    return built(out, guides=(SHORT,), bikes=("plover",), forms=(Form.TEACHING,), processes=1)


def of_rule(made: Built, rule: str) -> list[Diagnostic]:
    return [one for one in made.diagnostics if one.rule == rule]


def test_a_sound_card_is_printed_without_a_word(dress: Path, tmp_path: Path) -> None:
    made = short_build(tmp_path / "output")
    assert made.told is not None
    assert made.told.print_findings == ()
    assert (tmp_path / "output" / CARD).is_file()


def test_letters_that_are_too_small_stop_the_build(dress: Path, tmp_path: Path) -> None:
    alter(dress, "tokens.css", "--small-size: 10pt", "--small-size: 8pt")
    made = short_build(tmp_path / "output")
    assert made.told is None
    assert not (tmp_path / "output" / CARD).exists()
    found = of_rule(made, "L01")
    assert found
    assert found[0].at.file == CARD
    assert found[0].at.line >= 1
    assert found[0].message.startswith("8.0 pt: ")
    assert found[0].label == "allowed: 10 pt or more"
    assert found[0].hints[0] == "raise the size in the theme's tokens.css"
    assert found[0].hints[1].startswith("L01, house rule after CAP 676")


def test_a_caution_that_is_parted_from_its_step_stops_the_build(dress: Path, tmp_path: Path) -> None:
    alter(
        dress,
        "card.css",
        "break-inside: avoid; break-after: avoid }\n.strip > div",
        "break-after: page }\n.strip > div",
    )
    alter(dress, "card.css", ".step { position: relative; margin-bottom: var(--step-gap); break-inside: avoid }", "")
    made = short_build(tmp_path / "output")
    assert made.told is None
    found = of_rule(made, "H03")
    assert found
    assert "does not stand above its step" in found[0].message
    assert found[0].at.file == CARD


def test_a_lesser_breach_is_told_and_told_again_by_a_build_that_prints_nothing(dress: Path, tmp_path: Path) -> None:
    alter(dress, "tokens.css", "--step-size: 14.6pt", "--step-size: 13pt")
    first = short_build(tmp_path / "output")
    assert first.told is not None
    assert first.printed == 1
    assert first.told.print_findings
    assert all("small letters 2.27 mm high" in words for words in first.told.print_findings)
    assert all(words.startswith(f"{CARD}:") for words in first.told.print_findings)
    assert short_build(tmp_path / "output").told == first.told
    (tmp_path / "output" / ".spannerleaf" / "state.json").unlink()
    again = short_build(tmp_path / "output")
    assert (again.printed, again.unchanged) == (0, False)
    assert again.told is not None
    assert again.told.print_findings == first.told.print_findings


def test_a_stylesheet_that_breaks_a_rule_stops_the_build_before_a_card_is_printed(dress: Path, tmp_path: Path) -> None:
    alter(dress, "card.css", "hyphens: none", "hyphens: auto")
    made = short_build(tmp_path / "output")
    assert (made.told, made.printed) == (None, 0)
    (found,) = of_rule(made, "L11")
    assert (found.rule, found.at.file) == ("L11", "themes/bench/card.css")
    assert found.hints[0] == "take the declaration out of the stylesheet"


# --- the layout against the PDF read back --------------------------------------------------------


@cache
def both_ways(bike: str, paper: Paper) -> list[tuple[Sheet, Sheet]]:
    """Each side as its layout shows it, and as its PDF does."""
    document = writer()._laid_out(html_of(bike, paper))
    return list(zip(sheets_of(document.pages), read_sheets(document.write_pdf()), strict=True))


def test_the_layout_says_of_every_side_what_the_pdf_says() -> None:
    pairs = both_ways("kestrel", Paper.A5)
    # A layout does not show the letters of drawings, so that sides without any are compared.
    alike = [(mine, read) for mine, read in pairs if len(mine.ink) == len(read.ink)]
    assert len(alike) >= 0.5 * len(pairs)
    for mine, read in alike:
        assert (mine.width_pt, mine.height_pt) == pytest.approx((read.width_pt, read.height_pt), abs=0.01)
        assert sorted(letter.text for letter in mine.ink) == sorted(letter.text for letter in read.ink)
        for measure, slack in (("size_pt", 0.01), ("bottom", 2.0)):
            ours, theirs = (sorted(getattr(letter, measure) for letter in sheet.ink) for sheet in (mine, read))
            assert ours == pytest.approx(theirs, abs=slack), f"side {mine.number}: {measure}"
        for edge, at in ((min, "x0"), (max, "x1")):
            ours_at, theirs_at = (edge(getattr(letter, at) for letter in sheet.ink) for sheet in (mine, read))
            assert ours_at == pytest.approx(theirs_at, abs=2.0), f"side {mine.number}: {at}"
        assert colours(mine) == colours(read)


def colours(sheet: Sheet) -> set[tuple[int, ...]]:
    return {tuple(round(100 * part) for part in letter.colour) for letter in sheet.ink}


def test_what_is_framed_and_filled_stands_in_the_layout_too() -> None:
    for mine, read in both_ways("kestrel", Paper.A5)[:12]:
        boxes, squares = set(map(place, mine.frames)), {place(one) for one in read.frames if is_square(one)}
        assert squares <= boxes, f"side {mine.number}"
        words = {place(one) for one in read.grounds if max(one.colour) - min(one.colour) > 0.3 and one.x1 - one.x0 > 30}
        assert words <= set(map(place, mine.grounds)), f"side {mine.number}"


def place(one: Ground) -> tuple[int, ...]:
    return round(one.x0), round(one.x1), round(one.top), round(one.bottom)


def is_square(one: Ground) -> bool:
    return abs((one.x1 - one.x0) - (one.bottom - one.top)) < 0.1


def test_the_height_of_letters_is_read_from_the_face() -> None:
    # The face's own OS/2 table: 496 and 668 of 1000.
    heights = letter_heights(theme())
    assert heights == pytest.approx((0.496, 0.668), abs=0.002)
    assert letter_heights(replace(theme(), card_css="body { color: black }")) is None
