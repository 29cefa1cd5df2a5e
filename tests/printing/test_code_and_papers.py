"""The code of a card's page, and the papers that a card is composed on."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import segno
import zxingcpp
from PIL import Image

from builder.build.legible import card_texts
from builder.build.printer import Printer
from builder.pages import paths
from builder.pages.card import card_revision
from builder.pages.form import TEACHING_PAPERS, Form, read_name
from builder.pages.paper import Paper
from builder.printing.reading import read_sides
from tests.demo import lead_card, library

ADDRESS = "https://workshop.example/guides"
DOTS_PER_INCH = 300


@cache
def printer() -> Printer:
    return Printer()


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


@pytest.mark.parametrize("form", [Form.STEPS, Form.BRIEF])
@pytest.mark.parametrize("paper", [paper for paper in Paper if paper is not Paper.A6])
def test_a_card_is_composed_on_every_paper(form: Form, paper: Paper) -> None:
    card = lead_card("kestrel")
    made = printer().pdf(printer().html(card, paper, library().workshop, form=form), card_texts(card, paper, form))
    assert made.overflows == ()
    assert [str(one) for one in made.findings] == []
    for side in read_sides(made.data):
        assert (side.width_mm, side.height_mm) == pytest.approx((paper.sheet.width_mm, paper.sheet.height_mm), abs=0.1)


def test_a_file_is_named_after_guide_form_and_paper() -> None:
    for form in Form:
        for paper in Paper:
            assert read_name(form.name_of("rear-wheel-out-and-in", paper)) == ("rear-wheel-out-and-in", form, paper)
    assert read_name("rear-wheel-out-and-in-a9") is None


def test_a_form_that_a_paper_can_not_hold_is_refused_with_a_reason() -> None:
    assert "does not fit A6" in Form.STEPS.refusal(Paper.A6)
    assert all(not Form.TEACHING.refusal(paper) for paper in TEACHING_PAPERS)
    assert "not laid out for A3" in Form.TEACHING.refusal(Paper.A3)
