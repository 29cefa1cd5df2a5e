"""The road power model, the speed and the slope that follow from it, and the air."""

import math

import pint
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp
from scipy.optimize import brentq

from builder.checks import hills
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import InputError, Verdict
from builder.checks.road_power import (
    STANDARD_GRAVITY,
    Road,
    air_density_kgm3,
    bearing_power_w,
    kinetic_power_w,
    road_power,
    steady_speed_mps,
    steepest_gradient,
)
from builder.checks.solving import root_between
from tests.published import published

UNITS = pint.UnitRegistry()
ROADS = st.builds(
    Road,
    mass_kg=st.floats(40, 200),
    gradient=st.floats(-0.05, 0.25),
    headwind_mps=st.floats(-8, 12),
    cda_m2=st.floats(0.15, 0.8),
    crr=st.floats(0.002, 0.03),
    density_kgm3=st.floats(0.8, 1.4),
    efficiency=st.floats(0.8, 1.0),
)
CLIMB = {"power": "180 W", "mass": "95 kg", "gradient": "9 %", "ring": "32", "sprocket": "40", "circumference": "2.2 m"}


# --- published ---


@pytest.mark.parametrize("case", published("hills/martin-example"))
def test_the_papers_ride_comes_out_part_by_part(case):
    ride = case.inputs
    speed = ride["distance_m"] / ride["time_s"]
    road = Road(
        mass_kg=ride["mass_kg"],
        gradient=ride["gradient"],
        headwind_mps=ride["wind_mps"] * math.cos(math.radians(ride["wind_from_deg"] - ride["course_deg"])),
        cda_m2=ride["cda_m2"],
        crr=ride["crr"],
        density_kgm3=ride["density"],
        efficiency=ride["efficiency"],
        wheel_drag_m2=ride["wheel_drag_m2"],
        gravity_mps2=ride["gravity"],
    )
    kinetic = kinetic_power_w(
        ride["mass_kg"],
        ride["from_mps"],
        ride["to_mps"],
        ride["time_s"],
        inertia_kgm2=ride["inertia"],
        radius_m=ride["radius_m"],
    )
    power = road_power(road, speed, kinetic_w=kinetic)
    assert power.aerodynamic_w == case.wanted("aerodynamic")
    assert power.rolling_w == case.wanted("rolling")
    assert power.bearing_w == case.wanted("bearing")
    assert power.gravity_w == case.wanted("gravity")
    assert power.kinetic_w == case.wanted("kinetic")
    assert power.net_w == case.wanted("net")
    assert power.total_w == case.wanted("total")


@pytest.mark.parametrize("case", published("hills/martin-bearings"))
def test_bearing_loss_meets_the_papers_equation(case):
    assert bearing_power_w(case.inputs["speed_mps"]) == case.wanted()


@pytest.mark.parametrize("case", published("hills/climb-mechanics"))
def test_climbing_power_meets_plain_mechanics(case):
    climb = case.inputs
    road = Road(
        mass_kg=climb["mass_kg"],
        gradient=climb["gradient"],
        cda_m2=climb["cda_m2"],
        crr=climb["crr"],
        density_kgm3=climb["density"],
        efficiency=climb["efficiency"],
        wheel_drag_m2=0.0,
    )
    power = road_power(road, climb["speed_mps"])
    assert (power.net_w - power.bearing_w) / climb["efficiency"] == case.wanted()


@pytest.mark.parametrize("case", published("hills/model-error"))
def test_close_results_are_judged_by_the_published_error_of_the_model(case):
    share_percent = 100 * hills.MODEL_SHARE
    assert share_percent == case.wanted()


# --- by another way ---


@settings(deadline=None)
@given(road=ROADS, power=st.floats(20, 1500))
def test_steady_speed_agrees_with_a_library_root_finder(road, power):
    speed = brentq(lambda v: road_power(road, v).total_w - power, 0.0, 200.0, xtol=1e-12, rtol=1e-14)
    assert steady_speed_mps(road, power) == pytest.approx(speed, rel=1e-9)


@settings(deadline=None)
@given(road=ROADS, power=st.floats(20, 1500), speed=st.floats(0.5, 12))
def test_steepest_gradient_agrees_with_a_library_root_finder(road, power, speed):
    def surplus(gradient):
        return road_power(_with_gradient(road, gradient), speed).total_w - power

    assume(surplus(-3.0) < 0 < surplus(3.0))
    gradient = brentq(surplus, -3.0, 3.0, xtol=1e-13, rtol=1e-14)
    assert steepest_gradient(road, power, speed) == pytest.approx(gradient, rel=1e-7, abs=1e-9)


