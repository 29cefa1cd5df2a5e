"""Chain growth, from measurements and from a pivot."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from builder.checks.chain_growth import single_pivot_path
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import InputError, Verdict


@settings(max_examples=60, deadline=None)
@given(
    chainstay=st.floats(380, 480),
    above=st.floats(-60, 60),
    ahead=st.floats(-150, 100),
    up=st.floats(-50, 200),
    travel=st.floats(20, 220),
)
def test_longest_axle_distance_agrees_with_a_search_over_the_travel(chainstay, above, ahead, up, travel):
    try:
        path = single_pivot_path(chainstay, above, ahead, up, travel)
    except InputError:
        assume(False)
    behind = math.sqrt(chainstay**2 - above**2)
    arm = math.hypot(behind + ahead, above - up)

    def distance(rise):
        height = above + rise
        reach = math.sqrt(max(0.0, arm**2 - (height - up) ** 2))
        return math.hypot(reach - ahead, height)

    found = minimize_scalar(lambda rise: -distance(rise), bounds=(0, travel), method="bounded", options={"xatol": 1e-9})
    longest = max(distance(0.0), distance(travel), distance(found.x))
    assert path.longest_mm == pytest.approx(longest, rel=1e-7)
    assert path.compressed_mm == pytest.approx(distance(travel), rel=1e-9)
    assert -1e-9 <= path.travel_at_longest_mm <= travel + 1e-9


@given(chainstay=st.floats(380, 480), travel=st.floats(20, 220))
def test_an_arm_about_the_bottom_bracket_does_not_grow(chainstay, travel):
    path = single_pivot_path(chainstay, 0.0, 0.0, 0.0, travel)
    assert path.longest_mm == pytest.approx(chainstay, rel=1e-12)


@given(up=st.floats(10, 150))
def test_a_higher_pivot_grows_more(up):
    lower = single_pivot_path(435, 10, 20, up, 140)
    higher = single_pivot_path(435, 10, 20, up + 10, 140)
    assert higher.longest_mm > lower.longest_mm


def test_an_arm_that_cannot_rise_so_far_is_refused():
    with pytest.raises(InputError, match="cannot rise"):
        single_pivot_path(250, 0, -150, 0, 200)


def test_the_middle_of_the_travel_counts():
    result = reckon_texts(CHECKS["chain-growth"], {"chainstay": "435 mm", "compressed": "440 mm", "middle": "446 mm"})
    assert result.value == pytest.approx(11)
    assert result.verdict is Verdict.WITH_CARE


def test_no_growth_fits():
    result = reckon_texts(CHECKS["chain-growth"], {"chainstay": "435 mm", "compressed": "430 mm"})
    assert result.value == 0
    assert result.verdict is Verdict.FITS
