"""One gear in numbers, and the wheel that it drives."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.checks.gears import (
    development_m,
    gain_ratio,
    gear_inches,
    gear_ratio,
    speed_kmh,
    wheel_circumference_mm,
)
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict
from builder.model.units import Unit, read_value
from tests.published import published

UNITS = pint.UnitRegistry()
RING = st.integers(20, 60)
SPROCKET = st.integers(9, 52)
CIRCUMFERENCE = st.floats(900, 2600)


@pytest.mark.parametrize("case", published("gears/development-definition"))
def test_the_regulations_development_reads_the_same_in_feet(case):
    assert read_value(f"{case.inputs['feet']} ft", Unit.METRE) == case.wanted()


@pytest.mark.parametrize("case", published("gears/development-speed"))
def test_the_regulations_speed_follows_from_development_and_cadence(case):
    assert speed_kmh(case.inputs["development_m"], case.inputs["cadence_rpm"]) == case.wanted()


@pytest.mark.parametrize("case", published("gears/gear-inches-to-development"))
def test_gear_inches_are_a_development(case):
    circumference = case.inputs["gear_inches"] * math.pi * 25.4
    assert development_m(20, 20, circumference) == case.wanted()
    assert gear_inches(20, 20, circumference) == pytest.approx(case.inputs["gear_inches"])


@pytest.mark.parametrize("case", published("gears/roll-out-customary"))
def test_circumference_is_near_the_customary_figure(case):
    assert wheel_circumference_mm(case.inputs["rim_mm"], case.inputs["tyre_mm"]) == case.wanted()


@pytest.mark.parametrize("case", published("gears/tyre-designation"))
def test_the_designation_gives_the_diameter(case):
    tyre, rim = case.inputs["marking"].split("-")
    assert (int(tyre), int(rim)) == (case.expected["tyre"], case.expected["rim"])
    result = reckon_texts(CHECKS["wheel-circumference"], {"rim": f"{rim} mm", "tyre": f"{tyre} mm"})
    assert result.named("diameter") == case.wanted("diameter")


@given(ring=RING, sprocket=SPROCKET, circumference=CIRCUMFERENCE, cadence=st.floats(20, 150))
def test_development_gear_inches_and_speed_agree_with_a_unit_library(ring, sprocket, circumference, cadence):
    rolled = circumference * UNITS.mm * ring / sprocket
    assert development_m(ring, sprocket, circumference) == pytest.approx(rolled.to("m").magnitude, rel=1e-12)
    inches = (rolled / math.pi).to("inch").magnitude
    assert gear_inches(ring, sprocket, circumference) == pytest.approx(inches, rel=1e-12)
    speed = (rolled * cadence / UNITS.minute).to("km/hour").magnitude
    assert speed_kmh(development_m(ring, sprocket, circumference), cadence) == pytest.approx(speed, rel=1e-12)


@given(ring=RING, sprocket=SPROCKET, circumference=CIRCUMFERENCE, crank=st.floats(140, 200))
def test_gain_ratio_has_no_dimension_and_is_wheel_way_by_pedal_way(ring, sprocket, circumference, crank):
    pedal_way = 2 * math.pi * crank * UNITS.mm
    wheel_way = circumference * UNITS.mm * ring / sprocket
    share = (wheel_way / pedal_way).to_base_units()
    assert share.dimensionless
    assert gain_ratio(ring, sprocket, circumference, crank) == pytest.approx(share.magnitude, rel=1e-12)


@given(ring=RING, sprocket=SPROCKET)
def test_a_larger_ring_is_harder_and_a_larger_sprocket_easier(ring, sprocket):
    assert gear_ratio(ring + 1, sprocket) > gear_ratio(ring, sprocket) > gear_ratio(ring, sprocket + 1)


@given(rim=st.floats(150, 700), tyre=st.floats(16, 130))
def test_a_wider_tyre_rolls_farther(rim, tyre):
    assert wheel_circumference_mm(rim, tyre + 1) - wheel_circumference_mm(rim, tyre) == pytest.approx(2 * math.pi)


def test_a_slip_in_the_roll_out_is_noticed():
    texts = {"distance": "6.42 m", "turns": "2", "rim": "622 mm", "tyre": "32 mm"}
    assert reckon_texts(CHECKS["roll-out"], texts).verdict is Verdict.MEASURE_FIRST
