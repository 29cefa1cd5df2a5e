"""Tyres: bead seat, width, pressure and room."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.result import InputError, Verdict
from builder.checks.tyre_clearance import LEAST_GAP_MM, toe_clearance, tyre_clearance
from builder.checks.tyre_pressure import Bead, highest_pressure_bar, tyre_pressure
from builder.checks.tyres import BEAD_SEATS_MM, bead_seat, tyre_rim_width

BARS = st.floats(0.5, 15)


@pytest.mark.parametrize("tyre", BEAD_SEATS_MM)
def test_only_the_same_number_fits(tyre):
    for rim in BEAD_SEATS_MM:
        verdict = bead_seat(tyre_mm=float(tyre), rim_mm=float(rim)).verdict
        assert verdict is (Verdict.FITS if rim == tyre else Verdict.DOES_NOT_FIT)


def test_a_diameter_that_is_none_is_read_again():
    result = bead_seat(tyre_mm=623.0, rim_mm=623.0)
    assert result.verdict is Verdict.MEASURE_FIRST
    assert "622" in result.advice


def test_an_unknown_rim_is_measured_first():
    assert bead_seat(tyre_mm=622.0, rim_mm=None).verdict is Verdict.MEASURE_FIRST
    assert tyre_rim_width(tyre_mm=37.0, rim_inner_mm=None).verdict is Verdict.MEASURE_FIRST


@pytest.mark.parametrize(
    ("tyre", "rim", "verdict"),
    [
        (28.0, 20.0, Verdict.FITS),
        (27.9, 20.0, Verdict.WITH_CARE),
        (44.0, 20.0, Verdict.FITS),
        (44.1, 20.0, Verdict.WITH_CARE),
        (60.0, 20.0, Verdict.WITH_CARE),
        (60.1, 20.0, Verdict.DOES_NOT_FIT),
        (22.0, 20.0, Verdict.WITH_CARE),
        (21.9, 20.0, Verdict.DOES_NOT_FIT),
        (25.0, 21.0, Verdict.WITH_CARE),
        (50.0, 17.0, Verdict.FITS),
        (25.0, 13.0, Verdict.FITS),
        (26.0, 13.0, Verdict.WITH_CARE),
    ],
)
def test_width_verdicts_turn_at_the_ends_of_the_spans(tyre, rim, verdict):
    assert tyre_rim_width(tyre_mm=tyre, rim_inner_mm=rim).verdict is verdict


@settings(max_examples=60, deadline=None)
@given(tyre=BARS, rim=st.none() | BARS, bead=st.sampled_from(list(Bead)))
def test_the_highest_pressure_is_never_above_any_limit(tyre, rim, bead):
    highest = highest_pressure_bar(tyre, rim, bead)
    limits = [tyre, *([] if rim is None else [rim]), *([5.0] if bead is Bead.HOOKLESS else [])]
    assert all(highest <= limit for limit in limits)
    assert highest in limits


@settings(max_examples=60, deadline=None)
@given(pressure=BARS, tyre=BARS, rim=st.none() | BARS)
def test_above_the_limit_never_fits_and_at_it_does(pressure, tyre, rim):
    result = tyre_pressure(pressure_bar=pressure, tyre_max_bar=tyre, rim_max_bar=rim)
    highest = highest_pressure_bar(tyre, rim, Bead.HOOKED)
    if pressure > highest + 1e-6:
        assert result.verdict is Verdict.DOES_NOT_FIT
    at_limit = tyre_pressure(pressure_bar=highest, tyre_max_bar=tyre, rim_max_bar=rim, tyre_min_bar=0.2)
    assert at_limit.verdict is (Verdict.MEASURE_FIRST if rim is None else Verdict.FITS)


def test_a_limit_is_never_rounded_up():
    result = tyre_pressure(tyre_max_bar=4.4816, rim_max_bar=6)  # 65 psi
    assert "4.48\N{NO-BREAK SPACE}bar" in result.advice
    assert "(65 psi) at most" in result.advice


def test_hardly_any_pressure_asks_for_care_where_the_tyre_states_no_least():
    assert tyre_pressure(pressure_bar=0.5, tyre_max_bar=4.4816, rim_max_bar=6).verdict is Verdict.WITH_CARE
    assert tyre_pressure(pressure_bar=0.5, tyre_max_bar=4.4816, rim_max_bar=6, tyre_min_bar=0.4).verdict is Verdict.FITS


def test_a_rim_without_hooks_takes_only_what_its_maker_lists():
    usual = tyre_rim_width(tyre_mm=40.0, rim_inner_mm=25.0, bead=Bead.HOOKLESS)
    unusual = tyre_rim_width(tyre_mm=30.0, rim_inner_mm=25.0, bead=Bead.HOOKLESS)
    assert (usual.verdict, unusual.verdict) == (Verdict.WITH_CARE, Verdict.MEASURE_FIRST)


def test_a_rim_without_hooks_always_asks_for_care():
    result = tyre_pressure(pressure_bar=3, tyre_max_bar=4, rim_max_bar=4, bead=Bead.HOOKLESS)
    assert result.verdict is Verdict.WITH_CARE
    assert "marked for it" in result.advice


def test_too_little_pressure_asks_for_care_and_a_tyre_that_wants_too_much_does_not_fit():
    assert tyre_pressure(pressure_bar=2, tyre_max_bar=6, rim_max_bar=6, tyre_min_bar=3).verdict is Verdict.WITH_CARE
    assert tyre_pressure(pressure_bar=3, tyre_max_bar=6, rim_max_bar=3, tyre_min_bar=4).verdict is Verdict.DOES_NOT_FIT
    with pytest.raises(InputError, match="tyre-min"):
        tyre_pressure(pressure_bar=3, tyre_max_bar=4, rim_max_bar=4, tyre_min_bar=5)


@settings(max_examples=60, deadline=None)
@given(tyre=st.floats(16, 100), gap=st.floats(0, 20), use=st.sampled_from(("racing", "other")))
def test_the_gap_is_what_is_left_on_each_side(tyre, gap, use):
    result = tyre_clearance(space_mm=tyre + 2 * gap, tyre_mm=tyre, use=use)
    assert result.value == pytest.approx(gap, abs=1e-9)
    assert result.margin == pytest.approx(gap - LEAST_GAP_MM, abs=1e-9)


def test_room_that_was_not_measured_is_measured_first():
    assert tyre_clearance(space_mm=None, tyre_mm=40).verdict is Verdict.MEASURE_FIRST
    assert toe_clearance(None).verdict is Verdict.MEASURE_FIRST


def test_a_held_foot_turns_the_regulation_into_a_guide():
    assert toe_clearance(80).verdict is Verdict.DOES_NOT_FIT
    assert toe_clearance(80, foot="held").verdict is Verdict.WITH_CARE


def test_a_pressure_at_which_a_tyre_folds_is_told_whatever_the_rim_bears() -> None:
    assert tyre_pressure(tyre_max_bar=4.5, pressure_bar=0.5, rim_max_bar=None).verdict is Verdict.WITH_CARE
    assert tyre_pressure(tyre_max_bar=4.5, pressure_bar=4.0, rim_max_bar=None).verdict is Verdict.MEASURE_FIRST
