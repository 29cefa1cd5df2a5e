"""The edges of a card: kept free for holes where that is asked, marked by family, cut round at the corners."""

from __future__ import annotations

import io
from functools import cache
from itertools import combinations

import pytest

from builder.build.legible import card_texts
from builder.composing import Place
from builder.pages.bands import CardName, SideName, bands_html
from builder.pages.form import Form
from builder.pages.leaf import PUNCHED_MM, UPRIGHT, Holes, Shape, leaf_of, read_leaf
from builder.pages.paper import Paper
from builder.printing.legibility import SAFETY_COLOURS
from builder.printing.pdf import PdfWriter, Printed
from builder.printing.sheet import Ground, Sheet
from builder.printing.sheets_to_cut import ROUND_MM, sheets_to_cut
from builder.proof.jobs import Job, Ready, work_out
from builder.tailoring import Tailored
from tests.demo import library
from tests.pages.shop import THEMES, printer, theme
from tests.read_back import read_sheets

MM_PER_PT = 25.4 / 72
# ISO 838, from memory: the middle of a hole is 12 mm from the edge, and the hole 6 mm wide.
HOLE_MM = 12.0 + 6.0 / 2
# Rounding of a layout in pixels [mm].
HAIR_MM = 0.1


@cache
def card() -> Tailored:
    outcome = work_out(Job(guide=library().guides["grips-fitted"], bike=library().bikes["heron"]), library())
    assert isinstance(outcome, Ready)
    return outcome.tailored


@cache
def made(shape: Shape) -> Printed:
    html = printer().html(card(), Paper.A5, library().workshop, shape=shape)
    return printer().pdf(html, card_texts(card(), Form.STEPS, shape))


@cache
def sheets(shape: Shape) -> tuple[Sheet, ...]:
    return read_sheets(made(shape).data)


def free_mm(sheet: Sheet) -> tuple[float, float, float]:
    """How much of a side is free of everything at the left, at the right and above; the mark at the edge counts."""
    shown = (*sheet.ink, *sheet.grounds, *sheet.frames, *sheet.rules)
    left, top = min(one.x0 for one in shown), min(one.top for one in shown)
    right = sheet.width_pt - max(one.x1 for one in shown)
    return left * MM_PER_PT, right * MM_PER_PT, top * MM_PER_PT


# --- holes


def test_an_edge_is_kept_free_for_holes_on_fronts_and_on_their_backs() -> None:
    found = [free_mm(sheet) for sheet in sheets(Shape(holes=Holes.SIDE))]
    assert len(found) > 1
    for number, (left, right, _) in enumerate(found):
        assert (right if number % 2 else left) >= PUNCHED_MM - HAIR_MM > HOLE_MM, f"side {number + 1}"


def test_on_one_side_of_the_paper_every_left_edge_is_kept_free() -> None:
    found = [free_mm(sheet) for sheet in sheets(Shape(holes=Holes.SIDE, one_sided=True))]
    assert len(found) > 1
    assert all(left >= PUNCHED_MM - HAIR_MM for left, _, _ in found)


def test_the_upper_edge_is_kept_free_for_holes() -> None:
    assert all(above >= PUNCHED_MM - HAIR_MM for _, _, above in map(free_mm, sheets(Shape(holes=Holes.TOP))))


def test_no_edge_is_kept_free_unasked() -> None:
    for left, right, above in map(free_mm, sheets(UPRIGHT)):
        assert max(left, right, above) < HOLE_MM


@pytest.mark.parametrize(
    "shape", [Shape(holes=Holes.SIDE), Shape(holes=Holes.TOP), Shape(holes=Holes.SIDE, large=True)]
)
def test_a_card_with_room_for_holes_is_whole_and_keeps_the_rules(shape: Shape) -> None:
    assert (made(shape).findings, made(shape).overflows) == ((), ())
    text = "".join(letter.text for sheet in sheets(shape) for letter in sheet.ink)
    assert all("".join(step.do.split()).rstrip(".") in text.replace(" ", "") for step in card().steps)


def test_the_rules_of_print_find_what_stands_where_holes_come() -> None:
    for holes in Holes:
        texts = card_texts(card(), Form.STEPS, Shape(holes=holes))
        html = printer().html(card(), Paper.A5, library().workshop)
        assert "L23" in {one.rule for one in printer().pdf(html, texts).findings}


def test_a_leaf_reads_itself_back() -> None:
    for shape in (UPRIGHT, Shape(holes=Holes.SIDE, one_sided=True), Shape(holes=Holes.TOP, large=True)):
        leaf = leaf_of(Paper.A5, theme().distances, shape)
        again = read_leaf(leaf.written)
        assert again.left_mm(Place(side=1, column=0, top_mm=0, height_mm=1)) == pytest.approx(
            leaf.left_mm(Place(side=1, column=0, top_mm=0, height_mm=1)), abs=0.001
        )
        assert again.frame.height_mm == pytest.approx(leaf.frame.height_mm, abs=0.001)


# --- the mark of a family


@cache
def bars(dress: str, family: str, *, one_sided: bool = False) -> tuple[tuple[Ground, ...], ...]:
    """The bars of a family's mark on a front and on the side after it."""
    name = CardName(bike="M-01", stamp="", title="Title", code="Code", language="en", family=family)
    leaf = leaf_of(Paper.A6, theme(dress).distances, Shape(one_sided=one_sided))
    html = bands_html(name, (SideName(), SideName()), leaf)
    data = PdfWriter(theme(dress))._laid_out(html, bands=True).write_pdf()
    return tuple(tuple(ground for ground in sheet.grounds if ground.colour != (1, 1, 1)) for sheet in read_sheets(data))


