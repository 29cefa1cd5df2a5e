"""Service sheets: a row for each step of the bike, fields and limits for what is measured, cautions ahead."""

from __future__ import annotations

from dataclasses import replace

import pytest
from markupsafe import Markup

from builder.model.bike import Wearing
from builder.model.units import Measure
from builder.pages.service_sheet import RowView, SheetView, view_sheet
from builder.pages.strings_en import EN
from builder.tailoring import tailor
from builder.tailoring.tailored import ShownStep
from tests.demo import LEAD, library
from tests.pages.fleet import BIKES, SHEET_GUIDES, sheet

EVERY = [(guide, bike) for guide in SHEET_GUIDES for bike in BIKES]


def rows_of(view: SheetView) -> tuple[RowView, ...]:
    return tuple(row for part in view.parts for row in part.rows)


def pairs(guide: str, bike: str) -> list[tuple[ShownStep, RowView]]:
    tailored = sheet(guide, bike)
    return list(zip(tailored.steps, rows_of(view_sheet(tailored, library(), EN)), strict=True))


def plain(text: Markup | str) -> str:
    return Markup(text).striptags()


def test_the_check_before_a_ride_and_the_yearly_service_are_sheets() -> None:
    assert set(SHEET_GUIDES) == {"check-before-a-ride", "yearly-service"}


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
    assert measured
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
    assert [row.has_field for row in lifted] == [False]


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
