"""The wear book: which readings count, which limit holds, and when the limit is met."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st

from builder.checks.brake_wear import TYPICAL_ROTOR_MM, typical_pad_mm
from builder.model.bike import Bike, Wearing, WearReading
from builder.model.facts import BrakeKind, Role
from builder.model.parts import Brake, Cassette, Pads, Rotor
from builder.model.units import Measure, Unit
from builder.planning.wear import wear_of

START = date(2026, 1, 1)


# Nine sprockets, whose chain goes to 0.75 %.
NINE = Cassette(id="nine", name="Nine", sprockets=(11, 13, 15, 17, 20, 23, 26, 30, 34))


def reading(day: int, **values: object) -> WearReading:
    return WearReading(date=(START + timedelta(days=day)).isoformat(), **values)  # type: ignore[arg-type]


def mm(value: float) -> Measure:
    return Measure(value, 0.0)


def bike(*entries: WearReading, **parts: object) -> Bike:
    return Bike(
        id="t",
        name="T",
        wear=entries,
        parts={Role(role.replace("_", "-")): part for role, part in {"cassette": NINE, **parts}.items()},
    )


def test_a_bike_without_readings_has_no_wear():
    assert wear_of(bike()) == ()


def test_each_part_that_was_measured_has_a_record_and_no_other():
    found = wear_of(bike(reading(0, chain_wear_percent=0.1, rear_tread_mm=mm(2)), reading(9, distance_km=100.0)))
    assert [record.wearing for record in found] == [Wearing.CHAIN, Wearing.REAR_TREAD]


def test_readings_from_before_the_part_was_new_do_not_count():
    entries = (
        reading(0, chain_wear_percent=0.4),
        reading(50, chain_wear_percent=0.02, renewed=(Wearing.CHAIN,)),
        reading(90, chain_wear_percent=0.1),
    )
    (record,) = wear_of(bike(*entries))
    assert (record.first, record.days, record.values) == (START + timedelta(days=50), (0, 40), (0.02, 0.1))


def test_a_part_renewed_without_a_reading_has_no_record_until_it_is_measured():
    assert wear_of(bike(reading(0, chain_wear_percent=0.4), reading(50, renewed=(Wearing.CHAIN,)))) == ()


@pytest.mark.parametrize(("sprockets", "limit"), [(12, 0.5), (11, 0.5), (10, 0.75), (1, 1.0)])
def test_the_limit_of_the_chain_goes_by_its_speeds(sprockets, limit):
    """Common practice, no source: 0.5 % from 11 speeds on, 0.75 % below, 1 % on one sprocket."""
    cassette = Cassette(id="c", name="C", sprockets=tuple(range(11, 11 + sprockets)))
    (record,) = wear_of(bike(reading(0, chain_wear_percent=0.1), cassette=cassette))
    assert record.limit is not None
    assert (record.limit.value, record.limit.marked) == (limit, False)


def test_what_the_maker_marked_goes_before_a_typical_limit():
    parts = {
        "front_rotor": Rotor(id="r", name="R", least_thickness_mm=1.6),
        "rear_pads": Pads(id="p", name="P", least_thickness_mm=2.8),
        "front_brake": Brake(id="b", name="B", brake_kind=BrakeKind.RIM),
    }
    entry = reading(0, front_rotor_mm=mm(1.7), rear_rotor_mm=mm(1.7), front_pads_mm=mm(4), rear_pads_mm=mm(4))
    limits = {record.wearing: record.limit for record in wear_of(bike(entry, **parts))}
    told = {wearing: (limit.value, limit.marked) for wearing, limit in limits.items() if limit is not None}
    assert told == {
        Wearing.FRONT_ROTOR: (1.6, True),
        Wearing.REAR_ROTOR: (TYPICAL_ROTOR_MM, False),
        Wearing.FRONT_PADS: (typical_pad_mm("rim"), False),
        Wearing.REAR_PADS: (2.8, True),
    }


def test_pads_of_an_unknown_brake_and_treads_have_no_limit():
    entry = reading(0, front_pads_mm=mm(4), front_tread_mm=mm(2))
    assert [record.limit for record in wear_of(bike(entry))] == [None, None]


def test_one_reading_foretells_nothing():
    (record,) = wear_of(bike(reading(0, chain_wear_percent=0.3, distance_km=100.0)))
    assert (record.reached, record.left_km, record.is_over) == (None, None, False)


def test_two_readings_give_a_day_but_not_how_sure_it_is():
    (record,) = wear_of(bike(reading(0, chain_wear_percent=0.1), reading(100, chain_wear_percent=0.3)))
    assert record.reached is not None
    assert record.on(record.reached.likeliest) == START + timedelta(days=325)  # 0.65 % more at 0.002 % a day
    assert (record.reached.least, record.reached.most) == (None, None)


@pytest.mark.parametrize(
    "values",
    [(0.3, 0.3, 0.3), (0.3, 0.28, 0.25), (0.1, 0.1, 0.105)],
    ids=["level", "the wrong way", "too far ahead"],
)
def test_a_line_that_does_not_lead_to_the_limit_foretells_nothing(values):
    entries = (reading(100 * number, chain_wear_percent=value) for number, value in enumerate(values))
    (record,) = wear_of(bike(*entries))
    assert record.reached is None


@pytest.mark.parametrize(("last", "over"), [(0.74, False), (0.75, True), (0.9, True)])
def test_a_chain_at_its_limit_is_over(last, over):
    (record,) = wear_of(bike(reading(0, chain_wear_percent=0.1), reading(9, chain_wear_percent=last)))
    assert record.is_over is over
    assert not (over and record.reached)


@pytest.mark.parametrize(("last", "over"), [(1.51, False), (1.5, True), (1.4, True)])
def test_a_rotor_at_its_limit_is_over(last, over):
    (record,) = wear_of(bike(reading(0, rear_rotor_mm=mm(1.8)), reading(9, rear_rotor_mm=mm(last))))
    assert record.is_over is over


def test_the_distance_left_counts_from_the_last_reading_with_a_distance():
    entries = (
        reading(0, chain_wear_percent=0.15, distance_km=1000.0),
        reading(50, chain_wear_percent=0.35, distance_km=2000.0),
    )
    (record,) = wear_of(bike(*entries))
    assert record.left_km is not None
    assert record.left_km.likeliest == pytest.approx(2000)  # 0.4 % more at 0.2 % in 1000 km


def test_two_readings_at_one_distance_give_no_distance_left():
    entries = (
        reading(0, chain_wear_percent=0.15, distance_km=1000.0),
        reading(50, chain_wear_percent=0.35, distance_km=1000.0),
    )
    (record,) = wear_of(bike(*entries))
    assert record.left_km is None


@given(
    pace=st.floats(0.0005, 0.003),
    noise=st.lists(st.floats(-0.06, 0.06), min_size=5, max_size=5),
)
def test_the_day_and_its_span_are_those_of_a_regression_on_the_same_points(pace, noise):
    """The span's ends lie where the 95 % confidence band of the fitted mean crosses the limit; band from scipy."""
    days = [0, 30, 70, 110, 150]
    values = [0.05 + pace * day + error for day, error in zip(days, noise, strict=True)]
    entries = (reading(day, chain_wear_percent=value) for day, value in zip(days, values, strict=True))
    (record,) = wear_of(bike(*entries))
    if record.reached is None:
        return
    known = scipy.stats.linregress(days, values)
    assert known.intercept + known.slope * record.reached.likeliest == pytest.approx(0.75)
    left = [value - known.intercept - known.slope * day for day, value in zip(days, values, strict=True)]
    scatter = max(record.error, (sum(error**2 for error in left) / 3) ** 0.5)
    centre = sum(days) / 5
    spread = sum((day - centre) ** 2 for day in days)
    for end in (record.reached.least, record.reached.most):
        if end is not None:
            band = scipy.stats.t.ppf(0.975, 3) * scatter * (1 / 5 + (end - centre) ** 2 / spread) ** 0.5
            assert abs(known.intercept + known.slope * end - 0.75) == pytest.approx(band, rel=2e-3, abs=1e-7)


def test_points_on_one_line_are_not_known_better_than_they_were_measured():
    entries = [reading(50 * number, rear_rotor_mm=mm(1.8 - 0.04 * number)) for number in range(4)]
    (record,) = wear_of(bike(*entries))
    assert record.error == pytest.approx(0.03 / 3**0.5)  # calipers, where the book gives no tolerance
    assert record.reached is not None
    assert record.reached.least is not None
    assert record.reached.likeliest - record.reached.least > 20


def test_a_tolerance_in_the_book_goes_before_the_usual_one():
    (record,) = wear_of(bike(reading(0, rear_rotor_mm=Measure(1.8, 0.1)), reading(9, rear_rotor_mm=mm(1.7))))
    assert record.error == pytest.approx(0.1 / 3**0.5)


def test_the_unit_is_per_cent_for_the_chain_and_millimetres_for_all_else():
    entry = reading(0, chain_wear_percent=0.1, rear_rotor_mm=mm(1.7))
    assert [record.unit for record in wear_of(bike(entry))] == [Unit.PERCENT, Unit.MILLIMETRE]