def _with_gradient(road, gradient):
    return Road(
        mass_kg=road.mass_kg,
        gradient=gradient,
        headwind_mps=road.headwind_mps,
        cda_m2=road.cda_m2,
        crr=road.crr,
        density_kgm3=road.density_kgm3,
        efficiency=road.efficiency,
    )


@settings(max_examples=30, deadline=None)
@given(road=ROADS, power=st.floats(50, 400))
def test_a_bike_left_to_itself_settles_at_the_steady_speed(road, power):
    """Newton's second law, integrated: pedalled with one power, the bike ends at the speed that the solver gives."""
    steady = steady_speed_mps(road, power)

    def acceleration(_, state):
        speed = max(state[0], 1e-6)
        return [(power * road.efficiency - road_power(road, speed).net_w) / speed / road.mass_kg]

    run = solve_ivp(acceleration, (0, 4000), [steady * 1.3], method="LSODA", rtol=1e-8, atol=1e-10)
    assert run.y[0, -1] == pytest.approx(steady, rel=1e-3)


@settings(max_examples=40, deadline=None)
@given(mass=st.floats(40, 200), low=st.floats(0, 12), high=st.floats(0, 12), time=st.floats(1, 600))
def test_change_of_speed_agrees_with_the_integral_of_force_over_distance(mass, low, high, time):
    rate = (high - low) / time

    def power(t):
        return mass * rate * (low + rate * t)

    work = quad(power, 0, time)[0]
    assert kinetic_power_w(mass, low, high, time, inertia_kgm2=0.0) == pytest.approx(work / time, rel=1e-9, abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(height=st.floats(0, 5000))
def test_air_density_agrees_with_the_barometric_equation_integrated(height):
    radius, gas = 6356766.0, 287.05287

    def fall(h, pressure):
        gravity = STANDARD_GRAVITY * (radius / (radius + h)) ** 2
        kelvin = 288.15 - 0.0065 * radius * h / (radius + h)
        return -pressure * gravity / (gas * kelvin)

    run = solve_ivp(fall, (0, height), [101325.0], rtol=1e-11, atol=1e-6)
    kelvin = 288.15 - 0.0065 * radius * height / (radius + height)
    assert air_density_kgm3(height) == pytest.approx(run.y[0, -1] / gas / kelvin, rel=1e-7)


@given(root=st.floats(-50, 50), slope=st.floats(0.1, 10))
def test_the_solver_finds_a_root_to_the_last_bits(root, slope):
    found = root_between(lambda x: slope * (x - root) + (x - root) ** 3, -100.0, 100.0)
    assert found == pytest.approx(root, rel=1e-13, abs=1e-13)


def test_the_solver_refuses_where_there_is_no_change_of_sign():
    with pytest.raises(ValueError, match="no change of sign"):
        root_between(lambda x: x * x + 1, -1.0, 1.0)


@settings(max_examples=30, deadline=None)
@given(road=ROADS, speed=st.floats(1, 20))
def test_every_part_is_a_power_when_a_unit_library_works_it_out(road, speed):
    """The same sum with units on every number, so that a slip of a dimension can't hide."""
    mass, rho = road.mass_kg * UNITS.kg, road.density_kgm3 * UNITS.kg / UNITS.m**3
    v, air = speed * UNITS.m / UNITS.s, (speed + road.headwind_mps) * UNITS.m / UNITS.s
    area = (road.cda_m2 + road.wheel_drag_m2) * UNITS.m**2
    weight = mass * STANDARD_GRAVITY * UNITS.m / UNITS.s**2
    angle = math.atan(road.gradient)
    power = road_power(road, speed)
    for ours, theirs in (
        (power.aerodynamic_w, rho * area * air * abs(air) * v / 2),
        (power.rolling_w, road.crr * weight * math.cos(angle) * v),
        (power.gravity_w, weight * math.sin(angle) * v),
    ):
        assert ours == pytest.approx(theirs.to("W").magnitude, rel=1e-9, abs=1e-9)


# --- directions and limits ---


@given(road=ROADS, speed=st.floats(0.5, 20))
def test_the_parts_add_up(road, speed):
    power = road_power(road, speed)
    parts = power.aerodynamic_w + power.rolling_w + power.bearing_w + power.gravity_w + power.kinetic_w
    assert power.net_w == pytest.approx(parts)
    if power.net_w > 0:
        assert power.total_w == pytest.approx(power.net_w / road.efficiency)
    else:
        assert power.total_w == power.net_w


@given(road=ROADS, speed=st.floats(0.5, 20), more=st.floats(0.001, 0.1))
def test_a_steeper_road_takes_more_power(road, speed, more):
    assume(road.gradient > 0)
    steeper = _with_gradient(road, road.gradient + more)
    assert road_power(steeper, speed).gravity_w > road_power(road, speed).gravity_w


@given(road=ROADS, power=st.floats(20, 1500), more=st.floats(1, 500))
def test_more_power_is_faster(road, power, more):
    assert steady_speed_mps(road, power + more) > steady_speed_mps(road, power)


@given(road=ROADS, speed=st.floats(1, 15))
def test_a_tail_wind_faster_than_the_bike_pushes(road, speed):
    pushed = Road(mass_kg=road.mass_kg, gradient=road.gradient, headwind_mps=-speed - 2)
    assert road_power(pushed, speed).aerodynamic_w < 0


def test_in_calm_air_the_airs_part_grows_with_the_cube_of_the_speed():
    road = Road(mass_kg=80, gradient=0)
    assert road_power(road, 10).aerodynamic_w == pytest.approx(8 * road_power(road, 5).aerodynamic_w)


# --- what the mechanic reads ---


def test_cadence_and_power_belong_to_one_another():
    cadence = reckon_texts(CHECKS["hill-cadence"], CLIMB)
    speed = f"{cadence.named('speed')!r} km/h"
    power = reckon_texts(CHECKS["hill-power"], {"mass": "95 kg", "gradient": "9 %", "speed": speed})
    assert power.value == pytest.approx(180, rel=1e-6)


def test_cadence_and_steepest_gradient_belong_to_one_another():
    cadence = reckon_texts(CHECKS["hill-cadence"], CLIMB)
    texts = {**CLIMB, "cadence": f"{cadence.value!r} rev/min"}
    steepest = reckon_texts(CHECKS["steepest-gradient"], texts)
    assert steepest.value == pytest.approx(9, rel=1e-6)


@pytest.mark.parametrize(
    ("sprocket", "verdict"), [("34", Verdict.DOES_NOT_FIT), ("38", Verdict.WITH_CARE), ("42", Verdict.FITS)]
)
def test_a_larger_sprocket_turns_the_verdict(sprocket, verdict):
    assert reckon_texts(CHECKS["hill-cadence"], {**CLIMB, "sprocket": sprocket}).verdict is verdict


def test_downhill_the_bike_rolls_by_itself():
    result = reckon_texts(CHECKS["hill-power"], {"mass": "90 kg", "gradient": "-6 %", "speed": "20 km/h"})
    assert result.value < 0
    assert result.verdict is Verdict.WITH_CARE


def test_a_change_of_speed_needs_all_three_of_its_inputs():
    texts = {"mass": "90 kg", "gradient": "0 %", "speed": "20 km/h", "from-speed": "10 km/h"}
    with pytest.raises(InputError, match="belong together"):
        reckon_texts(CHECKS["hill-power"], texts)


def test_efficiency_may_be_written_in_per_cent():
    texts = {"mass": "90 kg", "gradient": "5 %", "speed": "12 km/h"}
    one = reckon_texts(CHECKS["hill-power"], {**texts, "efficiency": "0.95"})
    other = reckon_texts(CHECKS["hill-power"], {**texts, "efficiency": "95 %"})
    assert one.value == pytest.approx(other.value)


def test_a_runaway_descent_is_refused():
    with pytest.raises(InputError, match="km/h"):
        reckon_texts(CHECKS["hill-cadence"], {**CLIMB, "gradient": "-35 %", "cda": "0 m²"})


def test_where_no_slope_is_too_steep_there_is_no_value():
    texts = {**CLIMB, "power": "2000 W", "mass": "50 kg", "ring": "20", "sprocket": "52", "cadence": "30 rev/min"}
    result = reckon_texts(CHECKS["steepest-gradient"], {**texts, "gradient": "20 %"})
    assert result.value is None
    assert result.verdict is Verdict.FITS
