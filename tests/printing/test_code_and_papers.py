"""The code of a card's page, and the papers that a card is composed on."""

from __future__ import annotations

import io
import subprocess
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
import segno
import zxingcpp
from PIL import Image

from builder.build.legible import card_texts
from builder.build.order import CanNotPrint
from builder.pages import paths
from builder.pages.card import card_revision
from builder.pages.form import TEACHING_PAPERS, Form, read_name
from builder.pages.leaf import UPRIGHT, Shape, leaf_of
from builder.pages.paper import Paper
from builder.printing.pdf import Printed
from builder.printing.reading import Side
from builder.proof.jobs import Job, Ready, work_out
from tests.demo import lead_card, library
from tests.pages.shop import printer
from tests.read_back import read_sides

ADDRESS = "https://workshop.example/guides"
DOTS_PER_INCH = 300
MM_PER_PT = 25.4 / 72


@pytest.mark.parametrize(("form", "paper"), [(Form.STEPS, Paper.A4), (Form.BRIEF, Paper.A5)])
def test_the_code_on_the_first_side_is_read_in_a_grey_picture_of_300_dots_an_inch(
    form: Form, paper: Paper, tmp_path: Path
) -> None:
    workshop = replace(library().workshop, site=ADDRESS)
    card = lead_card("kestrel")
    file = tmp_path / "card.pdf"
    file.write_bytes(printer().pdf(printer().html(card, paper, workshop, form=form)).data)
    to_grey = ["pdftoppm", "-gray", "-r", str(DOTS_PER_INCH), "-l", "1", "-singlefile", "-png"]
    subprocess.run([*to_grey, str(file), str(tmp_path / "one")], check=True)
    code = card_revision(card, printer().theme, workshop=workshop)
    wanted = f"{ADDRESS}/{paths.printed(code)}"
    with Image.open(tmp_path / "one.png") as image:
        assert [one.text for one in zxingcpp.read_barcodes(image)] == [wanted]
    # A telephone tells modules of 0.4 mm apart at arm's length: a house number. 24 mm wide: blocks.css of the theme.
    assert 24.0 / (len(segno.make_qr(wanted, error="m").matrix) + 8) >= 0.4


def test_without_an_address_there_is_no_code() -> None:
    assert 'class="qr"' not in printer().html(lead_card("kestrel"), Paper.A4, library().workshop)


# What is asked here of a card of steps on A4, A5 and Letter, `test_step_cards.py` asks of the same card.
ELSEWHERE = [(Form.STEPS, paper) for paper in (Paper.A4, Paper.A5, Paper.LETTER)]


@pytest.mark.parametrize(
    ("form", "paper"),
    [
        (form, paper)
        for form in (Form.STEPS, Form.BRIEF)
        for paper in Paper
        if paper is not Paper.A6 and (form, paper) not in ELSEWHERE
    ],
)
def test_a_card_is_composed_on_every_paper(form: Form, paper: Paper) -> None:
    card = lead_card("kestrel")
    made = printer().pdf(printer().html(card, paper, library().workshop, form=form), card_texts(card, form))
    assert made.overflows == ()
    assert [str(one) for one in made.findings] == []
    with pikepdf.open(io.BytesIO(made.data)) as pdf:
        assert len(pdf.pages) == made.sides
        for page in pdf.pages:
            left, low, right, high = (float(edge) * MM_PER_PT for edge in page.mediabox)
            assert (right - left, high - low) == pytest.approx((paper.sheet.width_mm, paper.sheet.height_mm), abs=0.1)


def test_a_file_is_named_after_guide_form_and_paper() -> None:
    for form in Form:
        for paper in Paper:
            assert read_name(form.name_of("rear-wheel-out-and-in", paper)) == ("rear-wheel-out-and-in", form, paper)
    assert read_name("rear-wheel-out-and-in-a9") is None


def test_a_form_that_a_paper_can_not_hold_is_refused_with_a_reason() -> None:
    assert "does not fit A6" in Form.STEPS.refusal(Paper.A6)
    assert all(not Form.TEACHING.refusal(paper) for paper in TEACHING_PAPERS)
    assert "not laid out for A3" in Form.TEACHING.refusal(Paper.A3)
    assert "not laid out for A6" in Form.TEACHING.refusal(Paper.A6)


# --- across, and from farther away


@pytest.mark.parametrize(("paper", "columns"), [(Paper.A4, 3), (Paper.A5, 2)])
def test_a_card_lies_across_where_it_is_asked_to(paper: Paper, columns: int) -> None:
    made, side = small_card(paper, Shape(landscape=True))
    assert (round(side.width_mm, 1), round(side.height_mm, 1)) == (paper.sheet.height_mm, paper.sheet.width_mm)
    assert leaf_of(paper, printer().theme.distances, Shape(landscape=True)).columns == columns
    assert (made.findings, made.overflows) == ((), ())


@pytest.mark.parametrize("paper", [Paper.A4, Paper.A2])
def test_a_large_card_looks_from_far_as_a_card_on_the_stand_does(paper: Paper) -> None:
    distances = printer().theme.distances
    made, side = small_card(paper, Shape(large=True))
    assert (round(side.width_mm), round(side.height_mm)) == (round(paper.sheet.width_mm), round(paper.sheet.height_mm))
    assert (made.findings, made.overflows) == ((), ())
    sizes = {line.size_pt for line in side.lines}
    # 12 pt from half a metre, 10 pt at least: both grow as the distance does.
    times = distances.far_mm / distances.stand_mm
    assert any(abs(size - 12 * times) < 0.1 for size in sizes)
    assert min(sizes) >= 8 * times
    # 15 minutes of arc on small letters of 0.496 em: NUREG-0700 rev. 3, 11.4.1.5-1.
    assert 12 * times * 0.496 * 25.4 / 72 >= 0.004 * distances.far_mm


def test_what_is_too_high_for_a_side_is_refused_with_a_way_out() -> None:
    with pytest.raises(CanNotPrint, match="take a larger paper"):
        printer().pdf(printer().html(lead_card("heron"), Paper.A6, library().workshop, shape=Shape(large=True)))


def test_a_teaching_card_is_neither_turned_nor_enlarged() -> None:
    assert "laid out upright" in Form.TEACHING.refusal(Paper.A4, turned=True)
    assert Form.STEPS.refusal(Paper.A4, turned=True) == ""


def small_card(paper: Paper, shape: Shape = UPRIGHT) -> tuple[Printed, Side]:
    """A short guide on a paper, and its first side read back."""
    job = Job(guide=library().guides["chain-wear-check"], bike=library().bikes["heron"])
    outcome = work_out(job, library())
    assert isinstance(outcome, Ready)
    card = outcome.tailored
    html = printer().html(card, paper, library().workshop, shape=shape)
    made = printer().pdf(html, card_texts(card, Form.STEPS))
    return made, read_sides(made.data)[0]
