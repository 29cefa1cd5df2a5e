"""Card sets are printed, read back and held against what a card must keep: text, sizes, place on the side, tags."""

from __future__ import annotations

import re
from functools import cache

import pytest
from markupsafe import Markup

from builder.pages.card import card_html, card_revision
from builder.pages.form import TEACHING_PAPERS
from builder.pages.paper import Paper
from builder.pages.strings_en import EN
from builder.printing.reading import Side, structure_tags
from builder.tailoring import tailor
from tests.demo import library
from tests.pages.shop import card_of, printed, theme, writer
from tests.read_back import read_sheets, read_sides

BIKES = ("heron", "kestrel")
# Sizes are laid out in CSS pixels and come back rounded.
HAIR_PT = 0.01
# x-height of 2.54 mm (0.10 in): Degani 1992, NASA CR-177605, as quoted by others. 10 pt and 12 pt: CAP 676, as quoted.
LEAST_PT, STEP_PT = 10.0, 14.0
MM_PER_PT = 25.4 / 72


@cache
def sides_of(bike_id: str, paper: Paper) -> tuple[Side, ...]:
    return read_sides(printed(bike_id, paper).data)


def squeezed(text: str) -> str:
    """Letters and figures only, so that line ends, hyphens of paths and marks do not matter."""
    return re.sub(r"[^\w]", "", Markup(text).striptags())


@pytest.mark.parametrize("bike", [*BIKES, "generic"])
def test_every_step_is_on_the_card_in_its_order(bike: str) -> None:
    text = squeezed(" ".join(body_of(side) for side in sides_of(bike, Paper.A5)))
    place = 0
    for step in card_of(bike).steps:
        wanted = squeezed(f"{step.number}{step.condition}{step.do}")
        found = text.find(wanted, place)
        assert found >= 0, f"step {step.number} '{step.do}' is missing or out of order"
        place = found + len(wanted)


def body_of(side: Side) -> str:
    """The words of a side without the bands at its head and its foot."""
    return " ".join(line.text for line in side.lines[1:-1])


@pytest.mark.parametrize("paper", TEACHING_PAPERS)
def test_a_side_has_the_size_of_its_paper(paper: Paper) -> None:
    for side in sides_of("kestrel", paper):
        assert side.width_mm == pytest.approx(paper.sheet.width_mm, abs=0.1)
        assert side.height_mm == pytest.approx(paper.sheet.height_mm, abs=0.1)


@pytest.mark.parametrize(
    ("bike", "paper"),
    [("heron", Paper.A5), ("generic", Paper.A5), *(("kestrel", paper) for paper in TEACHING_PAPERS)],
)
def test_nothing_sticks_out_of_the_text_area(bike: str, paper: Paper) -> None:
    assert [str(found) for found in printed(bike, paper).overflows] == []


# Every sixteenth; `python -m tests.card_table --form teaching` prints them all.
@pytest.mark.parametrize("guide", sorted(library().guides)[::16])
def test_every_guide_of_the_library_fits_its_paper(guide: str) -> None:
    html = card_html(tailor(library().guides[guide], library()), theme(), Paper.A5)
    assert [str(found) for found in writer().printed(html).overflows] == []


# In each of these a section begins with a step that fills a side with its drawing.
@pytest.mark.parametrize("guide", ["threadless-headset-adjusted", "chain-replaced-and-sized", "yearly-service"])
def test_no_side_ends_with_a_heading_whose_steps_come_after(guide: str) -> None:
    tailored = tailor(library().guides[guide], library())
    sides = read_sides(writer().printed(card_html(tailored, theme(), Paper.A5)).data)
    titles = {section.title for section in tailored.sections}
    assert titles & {line.text.split(" Steps ")[0] for side in sides for line in side.lines}
    last = [side.lines[-2].text for side in sides]
    assert [text for text in last if any(text.startswith(title) for title in titles)] == []


@pytest.mark.parametrize("bike", ["dunlin", "wren"])
def test_the_narrowest_card_holds_the_rest_of_the_fleet_too(bike: str) -> None:
    assert [str(found) for found in printed(bike, Paper.A5).overflows] == []


@pytest.mark.parametrize("paper", TEACHING_PAPERS)
def test_every_step_has_a_box_that_a_pen_can_tick(paper: Paper) -> None:
    # 5 mm and more: house number for a wipe-off pen on laminate.
    squares = [
        (frame.x1 - frame.x0) * MM_PER_PT
        for sheet in read_sheets(printed("kestrel", paper).data)
        for frame in sheet.frames
        if abs((frame.x1 - frame.x0) - (frame.bottom - frame.top)) < 0.1
    ]
    assert len(squares) >= len(card_of("kestrel").steps)
    assert min(squares) >= 5.0


@pytest.mark.parametrize("paper", [Paper.A5, Paper.A4])
def test_nothing_lies_outside_the_margins_of_the_paper(paper: Paper) -> None:
    for side in sides_of("kestrel", paper):
        for line in side.lines:
            assert line.left_mm >= 6.9
            assert line.right_mm <= side.width_mm - 6.9
            assert line.top_mm > 5
            assert line.bottom_mm < side.height_mm - 3


