"""What margin and verdict say of each other, from bolts and tools over wheels and brakes to print."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.check import Family
from builder.checks.reckoning import reckon
from builder.checks.registry import CHECKS
from builder.checks.result import InputError, Verdict
from tests.checks.strategies import good_inputs

FAMILIES = set(Family) - {Family.SPROCKETS, Family.GEARS}
CHOSEN = [check for check in CHECKS.values() if check.family in FAMILIES]


def test_every_family_is_there():
    assert {check.family for check in CHOSEN} == FAMILIES


@pytest.mark.parametrize("check", CHOSEN, ids=lambda check: check.name)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_a_negative_margin_does_not_fit_and_nothing_else_has_one(check, data):
    try:
        result = reckon(check, data.draw(good_inputs(check)))
    except InputError:
        return
    if result.margin is not None and abs(result.margin) > 1e-6:
        assert (result.margin < 0) == (result.verdict is Verdict.DOES_NOT_FIT)


@pytest.mark.parametrize("check", CHOSEN, ids=lambda check: check.name)
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_what_is_measured_first_tells_how(check, data):
    try:
        result = reckon(check, data.draw(good_inputs(check)))
    except InputError:
        return
    if result.verdict is Verdict.MEASURE_FIRST:
        verbs = ("Measure", "Read", "Count", "Look up", "Mark", "Turn", "Take", "Hook", "Push", "Find")
        assert result.advice.startswith(verbs) or "read" in result.advice
