"""Sprockets: pitch circles, the stack on the freehub body, the chain line."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from builder.checks.chain_geometry import PITCH_MM, pitch_diameter_mm
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict
from builder.checks.sprockets import chain_angle_deg, sprocket_spacer_mm
from tests.published import published


@pytest.mark.parametrize("case", published("chain/pitch-diameter-25.4"))
def test_pitch_diameter_meets_the_printed_table(case):
    assert pitch_diameter_mm(case.inputs["teeth"], case.inputs["pitch_mm"]) == case.wanted()


@pytest.mark.parametrize("case", published("chain/pitch-diameter-bhandari"))
def test_pitch_diameter_meets_the_textbook_example(case):
    assert pitch_diameter_mm(case.inputs["teeth"], case.inputs["pitch_mm"]) == case.wanted()


@pytest.mark.parametrize("case", published("chain/pitch-diameter-mott"))
def test_pitch_diameter_meets_the_textbook_example_in_inches(case):
    assert pitch_diameter_mm(case.inputs["teeth"], case.inputs["pitch_mm"]) / 25.4 == case.wanted()


@pytest.mark.parametrize("case", published("chain/pitch"))
def test_the_pitch_is_that_of_a_bicycle_chain(case):
    assert case.wanted() == PITCH_MM


@pytest.mark.parametrize("case", published("chain/roller-081"))
def test_the_root_diameter_takes_the_standard_roller_off(case):
    result = reckon_texts(CHECKS["sprocket-diameter"], {"teeth": "20"})
    assert result.value - result.named("root-diameter") == case.wanted()


@given(teeth=st.integers(6, 150))
def test_pitch_circle_is_the_one_on_which_the_chords_close(teeth):
    def gap(diameter):
        return 2 * teeth * math.asin(min(1.0, PITCH_MM / diameter)) - 2 * math.pi

    diameter = brentq(gap, PITCH_MM, 100 * PITCH_MM, xtol=1e-11, rtol=1e-14)
    assert pitch_diameter_mm(teeth) == pytest.approx(diameter, rel=1e-10)


@given(teeth=st.integers(6, 149))
def test_one_tooth_more_makes_a_larger_circle_by_about_a_pitch_over_pi(teeth):
    step = pitch_diameter_mm(teeth + 1) - pitch_diameter_mm(teeth)
    assert step > 0
    assert step == pytest.approx(PITCH_MM / math.pi, rel=0.06)


def test_a_narrow_stack_asks_for_a_spacer():
    result = reckon_texts(CHECKS["sprocket-stack"], {"body": "36.8 mm", "stack": "35 mm"})
    assert result.verdict is Verdict.DOES_NOT_FIT
    assert result.named("spacer-wanted") == pytest.approx(1.8)


def test_the_spacer_makes_it_fit():
    result = reckon_texts(CHECKS["sprocket-stack"], {"body": "36.8 mm", "stack": "35.4 mm", "spacers": "1.85 mm"})
    assert result.verdict is Verdict.FITS


def test_a_stack_that_stands_far_out_asks_for_care():
    result = reckon_texts(CHECKS["sprocket-stack"], {"body": "35 mm", "stack": "37.5 mm"})
    assert result.verdict is Verdict.WITH_CARE


@given(body=st.floats(15, 60), stack=st.floats(10, 60), spacers=st.floats(0, 10))
def test_body_is_filled_by_stack_spacers_and_the_spacer_wanted(body, stack, spacers):
    assert stack + spacers + sprocket_spacer_mm(body, stack, spacers) >= body - 1e-9


@given(offset=st.floats(0, 60), chainstay=st.floats(250, 900))
def test_a_longer_chainstay_straightens_the_chain(offset, chainstay):
    assert chain_angle_deg(offset, chainstay + 1) <= chain_angle_deg(offset, chainstay)


def test_a_single_speed_out_of_line_does_not_fit():
    texts = {"front": "52 mm", "rear": "42 mm", "chainstay": "430 mm", "sprockets": "1"}
    assert reckon_texts(CHECKS["chain-line"], texts).verdict is Verdict.DOES_NOT_FIT
