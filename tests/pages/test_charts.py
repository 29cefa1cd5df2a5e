"""Torque charts and tool lists: everything that there is on the workshop's, and only what a bike has on its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from builder.model.condition import holds
from builder.model.deciding import decided
from builder.model.facts import Role
from builder.model.inlining import inlined
from builder.model.library import Library
from builder.model.parts import Part
from builder.model.units import Range
from builder.pages.strings_en import EN
from builder.pages.tool_list import home_lacks, tools_of_bike, tools_of_library
from builder.pages.torque_chart import chart_of_bike, chart_of_library
from builder.pages.wall import tools_revision, torques_revision, upkeep_revision
from builder.planning.attributes import cases_of
from builder.tailoring import tailor
from builder.tailoring.upkeep import families_of, upkeep_of
from tests.build.ordering import SHORT
from tests.demo import library
from tests.pages.fleet import BIKES, generic, sheet, upkeep
from tests.pages.shop import theme


def test_every_fastener_of_the_catalogue_is_on_the_workshops_chart_once() -> None:
    rows = [row.id for row in chart_of_library(library(), EN).rows]
    assert sorted(rows) == sorted(library().fasteners)


def test_a_row_of_the_chart_says_figure_thread_hand_head_preparation_and_source() -> None:
    chart = chart_of_library(library(), EN)
    left = next(row for row in chart.rows if row.id == "left-pedal")
    assert (left.value, left.is_left, left.maker) == ("35 to 40\u00a0N·m", True, False)
    assert left.thread == "9/16 in × 20 threads to the inch"
    assert left.preparation == "greased thread"
    assert chart.sources[left.source - 1] == "Common practice, no source"
    for row in chart.rows:
        assert bool(row.value) != bool(row.feel), row.id
        assert all((row.thread, row.head, row.preparation)), row.id
        assert chart.sources[row.source - 1]


def test_where_only_the_makers_figure_counts_no_chart_says_by_feel() -> None:
    rows = {row.id: row for row in chart_of_library(library(), EN).rows}
    assert rows["child-seat-bolts"].lead == EN.maker_figure
    for row in rows.values():
        if not row.value:
            makers_alone = row.feel.startswith("Only the")
            assert row.lead == (EN.maker_figure if makers_alone else EN.by_feel), row.id


def test_a_fastener_stands_in_the_family_of_the_guides_that_tighten_it() -> None:
    families = families_of(library())
    assert families["rotor-bolts"] == "brakes"
    assert families["front-axle-nuts"] == "wheels and tyres"
    # No guide tightens it: the fasteners of the same place decide.
    only = replace(library(), guides={"rear-derailleur-replaced": library().guides["rear-derailleur-replaced"]})
    assert families_of(only)["rear-derailleur-bolt"] == "drivetrain"
    assert "left-pedal" not in families_of(only)


@pytest.mark.parametrize("bike", BIKES)
def test_a_bikes_chart_has_nothing_of_a_place_that_is_empty_on_it(bike: str) -> None:
    without = library().bikes[bike].without
    for torque in upkeep(bike).torques:
        assert torque.fastener.role not in without, torque.fastener.id


@pytest.mark.parametrize("bike", BIKES)
def test_a_fastener_of_a_bikes_chart_is_tightened_by_a_guide_that_suits_it_or_named_by_a_part(bike: str) -> None:
    cases = cases_of(library(), library().bikes[bike], None)
    tightened = {
        name
        for guide in library().guides.values()
        if decided(guide.suits, cases) and holds(guide.suits, cases)
        for placed in inlined(guide, library())
        if decided(placed.condition, cases)
        for name in (placed.step.tightens, placed.step.loosens, *placed.step.tries)
    }
    named = {name for part in library().bikes[bike].parts.values() for name in part.torques_nm}
    assert {torque.fastener.id for torque in upkeep(bike).torques} <= tightened | named


@pytest.mark.parametrize("bike", BIKES)
def test_every_torque_on_the_sheets_and_guides_of_a_bike_is_on_its_chart(bike: str) -> None:
    chart = {torque.fastener.id for torque in upkeep(bike).torques}
    tailored = [sheet(guide, bike) for guide in ("check-before-a-ride", "yearly-service")]
    assert {line.torque.fastener.id for one in tailored for line in one.torques} <= chart


@pytest.mark.parametrize(
    ("bike", "has", "lacks"),
    [
        ("coot", "coaster-arm-bolt", "rear-derailleur-bolt"),  # a gear hub and a coaster brake
        ("heron", "rotor-bolts", "rim-pad-bolts"),  # disc brakes
        ("kestrel", "rim-pad-bolts", "rotor-bolts"),  # rim brakes
        ("heron", "rear-skewer", "rear-axle-nuts"),  # quick-release
        ("heron", "cassette-lockring", "freewheel-body"),
        ("linnet", "freewheel-body", "cassette-lockring"),
        ("coot", "quill-expander-bolt", "stem-bolts"),  # a quill stem
        ("siskin", "rear-derailleur-bolt", "gear-cable-clamp"),  # shifts without a cable
        ("marten", "extracting-bolt", "crank-bolts"),
        ("wagtail", "front-arm-bolt", "rim-pad-bolts"),  # drum brakes
        ("wren", "front-derailleur-bolt", "rear-axle-nuts"),
        ("heron", "pinch-bolts", "front-derailleur-bolt"),
    ],
)
def test_the_parts_of_a_bike_decide_what_is_on_its_chart(bike: str, has: str, lacks: str) -> None:
    chart = {row.id for row in chart_of_bike(upkeep(bike), library(), EN).rows}
    assert has in chart
    assert lacks not in chart


def test_the_figure_of_a_parts_own_maker_goes_before_the_typical_one() -> None:
    bike = library().bikes["heron"]
    cassette = replace(bike.parts[Role.CASSETTE], torques_nm={"cassette-lockring": Range(38.0, 42.0)})
    changed = replace(bike, parts={**bike.parts, Role.CASSETTE: cassette})
    row = next(
        row for row in chart_of_bike(upkeep_of(changed, library()), library(), EN).rows if row.id == "cassette-lockring"
    )
    assert (row.value, row.maker) == ("38 to 42\u00a0N·m", True)


def test_what_a_bikes_file_does_not_say_is_named_and_not_shown_as_sure() -> None:
    bike = library().bikes["heron"]
    parts: dict[Role, Part] = {role: part for role, part in bike.parts.items() if role is not Role.HEADSET}
    unknown = upkeep_of(replace(bike, parts=parts), library())
    before = {torque.fastener.id for torque in upkeep("heron").torques}
    after = {torque.fastener.id for torque in unknown.torques}
    assert "top-cap-bolt" in before - after
    assert before - after <= {fastener.id for fastener in unknown.unsure}


def pedal(**changes: object) -> Library:
    """The library with a changed bolt that every bike has."""
    one = replace(library().fasteners["left-pedal"], **changes)  # type: ignore[arg-type]
    return replace(library(), fasteners={**library().fasteners, one.id: one})


@cache
def codes(of: Callable[[], Library]) -> tuple[str, str, str]:
    """The codes of the torque chart, of the tool list, and of the torques and tools of one bike."""
    lib = of()
    heron = upkeep_of(lib.bikes["heron"], lib)
    return (
        torques_revision(lib, theme()),
        tools_revision(lib, (tailor(lib.guides[SHORT], lib),), theme()),
        upkeep_revision(heron, lib, theme()),
    )


def dearer() -> Library:
    return pedal(torque_nm=Range(34.0, 40.0))


def otherwise_known() -> Library:
    return pedal(source="An agreed table")


def worded_anew() -> Library:
    """A library in which every word of a guide is another, which uses the same tools on the same bolts."""
    guide = library().guides[SHORT]
    work = tuple(replace(section, title="Another title", end="Another end.") for section in guide.work)
    changed = replace(guide, title="Another title", purpose="Another purpose.", work=work)
    return replace(library(), guides={**library().guides, guide.id: changed})


@pytest.mark.parametrize("change", [dearer, otherwise_known])
def test_the_code_of_a_chart_changes_with_a_figure_and_with_its_source(change: Callable[[], Library]) -> None:
    torques, tools, of_bike = codes(library)
    assert codes(change)[0] != torques
    assert codes(change)[1] == tools
    assert codes(change)[2] != of_bike


def test_the_words_of_a_guide_are_on_no_chart_and_leave_its_code_alone() -> None:
    assert codes(worded_anew) == codes(library)


# --- tools


def test_the_workshops_list_has_every_tool_but_bare_hands() -> None:
    hands = {name for name, tool in library().tools.items() if "hand-lever" in tool.fits}
    rows = {row.id for row in tools_of_library(library(), generic()).rows}
    assert rows == set(library().tools) - hands


def test_a_tool_that_the_workshop_lacks_is_told() -> None:
    workshop = replace(library().workshop, tools=tuple(t for t in library().workshop.tools if t != "spoke-key"))
    tools = tools_of_library(replace(library(), workshop=workshop), generic())
    assert "spoke key" in tools.lacking
    assert tools.owned == len(tools.rows) - len(tools.lacking)


@pytest.mark.parametrize("bike", BIKES)
def test_a_bikes_tools_are_those_of_the_guides_that_suit_it(bike: str) -> None:
    rows = tools_of_bike(upkeep(bike)).rows
    suiting = {guide.id for guide in upkeep(bike).guides}
    for row in rows:
        assert row.guides
        assert {guide.id for guide in row.guides} <= suiting
    on_sheet = {item.tool.id for item in sheet("yearly-service", bike).tools if item.tool is not None}
    assert on_sheet <= {row.id for row in rows}


def test_sizes_stand_in_the_order_of_their_numbers() -> None:
    names = [row.name for row in tools_of_library(library(), generic()).rows]
    sizes = [int(name.split(" mm")[0]) for name in names if name.split(" mm")[0].isdigit()]
    assert len(sizes) > 5
    assert sizes == sorted(sizes)


def test_a_guide_tells_what_a_home_kit_lacks() -> None:
    for one in generic():
        lacking = home_lacks(one)
        assert set(lacking) == {item.name for item in one.tools if item.tool is not None and not item.tool.home}
    assert "work stand" in home_lacks(sheet("yearly-service", "heron"))
    assert "work stand" not in home_lacks(sheet("check-before-a-ride", "heron"))