def test_overflow_is_found_where_there_is_some() -> None:
    html = '<html lang="en"><title>t</title><body class="on-a5"><p style="white-space: nowrap">' + "wide " * 60
    found = writer().printed(html).overflows
    assert found
    assert found[0].edge == "right"
    assert found[0].by_mm > 100


def test_a_line_is_as_full_as_its_words_allow_before_a_bold_one() -> None:
    said = "The small end of each conical spring points to the hub."
    widths = [70 + 0.2 * number for number in range(120)]
    html = '<html lang="en"><title>t</title><body class="on-a5">' + "".join(
        f'<p style="width: {width:.1f}mm; font-size: 10.5pt">{said} <b>E2</b></p>' for width in widths
    )
    first = [line.text for side in read_sides(writer().printed(html).data) for line in side.lines]
    assert sum(line.startswith("The small end of each") for line in first) == len(widths)


@pytest.mark.parametrize("paper", TEACHING_PAPERS)
def test_no_letter_is_smaller_than_ten_points(paper: Paper) -> None:
    for number, side in enumerate(sides_of("kestrel", paper), 1):
        assert side.smallest_pt >= LEAST_PT - HAIR_PT, f"side {number}"


@pytest.mark.parametrize("paper", TEACHING_PAPERS)
def test_the_words_of_a_step_are_fourteen_points_or_more(paper: Paper) -> None:
    sides = sides_of("kestrel", paper)
    for step in card_of("kestrel").steps:
        # The first words stand on one line beside the number, which is larger: so the next lines tell.
        first = " ".join(step.do.split()[:3])
        sizes = [line.size_pt for side in sides for line in side.lines if first in line.text]
        assert sizes, f"step {step.number}: '{first}' is on no line"
        assert max(sizes) >= STEP_PT


@pytest.mark.parametrize("paper", [Paper.A5, Paper.A4])
def test_a_caution_stands_on_the_side_of_its_step_and_before_it(paper: Paper) -> None:
    sides = [squeezed(side.text) for side in sides_of("kestrel", paper)]
    seen = 0
    for step in card_of("kestrel").steps:
        for shown in step.cautions:
            # A reason stands beside the act on the large papers and a word beside its message, so that first words
            # are what can be searched for.
            wanted = squeezed(f"{step.number}{' '.join(step.do.split()[:4])}")
            opening = squeezed(" ".join(shown.text.split()[:4]))
            mine = [side for side in sides if wanted in side]
            assert len(mine) == 1, f"step {step.number} is on {len(mine)} sides"
            assert 0 <= mine[0].find(opening) < mine[0].find(wanted), f"step {step.number}: {shown.text}"
            seen += 1
    assert seen > 5


def test_a_torque_is_the_largest_figure_of_its_step() -> None:
    sides = sides_of("kestrel", Paper.A5)
    large = {line.text for side in sides for line in side.lines if line.size_pt >= 18}
    torques = [step.torque for step in card_of("kestrel").steps if step.torque and step.torque.torque_nm]
    assert torques
    for torque in torques:
        assert torque.torque_nm is not None
        assert any(f"{torque.torque_nm.low:g}" in text and "N·m" in text for text in large)


def test_a_typical_torque_is_marked_and_leaves_a_line_for_the_makers() -> None:
    text = " ".join(side.words for side in sides_of("kestrel", Paper.A5))
    assert any(not step.torque.maker for step in card_of("kestrel").steps if step.torque and step.torque.torque_nm)
    assert re.search(r"35 to 45\s*N·m typical", text)
    assert "Maker's figure" in text


@pytest.mark.parametrize("paper", TEACHING_PAPERS)
def test_every_side_names_card_bike_and_place_in_the_set(paper: Paper) -> None:
    sides = sides_of("kestrel", paper)
    card = card_of("kestrel")
    for number, side in enumerate(sides, 1):
        assert "M-02 Kestrel" in side.words
        assert f"Side {number} of {len(sides)}" in side.words
        assert card.code in side.words
        assert card_revision(card, theme(), workshop=library().workshop) in side.words


def test_the_maker_goes_first_on_every_card() -> None:
    for bike in (*BIKES, "generic"):
        text = squeezed(" ".join(side.text for side in sides_of(bike, Paper.A5)))
        assert squeezed("The component maker's instructions go first.") in text
        assert squeezed("stop and ask a qualified mechanic") in text


def test_a_card_that_touches_the_brakes_wants_two_names() -> None:
    assert card_of("heron").sign_off
    text = " ".join(side.words for side in sides_of("heron", Paper.A5))
    assert EN.no_ride in text


def test_a_card_is_tagged_for_screen_readers() -> None:
    tags = structure_tags(printed("heron", Paper.A5).data)
    assert {"Document", "H1", "H2", "L", "LI", "Table", "TH", "TD", "Figure"} <= tags


def test_the_same_card_gives_the_same_bytes() -> None:
    html = card_html(tailor(library().guides["stiff-link-freed"], library()), theme(), Paper.A5)
    assert writer().pdf_bytes(html) == writer().pdf_bytes(html)


def test_only_the_faces_of_the_theme_are_used() -> None:
    for side in sides_of("heron", Paper.A5):
        assert all(name.startswith(("Atkinson", "Fira")) for name in side.fonts), side.fonts
