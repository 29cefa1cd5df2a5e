"""The code of a card's page, and the papers that a card is composed on."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
import segno
from PIL import Image

from builder.build.legible import card_texts
from builder.build.printer import Printer
from builder.pages import paths
from builder.pages.card import card_revision
from builder.pages.form import TEACHING_PAPERS, Form, read_name
from builder.pages.leaf import leaf_of
from builder.pages.paper import Paper
from builder.printing.reading import read_sides
from tests.demo import lead_card, library

ADDRESS = "https://workshop.example/guides"
DOTS_PER_INCH = 300


@cache
def printer() -> Printer:
    return Printer()


def dark_modules(picture: Path, corner_mm: tuple[float, float], size_mm: float, across: int) -> list[list[bool]]:
    """What a camera sees of a code that stands at a place on a printed side: for each module whether it is dark."""
    with Image.open(picture) as image:
        grey = image.convert("L")
        step = size_mm / across * DOTS_PER_INCH / 25.4
        left, top = (place * DOTS_PER_INCH / 25.4 for place in corner_mm)
        return [
            [grey.getpixel((int(left + (x + 0.5) * step), int(top + (y + 0.5) * step))) < 128 for x in range(across)]
            for y in range(across)
        ]


def test_the_code_on_the_first_side_is_that_of_the_page_in_a_picture_of_300_dots_an_inch(tmp_path: Path) -> None:
    workshop = replace(library().workshop, site=ADDRESS)
    card = lead_card("kestrel")
    file = tmp_path / "card.pdf"
    file.write_bytes(printer().pdf(printer().html(card, Paper.A4, workshop)).data)
    command = ["pdftoppm", "-r", str(DOTS_PER_INCH), "-l", "1", "-singlefile", "-png", str(file), str(tmp_path / "one")]
    subprocess.run(command, check=True)
    code = card_revision(card, printer().theme, workshop=workshop)
    wanted = segno.make_qr(f"{ADDRESS}/{paths.of_tailored(card)}#rev-{code}", error="m").matrix
    across = len(wanted) + 8
    # 24 mm wide at the right end of the text, at the head of the columns: blocks.css of the theme, builder.pages.leaf.
    seen = dark_modules(tmp_path / "one.png", (210.0 - 10.0 - 24.0, leaf_of(Paper.A4).head_mm), 24.0, across)
    assert [row[4:-4] for row in seen[4:-4]] == [[bool(dark) for dark in row] for row in wanted]
    assert 24.0 / across >= 0.4


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