def families() -> list[str]:
    return sorted({guide.family for guide in library().guides.values()})


@pytest.mark.parametrize("dress", THEMES)
def test_families_are_told_apart_by_height_and_bars_where_colours_are_grey(dress: str) -> None:
    seen = {}
    for family in (*families(), "a family of a workshop's own"):
        front, back = bars(dress, family)
        assert front
        assert [one.top for one in front] == [one.top for one in back]
        assert {round(one.x1 * MM_PER_PT, 1) for one in front} == {Paper.A6.sheet.width_mm}
        assert {round(one.x0 * MM_PER_PT, 1) for one in back} == {0}
        seen[family] = (front[0].top * MM_PER_PT, front[-1].bottom * MM_PER_PT, len(front), front[0].colour)
    assert len({count for _, _, count, _ in seen.values()}) >= len(families())
    for (_, one), (_, other) in combinations(seen.items(), 2):
        assert one[1] < other[0] or other[1] < one[0], "two marks stand at one height on the edge of a pile"
    for *_, colour in seen.values():
        assert all(max(abs(a - b) for a, b in zip(colour, known, strict=True)) > 0.1 for known in SAFETY_COLOURS)
    assert len({seen[family][3] for family in families()}) == len(families())


def test_the_mark_stands_at_one_edge_of_the_leaf_and_clear_of_the_text() -> None:
    front, after = bars("bench", "brakes", one_sided=True)
    assert [one.x0 for one in front] == [one.x0 for one in after]
    for sheet in sheets(UPRIGHT):
        at_edge = [one for one in sheet.grounds if one.x0 < 1 or one.x1 > sheet.width_pt - 1]
        assert len(at_edge) == 4, "the cockpit has four bars"
        wide = max(one.x1 - one.x0 for one in at_edge) * MM_PER_PT
        assert wide <= leaf_of(Paper.A5, theme().distances).margin_mm - 1
        assert all(one.x1 - one.x0 > 1 for one in at_edge)


def test_the_card_with_every_reason_has_the_mark_of_its_family_at_the_same_height() -> None:
    """The other one is enlarged, and its mark is not."""
    html = printer().html(card(), Paper.A5, library().workshop, form=Form.TEACHING)
    for taught, alongside in zip(read_sheets(printer().pdf(html).data)[:2], sheets(UPRIGHT)[:2], strict=True):
        assert edge(taught) == edge(alongside) != []


def edge(sheet: Sheet) -> list[tuple[float, ...]]:
    """The bars at the outer edge of a side: where each begins, ends, and how wide it is [mm]."""
    at_edge = (one for one in sheet.grounds if one.x0 < 1 or one.x1 > sheet.width_pt - 1)
    return [
        tuple(round(pt * MM_PER_PT, 1) for pt in (one.top, one.bottom, one.x1 - one.x0))
        for one in at_edge
        if one.colour != (1, 1, 1)
    ]


# --- corners


def arcs(data: bytes) -> list[tuple[float, float]]:
    """Where each curve of a file begins and ends, from the lower left corner [mm]."""
    import pdfplumber

    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return [
            (round(x * MM_PER_PT, 1), round((float(page.height) - y) * MM_PER_PT, 1))
            for page in pdf.pages
            for curve in page.curves
            if len(curve["pts"]) == 2 and not curve["fill"]
            for x, y in curve["pts"]
        ]


def test_corners_are_marked_where_they_are_cut_round() -> None:
    sheet = {"double": True, "rounded": True}
    plain = arcs(sheets_to_cut([made(UPRIGHT).data], Paper.A5, Paper.A4, double=True))
    round_ = [one for one in arcs(sheets_to_cut([made(UPRIGHT).data], Paper.A5, Paper.A4, **sheet)) if one not in plain]
    wide, high = Paper.A5.sheet.width_mm, Paper.A5.sheet.height_mm
    foot = (Paper.A4.sheet.height_mm, Paper.A4.sheet.width_mm)  # the sheet lies across
    left, low = (foot[0] - 2 * wide) / 2, (foot[1] - high) / 2
    wanted = {
        (round(left + column * wide + x, 1), round(low + y, 1))
        for column in (0, 1)
        for x, y in (
            *((ROUND_MM, edge) for edge in (0, high)),
            *((wide - ROUND_MM, edge) for edge in (0, high)),
            *((edge, ROUND_MM) for edge in (0, wide)),
            *((edge, high - ROUND_MM) for edge in (0, wide)),
        )
    }
    assert {(round(x), round(y)) for x, y in round_} == {(round(x), round(y)) for x, y in wanted}


def test_nothing_of_a_card_is_cut_off_with_its_corners() -> None:
    for sheet in sheets(UPRIGHT):
        width, height = sheet.width_pt * MM_PER_PT, sheet.height_pt * MM_PER_PT
        for letter in sheet.ink:
            x = min(letter.x0 * MM_PER_PT, width - letter.x1 * MM_PER_PT)
            y = min(letter.top * MM_PER_PT, height - letter.bottom * MM_PER_PT)
            inside = max(0.0, ROUND_MM - x) ** 2 + max(0.0, ROUND_MM - y) ** 2
            assert inside <= ROUND_MM**2
