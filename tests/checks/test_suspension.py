"""Suspension: sag."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.result import InputError, Verdict
from builder.checks.suspension import sag_percent, shock_size, suspension_sag


@settings(max_examples=60, deadline=None)
@given(travel=st.floats(20, 250), share=st.floats(0, 1))
def test_sag_is_a_share_of_the_travel(travel, share):
    assert sag_percent(share * travel, travel) == pytest.approx(100 * share)


@pytest.mark.parametrize(
    ("sag", "verdict"),
    [
        (20, Verdict.FITS),
        (30, Verdict.FITS),
        (19.9, Verdict.WITH_CARE),
        (15, Verdict.WITH_CARE),
        (35, Verdict.WITH_CARE),
        (14.9, Verdict.DOES_NOT_FIT),
        (35.1, Verdict.DOES_NOT_FIT),
        (None, Verdict.MEASURE_FIRST),
    ],
)
def test_sag_verdicts_turn_at_the_wanted_span_and_five_beyond(sag, verdict):
    assert suspension_sag(sag_mm=sag, travel_mm=100).verdict is verdict


def test_too_much_sag_asks_for_more_pressure_and_too_little_for_less():
    assert "more pressure" in suspension_sag(sag_mm=40, travel_mm=100).advice
    assert "less pressure" in suspension_sag(sag_mm=10, travel_mm=100).advice


def test_another_span_may_be_wanted():
    assert suspension_sag(100, 33, wanted_low_percent=30, wanted_high_percent=35).verdict is Verdict.FITS
    with pytest.raises(InputError, match="wanted-low"):
        suspension_sag(100, 33, wanted_low_percent=36, wanted_high_percent=35)


def test_more_sag_than_travel_is_refused():
    with pytest.raises(InputError, match="swapped"):
        suspension_sag(sag_mm=121, travel_mm=120)


@pytest.mark.parametrize(
    ("length", "stroke", "frame", "verdict"),
    [
        (190, 45, (190, 45), Verdict.FITS),
        (191, 46, (190, 45), Verdict.FITS),
        (191.1, 45, (190, 45), Verdict.DOES_NOT_FIT),
        (190, 46.1, (190, 45), Verdict.DOES_NOT_FIT),
        (190, 40, (190, 45), Verdict.WITH_CARE),
        (190, 45, (None, 45), Verdict.MEASURE_FIRST),
        (200, 45, (190, None), Verdict.DOES_NOT_FIT),
    ],
)
def test_a_shock_has_the_length_of_the_frame_and_no_longer_stroke(length, stroke, frame, verdict):
    assert shock_size(length, stroke, *frame).verdict is verdict
