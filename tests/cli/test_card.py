"""`card`: one card set, as PDF or as a page, and why steps are left out."""

from __future__ import annotations

import re
from pathlib import Path

import pdfplumber
import pytest

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.position import Position
from builder.printing.reading import read_sides
from builder.sources.workspace import shipped_library
from tests.cli.calling import LEAD, call, refusal
from tests.demo import lead_card


def test_a_card_is_written_as_pdf_on_the_paper_asked_for(tmp_path: Path) -> None:
    out = tmp_path / "kestrel.pdf"
    result = call("card", "chain-wear-check", "kestrel", "--form", "brief", "--paper", "a6", "-o", str(out))
    assert result.exit_code == 0, result.stderr
    with pdfplumber.open(out) as pdf:
        assert re.fullmatch(r"\d+ steps on A6, (\d+) sides: .*", result.stderr.splitlines()[-1])
        assert f" {len(pdf.pages)} sides" in result.stderr
        # ISO 216: A6 is 105 mm by 148 mm.
        sizes = {(round(float(page.width) * 25.4 / 72), round(float(page.height) * 25.4 / 72)) for page in pdf.pages}
        assert sizes == {(105, 148)}
        assert "Kestrel" in "".join(page.extract_text() for page in pdf.pages)


def test_a_card_to_work_along_is_refused_on_a_paper_that_can_not_hold_it(tmp_path: Path) -> None:
    out = tmp_path / "kestrel.pdf"
    result = call("card", LEAD, "kestrel", "--paper", "a6", "-o", str(out))
    assert result.exit_code == 2
    assert "a card to work along does not fit A6" in result.stderr
    assert not out.exists()


def test_a_card_is_written_as_a_page_that_stands_alone(tmp_path: Path) -> None:
    out = tmp_path / "kestrel.html"
    assert call("card", LEAD, "kestrel", "-o", str(out)).exit_code == 0
    html = out.read_text(encoding="utf-8")
    assert "Kestrel" in html
    assert "<style>" in html
    addresses = re.findall(r"url\(\"?([^\")]{0,20})", html)
    assert addresses
    assert all(address.startswith("data:font/woff2") for address in addresses)


def test_parts_may_be_named_in_place_of_those_that_the_bike_plans(tmp_path: Path) -> None:
    planned, named = tmp_path / "planned.html", tmp_path / "named.html"
    assert call("card", LEAD, "heron", "-o", str(planned)).exit_code == 0
    assert call("card", LEAD, "heron", "--with", "cs-11-36-11s", "-o", str(named)).exit_code == 0
    assert "11-50" in planned.read_text(encoding="utf-8")
    assert "11-50" not in named.read_text(encoding="utf-8")


def test_every_step_that_was_left_out_is_explained() -> None:
    result = call("card", LEAD, "kestrel", "--explain")
    assert result.exit_code == 0
    card = lead_card("kestrel")
    lines = result.stdout.splitlines()
    between = lines.index(f"{len(card.left_out)} steps left out:")
    applying, left_out = lines[:between], lines[between + 1 :]
    assert applying[0] == f"{len(card.steps)} steps on the card:"
    assert sum(int(line.split()[-2]) for line in applying[1:]) == len(card.steps)
    assert applying[1].startswith(f"  {card.sections[0].title}: ")
    assert [line.split(":")[0].strip() for line in left_out[::2]] == [one.step for one in card.left_out]
    assert [line.strip() for line in left_out[1::2]] == [one.reason for one in card.left_out]


@pytest.mark.parametrize(
    ("bike", "words"),
    [
        ("coot", "'wider-range-cassette' is not for 'coot': This job is for bikes with a rear derailleur"),
        ("siskin", "No rear derailleur that is known meets capacity: at least 49\u00a0teeth."),
    ],
)
def test_no_card_is_made_where_the_job_can_not_be_done(bike: str, words: str, tmp_path: Path) -> None:
    out = tmp_path / "card.pdf"
    result = call("card", LEAD, bike, "-o", str(out))
    assert result.exit_code == 1
    assert words in result.stderr
    assert not out.exists()


