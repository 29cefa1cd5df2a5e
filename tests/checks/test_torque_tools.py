"""Torque tools: adaptors, levers, ranges, deviations, heads and units of torque."""

import math

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.heads import Drive, head_fit, read_drive
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import InputError, Verdict
from builder.checks.torque_tools import (
    COMFORTABLE_N,
    HARDLY_FELT_N,
    TOO_MUCH_N,
    adaptor_setting,
    adaptor_setting_nm,
    lever_force,
    lever_force_n,
    torque_units,
)
from builder.checks.wrenches import permitted_deviation, torque_band, torque_band_nm, wrench_range
from builder.model.units import Range, Unit, factor_to
from tests.published import published

UNITS = pint.UnitRegistry()
TORQUES, WRENCHES, ADAPTORS = st.floats(0.5, 300), st.floats(100, 1000), st.floats(0, 200)


# --- adaptors ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "case",
    [
        *published("torque_tools/adaptor-naval-course"),
        *published("torque_tools/adaptor-army-manual"),
        *published("torque_tools/adaptor-pointing-back"),
        *published("torque_tools/adaptor-light-aircraft"),
    ],
)
def test_adaptor_setting_meets_the_manual(case):
    result = reckon_texts(CHECKS["adaptor-setting"], {name: str(text) for name, text in case.inputs.items()})
    assert result.value / factor_to(case.entry.unit, Unit.NEWTON_METRE) == case.wanted()


@settings(max_examples=60, deadline=None)
@given(torque=TORQUES, wrench=WRENCHES, adaptor=ADAPTORS, angle=st.floats(0, 120))
def test_adaptor_setting_is_the_moment_of_a_hand_force_about_the_fastener(torque, wrench, adaptor, angle):
    hand, drive = np.array([-wrench, 0.0, 0.0]), np.zeros(3)
    turned = math.radians(angle)
    fastener = adaptor * np.array([math.cos(turned), math.sin(turned), 0.0])
    unit_force = np.array([0.0, -1.0, 0.0])
    at_drive = np.cross(hand - drive, unit_force)[2]
    at_fastener = np.cross(hand - fastener, unit_force)[2]
    assert adaptor_setting_nm(torque, wrench, adaptor, angle) == pytest.approx(
        torque * at_drive / at_fastener, rel=1e-9
    )


def test_without_an_adaptor_the_setting_is_the_torque():
    assert adaptor_setting_nm(40, 350, 0) == 40


@settings(max_examples=40, deadline=None)
@given(torque=TORQUES, wrench=WRENCHES, adaptor=ADAPTORS)
def test_square_to_the_wrench_the_setting_is_the_torque(torque, wrench, adaptor):
    assert adaptor_setting_nm(torque, wrench, adaptor, 90) == pytest.approx(torque)


@settings(max_examples=40, deadline=None)
@given(torque=TORQUES, wrench=WRENCHES, adaptor=st.floats(1, 90), angle=st.floats(0, 170))
def test_the_farther_an_adaptor_points_back_the_higher_the_setting(torque, wrench, adaptor, angle):
    assert adaptor_setting_nm(torque, wrench, adaptor, angle) <= adaptor_setting_nm(torque, wrench, adaptor, angle + 10)


@settings(max_examples=40, deadline=None)
@given(torque=TORQUES, adaptor=st.floats(1, 200))
def test_on_a_very_long_wrench_the_adaptor_hardly_counts(torque, adaptor):
    assert adaptor_setting_nm(torque, 1e9, adaptor) == pytest.approx(torque, rel=1e-6)


def test_a_higher_setting_asks_for_care():
    straight = adaptor_setting(torque_nm=40, wrench_mm=350, adaptor_mm=50)
    back = adaptor_setting(torque_nm=40, wrench_mm=350, adaptor_mm=50, angle_deg=180)
    assert (straight.verdict, back.verdict) == (Verdict.FITS, Verdict.WITH_CARE)
    assert straight.value == 35


