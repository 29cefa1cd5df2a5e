"""Steps, range and upgrade."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.checks.gear_range import gear_set, steps_percent
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict

RINGS = st.lists(st.integers(22, 56), min_size=1, max_size=3)
SPROCKETS = st.lists(st.integers(9, 52), min_size=2, max_size=12, unique=True)


@given(sprockets=SPROCKETS)
def test_the_steps_multiply_to_the_whole_range(sprockets):
    product = math.prod(1 + step / 100 for step in steps_percent(sprockets))
    assert product == pytest.approx(max(sprockets) / min(sprockets))


@given(rings=RINGS, sprockets=SPROCKETS)
def test_range_is_at_least_one_and_ratios_rise(rings, sprockets):
    gears = gear_set(rings, sprockets)
    assert gears.range_percent >= 100
    assert list(gears.ratios) == sorted(gears.ratios)
    assert gears.lowest == min(rings) / max(sprockets)
    assert gears.highest == max(rings) / min(sprockets)


@given(ring=st.integers(22, 56), sprockets=SPROCKETS)
def test_one_ring_has_no_overlap(ring, sprockets):
    assert gear_set([ring], sprockets).overlapping == 0


def test_two_rings_share_gears():
    assert gear_set([48, 32], [12, 16, 24]).overlapping == 1


def test_a_large_step_asks_for_care():
    assert reckon_texts(CHECKS["gear-steps"], {"sprockets": "11,13,18"}).verdict is Verdict.WITH_CARE


def test_a_single_sprocket_has_no_step():
    assert reckon_texts(CHECKS["gear-steps"], {"sprockets": "17"}).value == 0


@pytest.mark.parametrize(
    ("new", "verdict"),
    [("11,46", Verdict.FITS), ("13,46", Verdict.WITH_CARE), ("11,36", Verdict.DOES_NOT_FIT)],
)
def test_an_upgrade_must_make_the_lowest_gear_easier(new, verdict):
    texts = {"rings": "32", "sprockets": "11,36", "new-sprockets": new}
    assert reckon_texts(CHECKS["gear-upgrade"], texts).verdict is verdict


@given(rings=RINGS, sprockets=SPROCKETS)
def test_no_change_changes_nothing(rings, sprockets):
    texts = {"rings": ",".join(map(str, rings)), "sprockets": ",".join(map(str, sprockets))}
    result = reckon_texts(CHECKS["gear-upgrade"], texts)
    assert result.value == 0
    assert result.named("highest-change") == 0
