"""Service sheets: a row for each step of the bike, fields and limits for what is measured, cautions ahead."""

from __future__ import annotations

from dataclasses import replace

import pytest
from markupsafe import Markup

from builder.checks.chain_wear import wear_limit_percent
from builder.model.bike import Wearing
from builder.model.units import Measure, Unit, write_quantity
from builder.pages.service_sheet import RowView, SheetView, view_sheet
from builder.pages.strings_en import EN
from builder.tailoring import tailor
from builder.tailoring.limits import limits_of
from builder.tailoring.persons import persons_for
from builder.tailoring.tailored import ShownStep
from tests.demo import LEAD, library
from tests.pages.fleet import BIKES, SHEET_GUIDES, TAG_GUIDES, sheet

# A belt and rim brakes: nothing of it is worn down by a figure that the yearly service measures.
UNMEASURED = {"teal"}
EVERY = [(guide, bike) for guide in SHEET_GUIDES for bike in BIKES]


def rows_of(view: SheetView) -> tuple[RowView, ...]:
    return tuple(row for part in view.parts for row in part.rows)


def pairs(guide: str, bike: str) -> list[tuple[ShownStep, RowView]]:
    tailored = sheet(guide, bike)
    return list(zip(tailored.steps, rows_of(view_sheet(tailored, library(), EN)), strict=True))


def plain(text: Markup | str) -> str:
    return Markup(text).striptags()


def test_the_weekly_check_the_yearly_service_and_the_tag_before_a_ride_are_sheets() -> None:
    assert set(SHEET_GUIDES) == {"check-before-a-ride", "yearly-service"}
    assert set(TAG_GUIDES) == {"tag-before-a-ride"}


@pytest.mark.parametrize("bike", BIKES)
def test_a_tag_has_some_ten_lines_and_one_name_and_tells_its_cautions_in_short(bike: str) -> None:
    tailored = sheet("tag-before-a-ride", bike)
    view = view_sheet(tailored, library(), EN)
    assert 8 <= len(rows_of(view)) <= 11
    assert not view.needs_second
    ahead = [plain(text) for strip in view.strips for text in strip.texts]
    assert ahead == list({plain(shown.text): None for step in tailored.steps for shown in step.cautions})


@pytest.mark.parametrize("bike", BIKES)
def test_both_tyres_have_a_box_of_their_own(bike: str) -> None:
    for guide, step_id in (("check-before-a-ride", "read-pressure"), ("yearly-service", "pressure")):
        (row,) = [row for step, row in pairs(guide, bike) if step.step.id == step_id]
        assert row.boxes == (("front", "bar"), ("rear", "bar"))


@pytest.mark.parametrize("bike", BIKES)
def test_the_yearly_service_tries_bolts_with_a_torque_wrench_from_its_list(bike: str) -> None:
    tailored = sheet("yearly-service", bike)
    tried = [torque for step in tailored.steps for torque in step.tried]
    assert tried
    shown = [torque for row in rows_of(view_sheet(tailored, library(), EN)) for torque in row.tried]
    assert [torque.fastener for torque in shown] == [torque.fastener.name for torque in tried]
    laid_out = {item.tool.id for item in tailored.tools if item.tool is not None}
    assert {torque.wrench.id for torque in tried if torque.wrench is not None} <= laid_out


def test_only_work_on_brakes_steering_or_wheels_is_looked_at_again() -> None:
    asked = {guide for guide in SHEET_GUIDES if sheet(guide, "heron").sign_off}
    assert asked == {"yearly-service"}
    saddle = tailor(library().guides["saddle-and-seat-post-fitted"], library(), bike=library().bikes["heron"])
    assert not saddle.sign_off


def test_the_lower_figure_is_told_where_carbon_is_clamped() -> None:
    guide = library().guides["bar-tape-replaced"]
    told = {
        bike: [
            step.torque.on_carbon for step in tailor(guide, library(), bike=library().bikes[bike]).steps if step.torque
        ]
        for bike in ("siskin", "fieldfare")
    }
    assert told == {"siskin": [True], "fieldfare": [False]}


def test_a_heavy_bike_takes_two_persons_and_a_light_one_does_not() -> None:
    guide = library().guides["pedals-fitted"]
    persons = {
        bike: persons_for(tailor(guide, library(), bike=library().bikes[bike])) for bike in ("plover", "kestrel")
    }
    assert persons == {"plover": 2, "kestrel": 1}


def test_a_bike_without_a_metal_post_goes_on_an_axle_stand() -> None:
    guide = library().guides["pedals-fitted"]
    for bike, stand in (("siskin", "axle-stand"), ("dunlin", "axle-stand"), ("heron", "work-stand")):
        tailored = tailor(guide, library(), bike=library().bikes[bike])
        stands = {tool for step in tailored.steps for tool in step.step.tools if tool.endswith("-stand")}
        assert stands == {stand}, bike


