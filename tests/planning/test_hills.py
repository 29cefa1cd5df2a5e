"""Hills before and after a job."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.bike import Climb, Rider
from builder.planning.hills import hills_of
from tests.demo import lead_plan


def test_a_lower_gear_raises_the_cadence_by_the_ratio_of_the_teeth_at_the_same_speed():
    hills = hills_of(lead_plan("heron"))
    [climb] = hills.climbs
    # 42 and 50 teeth in front of the same chainring: the speed up the hill stays, so that the cadence goes with them.
    assert climb.after_rpm / climb.before_rpm == pytest.approx(50 / 42)
    assert hills.steepest_after_percent > hills.steepest_before_percent


def test_a_steeper_climb_has_a_lower_cadence():
    plan = lead_plan("heron")
    climbs = (Climb(name="low", gradient_percent=5.0), Climb(name="high", gradient_percent=15.0))
    low, high = hills_of(replace(plan, bike=replace(plan.bike, climbs=climbs))).climbs
    assert low.after_rpm > high.after_rpm


def test_without_a_rider_nothing_is_said_of_hills():
    plan = lead_plan("heron")
    assert hills_of(replace(plan, after=replace(plan.after, rider=Rider()))) is None
