"""Wheels: hubs, axles, quick releases, spokes, tension and run-out."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from builder.checks.hubs import axle_standard, axle_thread, hub_spacing, pitch_mm
from builder.checks.quick_release import LEAST_TO_OPEN_N, MOST_TO_CLOSE_N, quick_release_force
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import find_check
from builder.checks.result import InputError, Verdict
from builder.checks.spokes import spoke_length, spoke_length_mm, tangent_crossings
from builder.checks.wheels import (
    GOOD_SPREAD,
    WORST_SPREAD,
    spoke_count,
    spoke_tension_spread,
    spread_percent,
    wheel_runout,
)
from builder.model.facts import Axle, BrakeKind, Fitted

RIMS, FLANGES, OFFSETS = st.floats(250, 700), st.floats(25, 120), st.floats(0, 60)
SPOKES = st.integers(6, 24).map(lambda half: 2 * half)


# --- spokes --------------------------------------------------------------------------------------


@settings(max_examples=80, deadline=None)
@given(rim=RIMS, flange=FLANGES, offset=OFFSETS, spokes=SPOKES, crossings=st.integers(0, 4), turn=st.floats(0, 360))
def test_spoke_length_is_the_distance_of_two_points_in_space(rim, flange, offset, spokes, crossings, turn):
    start = math.radians(turn)
    # Holes of one flange are 720 / n degrees apart; a crossing moves the spoke's other end by one of them.
    end = start + crossings * math.radians(720 / spokes)
    hole = np.array([flange / 2 * math.cos(start), flange / 2 * math.sin(start), offset])
    nipple = np.array([rim / 2 * math.cos(end), rim / 2 * math.sin(end), 0.0])
    distance = float(np.linalg.norm(hole - nipple))
    assert spoke_length_mm(rim, flange, offset, spokes, crossings, 2.6) == pytest.approx(distance - 1.3, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(rim=RIMS, flange=FLANGES, offset=OFFSETS, spokes=SPOKES, crossings=st.integers(0, 2))
def test_more_crossings_and_a_larger_rim_take_longer_spokes(rim, flange, offset, spokes, crossings):
    assume(720 * (crossings + 1) / spokes <= 120)
    length = spoke_length_mm(rim, flange, offset, spokes, crossings)
    assert spoke_length_mm(rim, flange, offset, spokes, crossings + 1) > length
    assert spoke_length_mm(rim + 10, flange, offset, spokes, crossings) > length


@settings(max_examples=40, deadline=None)
@given(rim=RIMS, flange=FLANGES, spokes=SPOKES)
def test_a_radial_spoke_in_the_plane_of_the_rim_is_the_difference_of_the_radii(rim, flange, spokes):
    assert spoke_length_mm(rim, flange, 0, spokes, 0, 0) == pytest.approx((rim - flange) / 2)


@settings(max_examples=40, deadline=None)
@given(rim=RIMS, flange=FLANGES, spokes=SPOKES)
def test_at_the_tangent_the_spoke_stands_square_on_the_flange(rim, flange, spokes):
    assume(flange < rim / 2)
    crossings = tangent_crossings(rim, flange, spokes)
    angle = math.radians(720 * crossings / spokes)
    square = (rim / 2) ** 2 + (flange / 2) ** 2 - 2 * rim / 2 * flange / 2 * math.cos(angle)
    assert square + (flange / 2) ** 2 == pytest.approx((rim / 2) ** 2)  # Pythagoras


def test_past_the_tangent_asks_for_care():
    wheel = {"rim_diameter_mm": 600.0, "flange_diameter_mm": 45.0, "flange_offset_mm": 35.0, "spokes": 32}
    verdicts = [spoke_length(**wheel, crossings=crossings).verdict for crossings in (3, 4, 5)]
    assert verdicts == [Verdict.FITS, Verdict.FITS, Verdict.WITH_CARE]


@pytest.mark.parametrize(
    ("wrong", "says"),
    [({"spokes": 31}, "odd"), ({"crossings": 6}, "can't be laced"), ({"flange_diameter_mm": 300.0}, "swapped")],
)
def test_a_wheel_that_can_not_be_laced_is_refused(wrong, says):
    wheel = {
        "rim_diameter_mm": 600.0,
        "flange_diameter_mm": 45.0,
        "flange_offset_mm": 35.0,
        "spokes": 32,
        "crossings": 3,
    }
    with pytest.raises(InputError, match=says):
        spoke_length(**{**wheel, **wrong})


# --- tension and run-out -------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(tensions=st.lists(st.integers(50, 3000), min_size=4, max_size=20))
def test_tension_spread_agrees_with_a_numerical_library(tensions):
    values = np.array(tensions, dtype=float)
    expected = 100 * float(np.abs(values - values.mean()).max() / values.mean())
    assert spread_percent(tuple(tensions)) == pytest.approx(expected, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(tensions=st.lists(st.integers(50, 3000), min_size=4, max_size=20), factor=st.integers(2, 5))
def test_spread_does_not_hang_on_the_unit_of_the_gauge(tensions, factor):
    scaled = tuple(tension * factor for tension in tensions)
    assert spread_percent(scaled) == pytest.approx(spread_percent(tuple(tensions)))


def test_equal_tension_has_no_spread():
    assert spoke_tension_spread((1000,) * 8).value == 0


@pytest.mark.parametrize(
    ("apart", "verdict"),
    [(100, Verdict.FITS), (101, Verdict.WITH_CARE), (200, Verdict.WITH_CARE), (201, Verdict.DOES_NOT_FIT)],
)
def test_tension_verdicts_turn_at_ten_and_twenty_per_cent(apart, verdict):
    assert (GOOD_SPREAD, WORST_SPREAD) == (10, 20)
    assert spoke_tension_spread((1000, 1000, 1000 + apart, 1000 - apart)).verdict is verdict


def test_too_few_spokes_are_refused():
    with pytest.raises(InputError, match="too few"):
        spoke_tension_spread((1000, 1000))


@pytest.mark.parametrize(
    ("lateral", "radial", "brake", "use", "verdict"),
    [
        (0.5, 0.5, "rim", "other", Verdict.FITS),
        (0.51, 0.0, "rim", "other", Verdict.WITH_CARE),
        (0.8, 0.8, "rim", "other", Verdict.WITH_CARE),
        (0.81, 0.0, "rim", "other", Verdict.DOES_NOT_FIT),
        (0.6, 0.6, "rim", "racing", Verdict.WITH_CARE),
        (0.61, 0.0, "rim", "racing", Verdict.DOES_NOT_FIT),
        (0.0, 1.5, "disc", "other", Verdict.WITH_CARE),
        (2.01, 0.0, "hub", "other", Verdict.DOES_NOT_FIT),
        (None, 0.2, "rim", "other", Verdict.MEASURE_FIRST),
        (0.2, None, "rim", "other", Verdict.MEASURE_FIRST),
        (6.0, None, "rim", "other", Verdict.DOES_NOT_FIT),
        (None, 6.0, "disc", "other", Verdict.DOES_NOT_FIT),
    ],
)
def test_run_out_verdicts_turn_at_the_limits_and_one_failed_reading_fails(lateral, radial, brake, use, verdict):
    assert wheel_runout(lateral_mm=lateral, radial_mm=radial, brake=brake, use=use).verdict is verdict


@pytest.mark.parametrize(
    ("tension", "rim_most", "verdict"),
    [
        (100.0, None, Verdict.WITH_CARE),
        (799.0, None, Verdict.WITH_CARE),
        (800.0, None, Verdict.FITS),
        (1200.0, None, Verdict.FITS),
        (1201.0, None, Verdict.WITH_CARE),
        (1250.0, 1300.0, Verdict.FITS),
        (1301.0, 1300.0, Verdict.DOES_NOT_FIT),
        (1300.0, None, Verdict.WITH_CARE),
        (2800.0, None, Verdict.DOES_NOT_FIT),
    ],
)
def test_even_spokes_are_judged_by_their_level_too(tension, rim_most, verdict):
    assert spoke_tension_spread((tension,) * 4, rim_most).verdict is verdict


def test_an_ordinary_wheel_is_read_whole():
    texts = {"tensions": ", ".join(["1000 N"] * 24)}
    assert reckon_texts(find_check("spoke-tension-spread"), texts).verdict is Verdict.FITS


def test_rim_and_hub_have_as_many_holes():
    assert spoke_count(32, 32).verdict is Verdict.FITS
    assert spoke_count(32, 36).verdict is Verdict.DOES_NOT_FIT


@pytest.mark.parametrize(
    ("brake", "radial", "verdict"),
    [
        (BrakeKind.DISC, Fitted.FITTED, Verdict.DOES_NOT_FIT),
        (BrakeKind.DRUM, None, Verdict.DOES_NOT_FIT),
        (BrakeKind.RIM, Fitted.FITTED, Verdict.FITS),
        (BrakeKind.RIM, Fitted.NONE, Verdict.DOES_NOT_FIT),
        (None, None, Verdict.MEASURE_FIRST),
    ],
)
def test_radial_spokes_stand_at_no_hub_brake_and_only_where_the_maker_allows_them(brake, radial, verdict):
    result = spoke_length(
        rim_diameter_mm=600,
        flange_diameter_mm=45,
        flange_offset_mm=35,
        spokes=32,
        crossings=0,
        brake=brake,
        radial=radial,
    )
    assert result.verdict is verdict


# --- hubs ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("frame", "axle", "material", "verdict"),
    [
        (134.0, Axle.QUICK_RELEASE, "other", Verdict.FITS),
        (133.9, Axle.QUICK_RELEASE, "other", Verdict.DOES_NOT_FIT),
        (132.0, Axle.QUICK_RELEASE, "steel", Verdict.WITH_CARE),
        (131.9, Axle.NUTTED, "steel", Verdict.DOES_NOT_FIT),
        (138.0, Axle.NUTTED, "steel", Verdict.WITH_CARE),
        (134.5, Axle.BOLT_THROUGH, "steel", Verdict.FITS),
        (134.0, Axle.BOLT_THROUGH, "steel", Verdict.DOES_NOT_FIT),
        (None, Axle.BOLT_THROUGH, "steel", Verdict.MEASURE_FIRST),
    ],
)
def test_spacing_verdicts_turn_at_the_limits(frame, axle, material, verdict):
    assert hub_spacing(hub_mm=135.0, frame_mm=frame, axle=axle, frame_material=material).verdict is verdict


def axle(hub: Axle, frame: Axle, hub_mm: float, frame_mm: float, *pitches: float | None) -> Verdict:
    result = axle_standard(
        hub=hub,
        frame=frame,
        hub_diameter_mm=hub_mm,
        frame_diameter_mm=frame_mm,
        axle_pitch_mm=pitches[0] if pitches else None,
        frame_pitch_mm=pitches[1] if pitches else None,
    )
    return result.verdict


@pytest.mark.parametrize("hub", list(Axle))
@pytest.mark.parametrize("frame", list(Axle))
def test_a_through_axle_and_open_slots_never_go_together(hub, frame):
    mixed = (hub is Axle.BOLT_THROUGH) != (frame is Axle.BOLT_THROUGH)
    assert (axle(hub, frame, 10, 10, 1.5, 1.5) is Verdict.DOES_NOT_FIT) == mixed


def test_an_axle_of_another_kind_is_refused_before_anything_is_measured():
    kinds = {"hub": Axle.QUICK_RELEASE, "frame": Axle.BOLT_THROUGH}
    unknown = {"hub_diameter_mm": None, "frame_diameter_mm": None, "axle_pitch_mm": None, "frame_pitch_mm": None}
    assert axle_standard(**kinds, **unknown).verdict is Verdict.DOES_NOT_FIT
    assert axle_standard(**{**kinds, "frame": Axle.NUTTED}, **unknown).verdict is Verdict.MEASURE_FIRST


@pytest.mark.parametrize(
    ("axle_written", "frame_written", "lengths", "verdict"),
    [
        ("M12x1.5", "M12x1.5", (172.0, 172.0), Verdict.FITS),
        ("M12x1.5", "M12x1.5", (172.0, 173.0), Verdict.FITS),
        ("M12x1.5", "M12x1.5", (172.0, 173.1), Verdict.DOES_NOT_FIT),
        ("M12x1.5", "M12", (172.0, None), Verdict.DOES_NOT_FIT),
        ("M12x1.5", None, (172.0, 172.0), Verdict.MEASURE_FIRST),
        ("M12x1.5", "M12x1.5", (None, 172.0), Verdict.MEASURE_FIRST),
    ],
)
def test_thread_and_length_of_a_through_axle_are_the_frames(axle_written, frame_written, lengths, verdict):
    assert axle_thread(axle_written, frame_written, *lengths).verdict is verdict


def test_the_pitch_is_read_from_the_thread():
    assert pitch_mm("M12x1.5") == 1.5
    assert pitch_mm("some other thread") is None


def test_a_through_axle_of_another_pitch_is_refused_and_an_unknown_one_is_measured():
    through = Axle.BOLT_THROUGH
    assert axle(through, through, 12, 12, 1.5, 1.75) is Verdict.DOES_NOT_FIT
    assert axle(through, through, 12, 12, 1.5, None) is Verdict.MEASURE_FIRST
    assert axle(through, through, 12, 12, 1.5, 1.5) is Verdict.FITS


@pytest.mark.parametrize(
    ("axle_mm", "verdict"),
    [
        (10.2, Verdict.DOES_NOT_FIT),
        (10.0, Verdict.FITS),
        (9.5, Verdict.FITS),
        (9.0, Verdict.WITH_CARE),
        (8.7, Verdict.DOES_NOT_FIT),
    ],
)
def test_an_axle_must_sit_in_its_slot(axle_mm, verdict):
    assert axle(Axle.NUTTED, Axle.NUTTED, axle_mm, 10) is verdict


@settings(max_examples=60, deadline=None)
@given(closing=st.floats(1, 600), opening=st.floats(1, 600))
def test_a_lever_is_closed_within_the_two_limits_and_only_there(closing, opening):
    good = closing <= MOST_TO_CLOSE_N and opening >= LEAST_TO_OPEN_N
    result = quick_release_force(closing, opening)
    assert result.verdict is (Verdict.FITS if good else Verdict.DOES_NOT_FIT)


def test_a_lever_that_was_not_measured_is_measured_first():
    assert quick_release_force(None, None).verdict is Verdict.MEASURE_FIRST
    assert quick_release_force(None, 20).verdict is Verdict.DOES_NOT_FIT
    assert quick_release_force(250, None).verdict is Verdict.DOES_NOT_FIT


def test_a_lever_that_was_only_closed_is_opened_too():
    result = quick_release_force(60, None)
    assert result.verdict is Verdict.MEASURE_FIRST
    assert "pull it open" in result.advice