def test_the_chain_of_a_gear_hub_has_the_limit_of_one_sprocket() -> None:
    limits = limits_of(library().bikes["coot"])
    assert limits["chain.longest"] == write_quantity(24 * 12.7 * (1 + wear_limit_percent(1) / 100), Unit.MILLIMETRE, 1)


@pytest.mark.parametrize(("guide", "bike"), EVERY)
def test_each_step_that_applies_is_one_row_in_its_order(guide: str, bike: str) -> None:
    for step, row in pairs(guide, bike):
        assert row.number == step.number
        assert plain(row.do) == plain(step.do)
        assert plain(row.prove) == plain(step.prove)
        assert plain(row.limit) == plain(step.limit)


@pytest.mark.parametrize(("guide", "bike"), EVERY)
def test_each_measured_step_has_a_field_with_its_unit_and_passes_or_not(guide: str, bike: str) -> None:
    for step, row in pairs(guide, bike):
        if step.measurement is not None:
            assert row.has_field, step.do
            assert row.unit == step.measurement.unit
            assert row.is_judged


@pytest.mark.parametrize("bike", BIKES)
def test_each_measured_step_of_the_yearly_service_has_its_limit_beside_it(bike: str) -> None:
    measured = [row for step, row in pairs("yearly-service", bike) if step.measurement is not None]
    assert measured or bike in UNMEASURED
    assert all(row.limit for row in measured)


@pytest.mark.parametrize(("guide", "bike"), EVERY)
def test_a_value_is_asked_for_where_the_limit_names_a_figure(guide: str, bike: str) -> None:
    for step, row in pairs(guide, bike):
        if any(character.isdigit() for character in step.limit):
            assert row.has_field, step.do


@pytest.mark.parametrize(("guide", "bike"), EVERY)
def test_every_caution_of_the_job_stands_ahead_and_steps_name_theirs_by_number(guide: str, bike: str) -> None:
    tailored = sheet(guide, bike)
    view = view_sheet(tailored, library(), EN)
    ahead = [plain(text) for strip in view.strips for text in strip.texts]
    assert ahead == [f"{number} {plain(shown.text)}" for number, shown in enumerate(tailored.summary_cautions, 1)]
    for step, row in pairs(guide, bike):
        named = row.safety.removeprefix("Safety ")
        numbers = {int(number) for number in named.split(", ")} if named else set()
        wanted = {shown.caution.id for shown in step.cautions}
        assert {tailored.summary_cautions[number - 1].caution.id for number in numbers} == wanted


@pytest.mark.parametrize("bike", BIKES)
def test_a_value_is_asked_for_where_a_limit_stands_beside_what_is_measured(bike: str) -> None:
    pressure = [row for step, row in pairs("check-before-a-ride", bike) if step.step.id == "read-pressure"]
    assert [row.has_field for row in pressure] == [True]
    lifted = [row for step, row in pairs("yearly-service", bike) if step.step.do.startswith("Lubricate")]
    assert [row.has_field for row in lifted] == ([] if bike in UNMEASURED else [False])  # a belt is not lubricated


def test_a_reading_of_the_wear_book_stands_beside_what_is_measured_again() -> None:
    tailored = sheet("yearly-service", "heron")
    assert tailored.bike is not None
    entries = tailored.bike.wear
    value, day = [(found.value, entry.date) for entry in entries if (found := entry.of(Wearing.REAR_ROTOR))][-1]
    row = next(row for step, row in pairs("yearly-service", "heron") if step.step.measure == "rear-rotor")
    assert row.last == f"Last: {value:g}\u00a0mm on {day}."


def test_the_last_reading_is_the_latest_and_not_one_of_a_part_that_was_renewed() -> None:
    tailored = sheet("yearly-service", "heron")
    assert tailored.bike is not None
    (first, *_) = tailored.bike.wear
    renewed = replace(
        first, date="2030-01-02", renewed=(Wearing.REAR_ROTOR,), rear_rotor_mm=Measure(1.8), chain_wear_percent=None
    )
    bike = replace(tailored.bike, wear=(*tailored.bike.wear, renewed))
    view = view_sheet(replace(tailored, bike=bike), library(), EN)
    texts = [row.last for row in rows_of(view)]
    assert "Last: 1.8\u00a0mm on 2030-01-02." in texts


def test_a_bike_without_a_wear_book_has_empty_fields() -> None:
    tailored = sheet("yearly-service", "heron")
    assert tailored.bike is not None
    view = view_sheet(replace(tailored, bike=replace(tailored.bike, wear=())), library(), EN)
    assert not any(row.last for row in rows_of(view))


def test_a_torque_stands_on_the_row_of_its_step() -> None:
    bike = library().bikes["heron"]
    view = view_sheet(tailor(library().guides["pedals-fitted"], library(), bike=bike), library(), EN)
    torques = [row.torque for row in rows_of(view) if row.torque is not None]
    assert [torque.value for torque in torques if torque.value]


def test_a_guide_for_any_bike_is_no_sheet() -> None:
    with pytest.raises(ValueError, match="one bike"):
        view_sheet(tailor(library().guides[LEAD], library()), library(), EN)