def test_wrench_and_adaptor_that_are_swapped_are_refused():
    with pytest.raises(InputError, match="swapped"):
        adaptor_setting(torque_nm=40, wrench_mm=50, adaptor_mm=350)


def test_an_adaptor_that_reaches_the_hand_is_refused():
    with pytest.raises(InputError, match="points back"):
        adaptor_setting_nm(40, 350, 340, 180)


# --- levers and units ----------------------------------------------------------------------------


@settings(max_examples=40, deadline=None)
@given(torque=TORQUES, lever=st.floats(20, 2000))
def test_lever_force_and_torque_units_agree_with_a_unit_library(torque, lever):
    moment = torque * UNITS.newton * UNITS.metre
    force = (moment / (lever * UNITS.millimetre)).to("newton")
    assert lever_force_n(torque, lever) == pytest.approx(force.magnitude, rel=1e-9)
    units = torque_units(torque)
    for name, unit in (
        ("inch-pounds", "inch * force_pound"),
        ("foot-pounds", "foot * force_pound"),
        ("kilogram-force-centimetres", "centimetre * force_kilogram"),
    ):
        assert units.named(name) == pytest.approx(moment.to(unit).magnitude, rel=1e-9)


@pytest.mark.parametrize(
    ("force", "verdict"),
    [
        (HARDLY_FELT_N - 0.1, Verdict.DOES_NOT_FIT),
        (HARDLY_FELT_N, Verdict.WITH_CARE),
        (COMFORTABLE_N, Verdict.WITH_CARE),
        (TOO_MUCH_N, Verdict.WITH_CARE),
        (TOO_MUCH_N + 0.1, Verdict.DOES_NOT_FIT),
    ],
)
def test_lever_verdicts_turn_at_the_limits_of_a_hand(force, verdict):
    assert lever_force(torque_nm=force / 2, lever_mm=500).verdict is verdict


@settings(max_examples=40, deadline=None)
@given(torque=TORQUES, lever=st.floats(20, 2000))
def test_a_hand_is_never_as_good_as_a_torque_wrench(torque, lever):
    assert lever_force(torque_nm=torque, lever_mm=lever).verdict is not Verdict.FITS


# --- wrenches ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("torque", "wrench", "verdict", "setting"),
    [
        (Range(35, 45), Range(10, 60), Verdict.FITS, 40),
        (Range(4, 6), Range(2, 25), Verdict.FITS, 5),
        (Range(4, 5.8), Range(2, 25), Verdict.WITH_CARE, 5),
        (Range(4, 4.8), Range(2, 25), Verdict.WITH_CARE, 4.4),
        (Range(55, 75), Range(10, 60), Verdict.WITH_CARE, 60),
        (Range(61, 75), Range(10, 60), Verdict.DOES_NOT_FIT, 68),
        (Range(4, 6), Range(10, 60), Verdict.DOES_NOT_FIT, 5),
    ],
)
def test_a_wrench_is_judged_by_its_rated_range(torque, wrench, verdict, setting):
    result = wrench_range(torque.low, torque.high, wrench.low, wrench.high)
    assert result.verdict is verdict
    assert result.value == pytest.approx(setting)


@settings(max_examples=60, deadline=None)
@given(low=st.floats(0.5, 100), width=st.floats(0, 50), least=st.floats(0, 50), reach=st.floats(1, 200))
def test_whatever_is_to_be_set_lies_within_the_wrench_and_the_range(low, width, least, reach):
    torque, wrench = Range(low, low + width), Range(least, least + reach)
    result = wrench_range(torque.low, torque.high, wrench.low, wrench.high)
    if result.verdict is not Verdict.DOES_NOT_FIT:
        assert wrench.holds(result.value)
        assert torque.holds(result.value)


@pytest.mark.parametrize(("most", "percent"), [(10, 6), (10.01, 4), (2, 6), (200, 4)])
def test_small_tools_may_deviate_more(most, percent):
    assert permitted_deviation(most) == percent