def test_a_file_that_can_not_be_written_is_told_in_one_line(tmp_path: Path) -> None:
    result = call("card", LEAD, "kestrel", "-o", str(tmp_path / "no" / "card.html"))
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1].endswith("can not be written: No such file or directory")


@pytest.fixture
def loose_lockring(tmp_path: Path) -> Path:
    """A workspace whose procedure for the cassette no longer tightens the lockring."""
    folder = tmp_path / "shop"
    (folder / "procedures").mkdir(parents=True)
    text = (shipped_library() / "procedures" / "cassette-on.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line.strip() != "tightens: cassette-lockring"]
    assert len(lines) < len(text.splitlines())
    loose = "\n".join(lines).replace("Tighten the lockring to {{ torque }}.", "Turn the lockring until it stops.")
    (folder / "procedures" / "cassette-on.yaml").write_text(loose + "\n", encoding="utf-8")
    return folder


@pytest.mark.parametrize("ending", ["pdf", "html"])
def test_no_card_is_made_from_a_guide_that_leaves_a_lockring_loose(
    loose_lockring: Path, tmp_path: Path, ending: str
) -> None:
    out = tmp_path / f"card.{ending}"
    result = call("card", LEAD, "kestrel", "-o", str(out), "--workspace", str(loose_lockring))
    assert result.exit_code == 1
    assert "the cassette lockring is loosened and never tightened" in result.stderr
    assert f"in what '{LEAD}' draws on: nothing was made" in result.stderr
    assert not out.exists()


def test_a_guide_that_does_not_draw_on_the_mistake_makes_its_card(loose_lockring: Path, tmp_path: Path) -> None:
    out = tmp_path / "card.html"
    folder = str(loose_lockring)
    assert call("card", "rear-derailleur-adjusted", "kestrel", "-o", str(out), "--workspace", folder).exit_code == 0
    assert out.exists()


def test_a_card_that_breaks_a_grave_rule_of_print_is_not_written(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    grave = Diagnostic(rule="L01", message="a step in 6 pt", at=Position("", 1, 0))
    monkeypatch.setattr("builder.printing.pdf.check_card", lambda *_, **__: (grave,))
    monkeypatch.setattr("builder.printing.verdicts.Verdicts.is_sound", lambda *_: False)
    out = tmp_path / "card.pdf"
    result = call("card", LEAD, "kestrel", "-o", str(out))
    assert result.exit_code == 1
    assert result.stderr.splitlines()[-1] == f"the card breaks a rule of print: {out} was not written"


def test_cards_are_laid_on_sheets_to_cut(tmp_path: Path) -> None:
    out = tmp_path / "sheets.pdf"
    result = call("card", LEAD, "dunlin", "--form", "brief", "--sheet", "a4", "-o", str(out))
    assert result.exit_code == 0, result.stderr
    assert result.stderr.splitlines()[-1] == "laid on sheets of A4, printed on both sides"
    with pdfplumber.open(out) as pdf:
        assert {
            (round(float(page.width) * 25.4 / 72), round(float(page.height) * 25.4 / 72)) for page in pdf.pages
        } == {(297, 210)}
        first, back = (page.extract_text() for page in pdf.pages[:2])
    assert "1/3" in first
    assert "3/3" in first
    assert "2/3" in back


def test_a_sheet_that_can_not_hold_a_card_is_told(tmp_path: Path) -> None:
    out = tmp_path / "sheets.pdf"
    result = call("card", LEAD, "kestrel", "--form", "brief", "--paper", "a4", "--sheet", "a5", "-o", str(out))
    assert result.exit_code == 2
    assert "A5 is too small for cards of A4" in result.stderr
    assert not out.exists()


def test_edges_for_holes_and_round_corners_are_asked_for_by_the_command(tmp_path: Path) -> None:
    out = tmp_path / "card.pdf"
    asked = ("card", "chain-wear-check", "kestrel", "--form", "brief", "--paper", "a5", "-o", str(out))
    assert call(*asked, "--holes", "side", "--single-sided").exit_code == 0
    assert min(line.left_mm for side in read_sides(out.read_bytes()) for line in side.lines) >= 19.9
    assert "keeps its left edge free" in refusal(call(*asked, "--form", "teaching", "--holes", "side"))
    assert "name their paper with --sheet" in refusal(call(*asked, "--round-corners"))
