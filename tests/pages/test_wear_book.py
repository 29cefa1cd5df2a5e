"""The wear book as a bike's page shows it: what is said, and what is drawn."""

from __future__ import annotations

from builder.model.bike import Bike, Wearing, WearReading
from builder.model.facts import Role
from builder.model.parts import Cassette, Rotor
from builder.model.units import Measure
from builder.pages.strings_en import EN
from builder.pages.wear_book import WearView, wear_views

PARTS = {
    Role.CASSETTE: Cassette(id="c", name="C", sprockets=tuple(range(11, 23))),
    Role.FRONT_ROTOR: Rotor(id="r", name="R", least_thickness_mm=1.55),
}


def views(*entries: WearReading) -> tuple[WearView, ...]:
    return wear_views(Bike(id="t", name="T", parts=PARTS, wear=entries), EN)


def said(*entries: WearReading) -> str:
    (view,) = views(*entries)
    return " ".join(view.sentences).replace("\u00a0", " ")


def chain(date: str, wear: float, distance_km: float | None = None) -> WearReading:
    return WearReading(date=date, chain_wear_percent=wear, distance_km=distance_km)


def rotor(date: str, thickness: float) -> WearReading:
    return WearReading(date=date, front_rotor_mm=Measure(thickness, 0.0))


def test_one_reading_is_told_with_its_limit_and_is_not_drawn():
    assert said(chain("2026-03-01", 0.2)) == (
        "0.2 % on 2026-03-01. The limit is 0.5 %, a typical value: a figure marked on the part goes first. "
        "One reading shows no pace: measure again in a few weeks."
    )
    assert views(chain("2026-03-01", 0.2))[0].figure is None


def test_two_readings_give_a_date_and_admit_that_it_is_unsure():
    words = said(chain("2026-01-01", 0.1, 1000.0), chain("2026-04-11", 0.3, 2000.0))
    assert words.endswith(
        "At this pace the limit is met about 2026-07-20. Two points do not show how sure that is. "
        "That is some 1000 km of riding."
    )


def test_more_readings_give_a_span_of_days_and_of_distance():
    entries = [chain("2026-01-01", 0.10, 1000.0), chain("2026-02-10", 0.19, 1400.0), chain("2026-04-11", 0.3, 2000.0)]
    entries.append(chain("2026-05-21", 0.39, 2400.0))
    words = said(*entries)
    assert "in 19 of 20 cases between 2026-05-" in words
    assert "of riding, by distance between" in words


def test_a_span_too_wide_to_plan_by_has_no_far_end():
    days = ("2026-01-01", "2026-02-10", "2026-04-11", "2026-05-21", "2026-07-01")
    words = said(*(chain(day, wear) for day, wear in zip(days, (0.1, 0.12, 0.13, 0.16, 0.24), strict=True)))
    assert "too few points to say how late" in words
    assert "19 of 20" not in words


def test_the_makers_limit_is_called_the_makers():
    assert "The maker's limit is 1.55 mm." in said(rotor("2026-01-01", 1.7))


def test_a_part_at_its_limit_is_marked_and_still_drawn():
    (view,) = views(rotor("2026-01-01", 1.7), rotor("2026-06-01", 1.55))
    assert view.is_over
    assert view.sentences[-1] == "The limit is reached: replace the part now."
    assert view.figure is not None
    assert "the limit is reached" in view.figure.svg


def test_a_part_that_hardly_wears_is_not_given_a_date():
    assert said(rotor("2026-01-01", 1.8), rotor("2026-02-01", 1.799)).endswith(
        "At this pace the limit is not in sight: measure again later."
    )


def test_a_tread_has_no_limit_here():
    entry = WearReading(date="2026-01-01", rear_tread_mm=Measure(2.0, 0.0))
    assert said(entry, WearReading(date="2026-02-01", rear_tread_mm=Measure(1.9, 0.0))).endswith(
        "No limit is known here: look for the indicator of its maker."
    )


def test_every_part_of_the_wear_book_has_a_name():
    assert set(EN.wearing) == set(Wearing)