@settings(max_examples=60, deadline=None)
@given(torque=TORQUES, percent=st.floats(0.1, 30))
def test_the_band_holds_the_setting_in_its_middle(torque, percent):
    band = torque_band_nm(torque, percent)
    assert band.middle == pytest.approx(torque)
    assert band.holds(torque)


@pytest.mark.parametrize(
    ("setting", "verdict"),
    [(5.0, Verdict.FITS), (4.0, Verdict.WITH_CARE), (6.0, Verdict.WITH_CARE), (6.1, Verdict.DOES_NOT_FIT)],
)
def test_the_deviation_may_carry_a_setting_out_of_the_range(setting, verdict):
    assert torque_band(set_nm=setting, wrench_high_nm=10, torque_low_nm=4, torque_high_nm=6).verdict is verdict


def test_without_a_setting_the_middle_of_the_range_is_judged():
    assert torque_band(wrench_high_nm=10, torque_low_nm=4, torque_high_nm=6) == torque_band(
        set_nm=5, wrench_high_nm=10, torque_low_nm=4, torque_high_nm=6
    )
    with pytest.raises(InputError, match="set is missing"):
        torque_band(wrench_high_nm=10)


def test_below_a_fifth_of_the_wrench_nobody_vouches_for_the_setting():
    assert torque_band(set_nm=12, wrench_high_nm=60).verdict is Verdict.FITS
    assert torque_band(set_nm=11.9, wrench_high_nm=60).verdict is Verdict.WITH_CARE


def test_a_setting_above_the_scale_is_refused():
    with pytest.raises(InputError, match="above the wrench"):
        torque_band(set_nm=61, wrench_high_nm=60)


# --- heads ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "drive"),
    [
        ("hexagon-socket 5 mm", Drive(shape="hexagon-socket", size=5)),
        ("hex-5", Drive(shape="hexagon-socket", size=5)),
        ("hex-2-5", Drive(shape="hexagon-socket", size=2.5)),
        ("Hexagon-socket 2,5 mm", Drive(shape="hexagon-socket", size=2.5)),
        ("nut-15", Drive(shape="hexagon", size=15)),
        ("lobe-25", Drive(shape="hexalobular-socket", size=25)),
        ("cup-spline-16", Drive(shape="cup-spline", size=16)),
        ("lockring-splines", Drive(shape="lockring-splines")),
    ],
)
def test_a_head_is_read_as_it_is_written(written, drive):
    assert read_drive(written) == drive


@pytest.mark.parametrize("written", ["hexagon-socket", "5 mm", "hexagon 900 mm", "hexagon 1/0 in", "%"])
def test_a_head_that_makes_no_sense_is_refused(written):
    with pytest.raises(InputError):
        read_drive(written)


@settings(max_examples=60, deadline=None)
@given(size=st.floats(1.5, 40), more=st.floats(0.2, 5))
def test_a_bit_goes_in_and_a_spanner_goes_over(size, more):
    for head, shape in (("hexagon-socket", "hexagon-socket"), ("hexagon", "hexagon")):
        for other in (size + more, max(size - more, 1.0)):
            assert head_fit(f"{head} {size:.4f} mm", f"{shape} {other:.4f} mm").verdict is Verdict.DOES_NOT_FIT
        assert head_fit(f"{head} {size:.4f} mm", f"{shape} {size:.4f} mm").verdict is Verdict.FITS


def test_the_natural_name_of_the_right_bit_is_taken():
    assert head_fit("hexagon-socket 5 mm", "hexagon 5 mm").verdict is Verdict.FITS
    assert head_fit("hexagon-socket 5 mm", "hexagon 4 mm").verdict is Verdict.DOES_NOT_FIT
    assert head_fit("hexagon 10 mm", "hexagon-socket 10 mm").verdict is Verdict.DOES_NOT_FIT
