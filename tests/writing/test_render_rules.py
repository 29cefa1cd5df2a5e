"""Printed sides are held against rules of legibility; each is tried on a side that keeps it and one that does not.

The source of each number stands beside it in `builder.printing.legibility`. The sides are made up, or real cards of the
demo fleet read back.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from fontTools.ttLib import TTFont

from builder.model.units import Unit, write_range
from builder.pages.paper import Paper
from builder.printing.legibility import (
    CardTexts,
    Margins,
    accents,
    cautions_with_steps,
    check_card,
    contrast_ratio,
    contrasts,
    label_gaps,
    leading,
    letter_heights,
    line_lengths,
    marks_on_every_side,
    smallest_letters,
    text_sizes,
    tick_boxes,
    torques_twice,
    within_margins,
)
from builder.printing.sheet import Colour, Ground, Letter, Sheet, colour_of, places_of, sheet_of
from builder.printing.stylesheet import check_stylesheet
from tests.pages.shop import THEME, card_of, printed, writer
from tests.read_back import read_sheets

PT = 72 / 25.4
A5 = (148 * PT, 210 * PT)
# Heights of small letters and capitals as shares of the size, read from the face of the theme.
_FACE = TTFont(THEME / "fonts" / "atkinson-hyperlegible-next-400.woff2")
X_HEIGHT = _FACE["OS/2"].sxHeight / _FACE["head"].unitsPerEm
CAP_HEIGHT = _FACE["OS/2"].sCapHeight / _FACE["head"].unitsPerEm


def written(
    text: str,
    *,
    size: float = 14.6,
    x: float = 25.0,
    y: float = 40.0,
    colour: Colour = (0.0, 0.0, 0.0),
    leading: float = 1.32,
    font: str = "Plain",
) -> tuple[Letter, ...]:
    """Letters of a text that begins at x, y [mm], each half as wide as its size; a new line at each "\\n"."""
    letters: list[Letter] = []
    left, bottom = x * PT, y * PT
    for character in text:
        if character == "\n":
            left, bottom = x * PT, bottom + size * leading
            continue
        letters.append(
            Letter(
                text=character,
                size_pt=size,
                font=font,
                x0=left,
                x1=left + size / 2,
                top=bottom - size,
                bottom=bottom,
                colour=colour,
            )
        )
        left += size / 2
    return tuple(letters)


def side(*letters: tuple[Letter, ...], number: int = 1, **more: tuple[Ground, ...]) -> Sheet:
    return Sheet(
        number=number, width_pt=A5[0], height_pt=A5[1], letters=tuple(one for run in letters for one in run), **more
    )


def rules(found: object) -> list[str]:
    return [one.rule for one in found]  # type: ignore[attr-defined]


STEP = "Loosen the bolt."


def test_letters_under_ten_points_are_found() -> None:
    assert rules(smallest_letters((side(written("Fine print", size=10.0)),))) == []
    assert rules(smallest_letters((side(written("Fine print", size=9.5)),))) == ["L01"]


def test_a_step_under_twelve_points_is_found_and_so_is_one_that_is_nowhere() -> None:
    assert rules(text_sizes("L01", (STEP,), 12.0, (side(written(STEP, size=12.0)),), "a step")) == []
    assert rules(text_sizes("L01", (STEP,), 12.0, (side(written(STEP, size=11.0)),), "a step")) == ["L01"]
    assert rules(text_sizes("L01", (STEP,), 12.0, (side(written("Stop.")),), "a step")) == ["L01"]


def test_a_text_is_found_across_the_ends_of_its_lines() -> None:
    ((_, letters),) = places_of(STEP, (side(written("1 Loosen\nthe bolt. 2")),))
    assert "".join(letter.text for letter in letters) == "Loosenthebolt"


def test_small_letters_under_a_tenth_of_an_inch_are_found() -> None:
    texts = CardTexts(steps=(STEP,), x_height=X_HEIGHT, cap_height=CAP_HEIGHT)
    assert rules(letter_heights(texts, (side(written(STEP, size=14.6)),))) == []
    assert rules(letter_heights(texts, (side(written(STEP, size=12.0)),))) == ["L03"]


def test_capitals_too_low_for_the_distance_are_found() -> None:
    texts = CardTexts(steps=(STEP,), x_height=X_HEIGHT, cap_height=CAP_HEIGHT, distance_mm=1000.0)
    assert "L04" in rules(letter_heights(texts, (side(written(STEP, size=14.6)),)))
    assert "L04" not in rules(letter_heights(texts, (side(written(STEP, size=18.0)),)))


def test_lines_that_stand_too_near_are_found() -> None:
    text = "Loosen\nthe bolt."
    assert rules(leading((STEP,), (side(written(text, leading=1.25)),))) == []
    assert rules(leading((STEP,), (side(written(text, leading=1.2)),))) == ["L07"]


def test_lines_of_more_than_eighty_letters_are_found() -> None:
    short, long = "a" * 80, "a" * 81
    assert rules(line_lengths((short,), (side(written(short, size=8.0)),))) == []
    assert rules(line_lengths((long,), (side(written(long, size=8.0)),))) == ["L10"]


def test_contrast_is_that_of_the_published_definition() -> None:
    # WCAG 2.2: black on white is 21:1; #767676 is the lightest grey on white with 4.5:1 (published example).
    assert contrast_ratio((0, 0, 0), (1, 1, 1)) == pytest.approx(21.0)
    grey = 0x76 / 255
    assert contrast_ratio((grey, grey, grey), (1, 1, 1)) == pytest.approx(4.54, abs=0.01)


def test_letters_that_stand_out_too_little_from_their_ground_are_found() -> None:
    yellow = Ground(x0=0, x1=500, top=0, bottom=500, colour=(0xF9 / 255, 0xA9 / 255, 0.0))
    white = (1.0, 1.0, 1.0)
    assert rules(contrasts((side(written(STEP), grounds=(yellow,)),))) == []
    assert rules(contrasts((side(written(STEP, colour=white), grounds=(yellow,)),))) == ["L17"]
    assert rules(contrasts((side(written(STEP, colour=white)),))) == ["L17"]


def test_large_type_may_stand_out_less() -> None:
    grey = (0x8C / 255,) * 3
    assert rules(contrasts((side(written(STEP, colour=grey)),))) == ["L17"]
    assert rules(contrasts((side(written(STEP, colour=grey, size=18.0)),))) == []
    assert rules(contrasts((side(written(STEP, colour=grey, size=14.0, font="Plain-Bold")),))) == []


def test_a_second_accent_colour_is_found() -> None:
    green, purple = (0.1, 0.5, 0.2), (0.5, 0.1, 0.5)
    danger = (0x9B / 255, 0x24 / 255, 0x23 / 255)
    one = side(written("a", colour=green), written("b", colour=danger))
    assert rules(accents((one,))) == []
    assert rules(accents((one, side(written("c", colour=purple), number=2)))) == ["L19"]


def test_text_in_the_margin_is_found_at_the_binding_edge_of_each_side() -> None:
    margins = Margins()
    assert rules(within_margins((side(written("Stop", x=21.0)),), margins)) == []
    assert rules(within_margins((side(written("Stop", x=12.0)),), margins)) == ["L23"]
    assert rules(within_margins((side(written("Stop", x=12.0), number=2),), margins)) == []
    assert rules(within_margins((side(written("Stop", x=125.0), number=2),), margins)) == ["L23"]
    assert rules(within_margins((side(written("Stop", y=208.0)),), margins)) == ["L23"]


def square(mm: float) -> Ground:
    return Ground(x0=10.0, x1=10.0 + mm * PT, top=10.0, bottom=10.0 + mm * PT)


def test_tick_boxes_under_five_millimetres_are_found() -> None:
    assert rules(tick_boxes((side(written("a"), frames=(square(6.0),)),))) == []
    assert rules(tick_boxes((side(written("a"), frames=(square(4.0),)),))) == ["L24"]


def test_a_wide_gap_between_label_and_value_wants_a_rule_or_a_leader() -> None:
    row = (written("Lockring"), written("40 N·m", x=110.0))
    assert rules(label_gaps((side(*row),))) == ["N09"]
    rule = Ground(x0=25 * PT, x1=130 * PT, top=41 * PT, bottom=41 * PT)
    assert rules(label_gaps((side(*row, rules=(rule,)),))) == []
    assert rules(label_gaps((side(written("Lockring"), written("40 N·m", x=60.0)),))) == []


CAUTION = "Keep oil away."


def test_a_caution_stands_above_its_step_on_the_same_side() -> None:
    pair = ((CAUTION, STEP),)
    above = side(written(CAUTION, y=30.0), written(STEP, y=50.0))
    below = side(written(STEP, y=30.0), written(CAUTION, y=50.0))
    parted = (side(written(CAUTION)), side(written(STEP), number=2))
    assert rules(cautions_with_steps(pair, (above,))) == []
    assert rules(cautions_with_steps(pair, (below,))) == ["H03"]
    assert rules(cautions_with_steps(pair, parted)) == ["H03"]
    assert rules(cautions_with_steps(pair, (side(written(STEP)),))) == ["H03"]


def test_a_torque_is_printed_alike_at_its_step_and_in_the_table() -> None:
    both = (side(written("to 35 to 45 N·m")), side(written("Lockring 35 to 45 N·m"), number=2))
    assert rules(torques_twice(("35 to 45 N·m",), both)) == []
    other = (side(written("to 35 to 45 N·m")), side(written("Lockring 30 to 45 N·m"), number=2))
    assert rules(torques_twice(("35 to 45 N·m",), other)) == ["N07"]


def test_every_side_says_which_card_it_is() -> None:
    sides = (side(written("M-01 Heron")), side(written("Heron"), number=2))
    assert rules(marks_on_every_side(("Heron",), sides)) == []
    assert rules(marks_on_every_side(("Heron", "M-01"), sides)) == ["S18"]


def test_pdf_colours_of_one_three_and_four_parts_are_read() -> None:
    assert colour_of((0.5,)) == (0.5, 0.5, 0.5)
    assert colour_of((0.1, 0.2, 0.3)) == (0.1, 0.2, 0.3)
    assert colour_of((0.0, 0.0, 0.0, 1.0)) == (0.0, 0.0, 0.0)
    assert colour_of(None) == (0.0, 0.0, 0.0)


def test_a_frame_is_told_from_a_ground() -> None:
    class Page:
        width, height, chars, lines = 100, 100, (), ()
        rects = (
            {"x0": 0, "x1": 90, "top": 0, "bottom": 90, "fill": True, "non_stroking_color": (0.9,)},
            {"x0": 11, "x1": 27, "top": 11, "bottom": 27, "fill": True, "non_stroking_color": (0,)},
            {"x0": 10, "x1": 28, "top": 10, "bottom": 28, "fill": True, "non_stroking_color": (0,)},
        )

    sheet = sheet_of(Page(), 1)
    assert [(one.x0, one.x1) for one in sheet.grounds] == [(0.0, 90.0)]
    assert [(one.x0, one.x1) for one in sheet.frames] == [(10.0, 28.0)]


# --- real cards, read back


@cache
def sheets(bike: str, paper: Paper) -> tuple[Sheet, ...]:
    return read_sheets(printed(bike, paper).data)


def texts_of(bike: str, paper: Paper) -> CardTexts:
    card = card_of(bike)
    torques = [step.torque for step in card.steps if step.torque is not None and step.torque.torque_nm is not None]
    return CardTexts(
        steps=tuple(step.do for step in card.steps),
        headings=tuple(section.title for section in card.sections),
        cautions=tuple(caution.text for step in card.steps for caution in step.cautions),
        guarded=tuple((caution.text, step.do) for step in card.steps for caution in step.cautions),
        torques=tuple(
            write_range(torque.torque_nm, Unit.NEWTON_METRE) for torque in torques if torque.torque_nm is not None
        ),
        marks=(card.guide.title, card.code, card.bike.name if card.bike is not None else ""),
        x_height=X_HEIGHT,
        cap_height=CAP_HEIGHT,
    )


@pytest.mark.parametrize("paper", [Paper.A5, Paper.A4])
def test_a_real_card_keeps_every_grave_rule(paper: Paper) -> None:
    found = check_card(sheets("heron", paper), texts_of("heron", paper))
    assert [f"side {one.at.line}: {one.rule} {one.message}" for one in found if one.gravity == "error"] == []


@pytest.mark.parametrize("paper", [Paper.A5, Paper.A4])
def test_a_real_card_keeps_the_lesser_rules_too(paper: Paper) -> None:
    found = check_card(sheets("heron", paper), texts_of("heron", paper))
    assert [f"side {one.at.line}: {one.rule} {one.message}" for one in found] == []


def test_the_steps_and_cautions_of_a_real_card_are_really_looked_at() -> None:
    texts = texts_of("heron", Paper.A5)
    assert len(texts.steps) > 30
    assert len(texts.guarded) > 5
    assert len(texts.torques) > 2
    missing = replace(texts, steps=(*texts.steps, "Paint the frame green."), marks=("no such mark",))
    found = rules(check_card(sheets("heron", Paper.A5), missing))
    assert found.count("L01") == 1
    assert found.count("S18") == len(sheets("heron", Paper.A5))


def test_a_bad_pdf_is_found_out() -> None:
    html = (
        '<html lang="en"><title>t</title><body class="on-a5">'
        f'<p style="font-size: 9pt; line-height: 1.1; color: #999">{STEP} Then remove the washer and the spacer and '
        "the lockring from the hub of the wheel.</p>"
        '<span style="display: block; width: 3mm; height: 3mm; border: 1pt solid black"></span>'
    )
    text = f"{STEP} Then remove the washer and the spacer and the lockring from the hub of the wheel."
    found = rules(check_card(read_sheets(writer().printed(html).data), CardTexts(steps=(text,))))
    assert {"L01", "L03", "L04", "L07", "L17"} <= set(found)


def test_the_stylesheets_of_the_theme_keep_the_rules() -> None:
    for name in ("tokens.css", "card.css"):
        assert check_stylesheet((THEME / name).read_text(encoding="utf-8"), name) == ()


@pytest.mark.parametrize(
    ("css", "rule"),
    [
        ("p { text-align: justify }", "L11"),
        ("p { hyphens: auto }", "L11"),
        ("p { text-transform: uppercase }", "L12"),
        ("em { font-style: italic }", "L13"),
        ("p { font-family: One, Two }\nh1 { font-family: Three, sans-serif }", "L13"),
        ("p { font-weight: 300 }", "L21"),
        (":root { --tick-box: 4mm }", "L24"),
        (":root { --write-line: 6mm }", "L24"),
        (":root { --frame-warning: 3pt solid black; --frame-danger: 3pt  solid black }", "L18"),
    ],
)
def test_a_stylesheet_that_breaks_a_rule_is_found_out(css: str, rule: str) -> None:
    assert rules(check_stylesheet(css)) == [rule]


def test_a_comment_in_a_stylesheet_is_no_declaration_and_lines_are_counted() -> None:
    (found,) = check_stylesheet("/* hyphens: auto\n */\np { hyphens: auto }", "x.css")
    assert (found.at.line, found.at.column) == (3, 5)
