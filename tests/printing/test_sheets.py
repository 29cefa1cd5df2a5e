"""Service sheets and wall charts on paper: read back, measured, and held against what they are made from."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from markupsafe import Markup

from builder.checks.legibility import letter_height
from builder.checks.result import Verdict
from builder.pages.paper import Paper
from builder.pages.service_sheet import view_sheet
from builder.pages.strings_en import EN
from builder.pages.torque_chart import FastenerRow, chart_by_thing, chart_of_bike, chart_of_library
from builder.printing.pdf import Printed
from builder.printing.reading import Side, structure_tags
from builder.printing.sheet import Sheet, places_of
from builder.printing.stylesheet import check_stylesheet
from tests.demo import library
from tests.pages.fleet import (
    SHEET_GUIDES,
    sheet,
    sheets_html,
    sheets_printed,
    tools_printed,
    torque_wall_printed,
    torques_printed,
    upkeep,
    upkeep_printed,
)
from tests.pages.shop import THEME, writer
from tests.read_back import read_sheets, read_sides

MM_PER_PT = 25.4 / 72
HAIR_PT = 0.05
# 10 pt: CAP 676, as quoted. 12 pt for safety: ISO/IEC Guide 37. 5 mm: house number for a box to tick.
LEAST_PT, SAFETY_PT, BOX_MM = 10.0, 12.0, 5.0
LARGE = (Paper.A4, Paper.LETTER)
# On A4 bikes of every kind; on Letter the shortest sheet and the two longest. A build prints the whole fleet's.
BIKES = ("wagtail", "plover", "dotterel", "heron", "coot", "dipper", "wren")
MOST_SIDES = {"check-before-a-ride": 2, "yearly-service": 4}
ON = {Paper.A4: BIKES, Paper.LETTER: ("wagtail", "plover", "dotterel")}


@cache
def sides_of(guide: str, paper: Paper) -> tuple[Side, ...]:
    return read_sides(sheets_printed(guide, paper, *ON[paper]).data)


def of_bike(guide: str, bike: str, paper: Paper = Paper.A4) -> list[Side]:
    band = f"{library().bikes[bike].tag} {library().bikes[bike].name} "
    return [side for side in sides_of(guide, paper) if side.words.startswith(band)]


@cache
def pages(guide: str) -> tuple[Sheet, ...]:
    return read_sheets(sheets_printed(guide, Paper.A4, *BIKES).data)


def pages_of(guide: str, bike: str) -> list[Sheet]:
    own = of_bike(guide, bike)
    return [page for page, side in zip(pages(guide), sides_of(guide, Paper.A4), strict=True) if side in own]


def squeezed(text: Markup | str) -> str:
    return re.sub(r"[^\w]", "", Markup(text).striptags())


# --- service sheets


@pytest.mark.parametrize("paper", LARGE)
@pytest.mark.parametrize("guide", SHEET_GUIDES)
def test_every_bike_of_the_fleet_has_its_sheet_in_one_file(guide: str, paper: Paper) -> None:
    for bike in ON[paper]:
        own = of_bike(guide, bike, paper)
        assert 1 <= len(own) <= MOST_SIDES[guide], bike
        assert [f"Side {number}" in side.words for number, side in enumerate(own, 1)] == [True] * len(own)
    assert sum(bool(side.words) for side in sides_of(guide, paper)) == sum(
        len(of_bike(guide, bike, paper)) for bike in ON[paper]
    )


@pytest.mark.parametrize("guide", SHEET_GUIDES)
def test_a_bike_begins_on_a_leaf_of_its_own(guide: str) -> None:
    firsts = [index for index, side in enumerate(sides_of(guide, Paper.A4)) if "Side 1" in side.words]
    assert len(firsts) == len(BIKES)
    assert all(index % 2 == 0 for index in firsts)


@pytest.mark.parametrize("paper", LARGE)
@pytest.mark.parametrize("guide", SHEET_GUIDES)
def test_a_sheet_has_the_size_of_its_paper_and_nothing_sticks_out(guide: str, paper: Paper) -> None:
    assert [str(found) for found in sheets_printed(guide, paper, *ON[paper]).overflows] == []
    for side in sides_of(guide, paper):
        assert side.width_mm == pytest.approx(paper.sheet.width_mm, abs=0.1)
        assert side.height_mm == pytest.approx(paper.sheet.height_mm, abs=0.1)
        for line in side.lines:
            assert line.left_mm >= 9.9
            assert line.right_mm <= side.width_mm - 9.9
            assert line.top_mm > 4
            assert line.bottom_mm < side.height_mm - 3


@pytest.mark.parametrize("guide", SHEET_GUIDES)
@pytest.mark.parametrize("bike", BIKES)
def test_each_step_stands_on_one_side_with_its_proof_and_its_limit_in_order(guide: str, bike: str) -> None:
    sides = [squeezed(side.text) for side in of_bike(guide, bike)]
    place = (0, 0)
    for step in sheet(guide, bike).steps:
        wanted = squeezed(f"{step.number}{step.do}")
        found = next((n for n, side in enumerate(sides) if n >= place[0] and wanted in side), None)
        assert found is not None, f"step {step.number} '{step.do}' is missing or out of order"
        at = sides[found].index(wanted)
        assert (found, at) >= place
        place = (found, at)
        for text in filter(None, (step.prove, step.limit)):
            # A field stands between the lines of a long text, so that its first words are looked for.
            opening = squeezed(" ".join(text.split()[:3]))
            assert opening in sides[found][at:], f"step {step.number}: {text}"


def _field_rules(page: Sheet) -> list[tuple[float, float, float]]:
    """The lines to write a value on: start, end and height [mm]; rules between rows are far longer."""
    drawn = [*page.rules, *(g for g in page.grounds if g.bottom - g.top < 3), *page.frames]
    found = {(round(g.x0, 1), round(g.x1, 1), round(g.bottom, 1)) for g in drawn}
    return [(a * MM_PER_PT, b * MM_PER_PT, c * MM_PER_PT) for a, b, c in found if 13 <= (b - a) * MM_PER_PT <= 15]


@pytest.mark.parametrize("bike", BIKES)
def test_each_measured_step_has_a_line_to_write_on_and_its_unit_in_its_row(bike: str) -> None:
    printed = pages_of("yearly-service", bike)
    measured = {step.number: step for step in sheet("yearly-service", bike).steps if step.measurement is not None}
    numbers = {}
    for page in printed:
        # The numbers of the rows: bold figures in the first column, from top to bottom.
        column = [letter for letter in page.ink if letter.text.isdigit() and letter.bold and _in_first(letter.x0, page)]
        rows: dict[float, str] = {}
        for letter in column:
            rows[round(letter.top)] = rows.get(round(letter.top), "") + letter.text
        tops = sorted(rows)
        for top, following in pairwise([*tops, page.height_pt]):
            numbers[int(rows[top])] = (page, top, following)
    for number, step in measured.items():
        page, top, following = numbers[number]
        lines = [rule for rule in _field_rules(page) if top * MM_PER_PT < rule[2] < following * MM_PER_PT]
        assert lines, f"step {number} has no line"
        assert step.measurement is not None
        beside = "".join(
            letter.text
            for letter in page.ink
            if top - 1 < letter.top < following - 4 and lines[0][1] <= letter.x0 * MM_PER_PT < lines[0][1] + 12
        )
        assert beside.startswith(step.measurement.unit)


def _in_first(x0_pt: float, page: Sheet) -> bool:
    left_mm = 16 if page.number % 2 else 10
    return left_mm - 1 < x0_pt * MM_PER_PT < left_mm + 7


@pytest.mark.parametrize("guide", SHEET_GUIDES)
def test_letters_and_boxes_keep_their_floors(guide: str) -> None:
    for number, side in enumerate(sides_of(guide, Paper.A4), 1):
        assert not side.words or side.smallest_pt >= LEAST_PT - HAIR_PT, f"side {number}"
    squares = [
        (frame.x1 - frame.x0) * MM_PER_PT
        for page in pages_of(guide, "heron")
        for frame in page.frames
        if abs((frame.x1 - frame.x0) - (frame.bottom - frame.top)) < 0.1
    ]
    judged = [step for step in sheet(guide, "heron").steps if step.prove or step.limit or step.measurement]
    # A row that is judged passes or calls for a repair; another is done.
    assert len(squares) >= len(sheet(guide, "heron").steps) + len(judged)
    assert min(squares) >= BOX_MM - 0.01


@pytest.mark.parametrize("bike", BIKES)
def test_cautions_are_whole_on_the_first_side_before_the_rows_and_large_enough(bike: str) -> None:
    first = of_bike("yearly-service", bike)[0]
    text = squeezed(first.text)
    start = text.index(squeezed("Prepare the bike"))
    for shown in sheet("yearly-service", bike).summary_cautions:
        opening = " ".join(shown.text.split()[:4])
        assert 0 <= text.find(squeezed(opening)) < start, shown.text
        sizes = [line.size_pt for line in first.lines if opening in line.text]
        assert sizes, shown.text
        assert min(sizes) >= SAFETY_PT - HAIR_PT


@pytest.mark.parametrize("guide", SHEET_GUIDES)
@pytest.mark.parametrize("bike", BIKES)
def test_a_sheet_names_bike_tag_date_and_mechanic_and_ends_with_a_sign_off(guide: str, bike: str) -> None:
    own = of_bike(guide, bike)
    tailored = sheet(guide, bike)
    assert tailored.bike is not None
    for words in (tailored.guide.title, f"{tailored.bike.name}, {tailored.bike.tag}", EN.date, EN.mechanic):
        assert words in own[0].words
    for words in (EN.sheet_repairs, EN.mechanic_when):
        assert squeezed(words) in squeezed(own[-1].text)
    # One name stands at the head; where the work is looked at again, two stand at the end.
    assert (EN.done_by in own[-1].words) is tailored.sign_off
    assert (EN.checked_by in own[-1].words) is tailored.sign_off
    assert squeezed(EN.maker_first) in squeezed(own[0].text)
    for side in own:
        assert f"{tailored.code} · rev {view_sheet(tailored, library(), EN).revision}" in side.words


def test_a_sheet_is_tagged_and_the_same_each_time_it_is_printed() -> None:
    printed = sheets_printed("check-before-a-ride", Paper.A4, "heron")
    assert {"Document", "H1", "Table", "TH", "TD"} <= structure_tags(printed.data)
    again = writer().pdf_bytes(sheets_html("check-before-a-ride", Paper.A4, "heron"))
    assert again == printed.data


@pytest.mark.parametrize("paper", LARGE)
@pytest.mark.parametrize("guide", SHEET_GUIDES)
def test_a_sheet_keeps_the_rules_of_print(guide: str, paper: Paper) -> None:
    assert [one.message for one in sheets_printed(guide, paper, *ON[paper]).findings] == []


def test_the_weekly_check_of_a_plain_bike_is_one_side() -> None:
    assert len(of_bike("check-before-a-ride", "heron")) == 1


def test_a_tag_is_one_side_of_a6_for_each_bike_with_every_line_and_keeps_the_rules_of_print() -> None:
    printed = sheets_printed("tag-before-a-ride", Paper.A6, *BIKES)
    sides = read_sides(printed.data)
    assert [str(found) for found in printed.overflows] == []
    assert len(sides) == len(BIKES)
    for bike, side in zip(BIKES, sides, strict=True):
        assert (round(side.width_mm), round(side.height_mm)) == (105, 148)
        assert side.smallest_pt >= LEAST_PT - HAIR_PT
        for step in sheet("tag-before-a-ride", bike).steps:
            assert squeezed(f"{step.number} {step.do}") in squeezed(side.text)


def test_the_stylesheet_of_sheets_and_charts_keeps_the_rules_of_print() -> None:
    assert [one.message for one in check_stylesheet((THEME / "large.css").read_text(), "large.css")] == []


# --- wall charts


def rows_of(printed: Printed, rows: tuple[FastenerRow, ...]) -> dict[str, list[str]]:
    """For each fastener the lines that its name begins, in the size of names."""
    lines = [line.text for side in read_sides(printed.data) for line in side.lines if line.size_pt >= 13]
    names = {row.id: row.name[:1].upper() + row.name[1:] for row in rows}
    return {key: [line for line in lines if line.startswith(name[:20])] for key, name in names.items()}


@pytest.mark.parametrize("paper", LARGE)
def test_every_fastener_with_a_torque_is_on_the_chart_for_the_wall(paper: Paper) -> None:
    rows = chart_of_library(library(), EN).rows
    found = rows_of(torques_printed(paper), rows)
    text = squeezed(" ".join(side.text for side in read_sides(torques_printed(paper).data)))
    assert len([row for row in rows if row.value]) > 25
    for row in rows:
        assert found[row.id], row.name
        if row.value:
            assert squeezed(row.value) in text


def test_a_figure_stands_beside_the_name_of_its_fastener() -> None:
    lines = [line.text for side in read_sides(torques_printed(Paper.A4).data) for line in side.lines]
    for row in chart_of_library(library(), EN).rows:
        start = (row.name[:1].upper() + row.name[1:])[:14]
        near = [" ".join(lines[max(0, n - 2) : n + 3]) for n, line in enumerate(lines) if line.startswith(start)]
        wanted = row.value.replace("\u00a0", " ") or row.lead
        assert any(wanted in words.replace("\u00a0", " ") for words in near), row.name


def names_on(printed: Printed) -> str:
    """All names of fasteners on the torque sides of a chart: what stands bold in the first column."""
    sides, sheets = read_sides(printed.data), read_sheets(printed.data)
    return squeezed(
        " ".join(
            letter.text
            for side, page in zip(sides, sheets, strict=True)
            if "Fastener" in side.words
            for letter in page.ink
            if letter.bold and 13 < letter.size_pt < 16 and letter.x0 * MM_PER_PT < 12 + 76
        )
    ).lower()


@pytest.mark.parametrize("bike", ["heron", "coot", "linnet"])
def test_a_bikes_chart_shows_what_it_has_and_nothing_that_it_lacks(bike: str) -> None:
    own = chart_of_bike(upkeep(bike), library(), EN).rows
    shown = names_on(upkeep_printed(bike, Paper.A4))
    names = {row.name for row in own}
    for row in own:
        assert squeezed(row.name).lower() in shown
    for row in chart_of_library(library(), EN).rows:
        if not any(row.name in name for name in names):
            assert squeezed(row.name).lower() not in shown, row.name


def test_a_bikes_chart_leaves_a_line_for_each_typical_figure() -> None:
    sides = read_sides(upkeep_printed("heron", Paper.A4).data)
    torques = " ".join(side.words for side in sides if "Fastener" in side.words)
    typical = [t for t in upkeep("heron").torques if t.torque_nm is not None and not t.maker]
    assert typical
    assert torques.count("typical") >= len(typical)


@pytest.mark.parametrize("paper", LARGE)
def test_the_tool_list_names_every_tool_and_what_is_lacking(paper: Paper) -> None:
    text = squeezed(" ".join(side.text for side in read_sides(tools_printed(paper).data))).lower()
    for tool in library().tools.values():
        if "hand-lever" not in tool.fits:
            assert squeezed(tool.name).lower() in text
    owned = frozenset(library().workshop.tools)
    lacking = [tool for tool in library().tools.values() if tool.id not in owned and "hand-lever" not in tool.fits]
    assert text.count(squeezed(EN.lacks)) >= len(lacking)


def capital_mm(size_pt: float, weight: int) -> float:
    font = TTFont(THEME / "fonts" / f"atkinson-hyperlegible-next-{weight}.woff2")
    return size_pt * MM_PER_PT * float(font["OS/2"].sCapHeight) / float(font["head"].unitsPerEm)


def test_a_chart_can_be_read_at_arms_length_and_its_figures_from_a_metre() -> None:
    # 15 minutes of arc: NUREG-0700 rev. 3, 11.4.1.5-1, by the check `letter-height`.
    for printed in (torques_printed(Paper.A4), tools_printed(Paper.A4), upkeep_printed("heron", Paper.A4)):
        for page in read_sheets(printed.data):
            body = [letter for letter in page.ink if 45 < letter.top < page.height_pt - 45]
            smallest = min(letter.size_pt for letter in body)
            arm = letter_height(distance_mm=600, height_mm=capital_mm(smallest, 400), reading="label")
            assert arm.verdict is not Verdict.DOES_NOT_FIT, smallest
    figures = [
        letter.size_pt
        for page in read_sheets(torques_printed(Paper.A4).data)
        for letter in page.ink
        if letter.bold and letter.size_pt >= 16 and letter.text.isdigit()
    ]
    assert len(figures) > 50
    metre = letter_height(distance_mm=1000, height_mm=capital_mm(min(figures), 700))
    assert metre.verdict is not Verdict.DOES_NOT_FIT


@pytest.mark.parametrize("paper", LARGE)
def test_charts_are_landscape_and_nothing_sticks_out(paper: Paper) -> None:
    some = (upkeep_printed(bike, paper) for bike in ("heron", "coot", "linnet"))
    for printed in (torques_printed(paper), tools_printed(paper), *some):
        assert [str(found) for found in printed.overflows] == []
        assert [one.message for one in printed.findings] == []
        for side in read_sides(printed.data):
            assert side.width_mm == pytest.approx(paper.sheet.height_mm, abs=0.1)
            assert side.height_mm == pytest.approx(paper.sheet.width_mm, abs=0.1)
            for line in side.lines:
                assert line.left_mm >= 11.5
                assert line.right_mm <= side.width_mm - 11.5
                assert line.top_mm > 4
                assert line.bottom_mm < side.height_mm - 3


def test_all_torques_stand_on_one_side_of_a2_by_the_thing_that_they_are_of() -> None:
    printed, rows = torque_wall_printed(), chart_by_thing(library(), EN).rows
    (side,), (page,) = read_sides(printed.data), read_sheets(printed.data)
    assert printed.overflows == ()
    assert [one.message for one in printed.findings] == []
    # ISO 216: A2 is 420 mm by 594 mm.
    assert (round(side.width_mm), round(side.height_mm)) == (420, 594)
    assert [row.name for row in rows if next(places_of(row.name, (page,)), None) is None] == []
    shown = {(row.name.replace("front ", "").replace("rear ", ""), row.value, row.head) for row in rows}
    for row in chart_of_library(library(), EN).rows:
        assert (row.name.replace("front ", "").replace("rear ", ""), row.value, row.head) in shown, row.name
    figures = [letter.size_pt for letter in page.ink if letter.bold and letter.text.isdigit() and letter.size_pt > 16]
    assert len(figures) > 50
    metre = letter_height(distance_mm=1000, height_mm=capital_mm(min(figures), 700))
    assert metre.verdict is not Verdict.DOES_NOT_FIT
    for thing, _ in chart_by_thing(library(), EN).families:
        assert any(letters[0].size_pt > 14 for _, letters in places_of(thing, (page,))), thing


def test_a_chart_is_tagged() -> None:
    assert {"Document", "H1", "Table", "TH", "TD"} <= structure_tags(torques_printed(Paper.A4).data)
