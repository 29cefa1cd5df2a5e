"""The hills of a bike's rider: cadence on each named climb and the steepest gradient, before and after a plan."""

from __future__ import annotations

from dataclasses import dataclass

from builder.checks.reckoning import reckon
from builder.checks.registry import CHECKS
from builder.checks.result import InputError
from builder.model.bike import Bike
from builder.planning.climbing import climb_inputs
from builder.planning.outfit import Outfit
from builder.planning.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Hill:
    """A climb in the lowest gear, at the power that the rider can hold.

    `before_rpm` and `after_rpm` are cadences [rev/min], None where the file lacks what is needed; `least_rpm` is the
    cadence that the rider wants at the least.
    """

    name: str
    gradient_percent: float
    least_rpm: float
    before_rpm: float | None
    after_rpm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hills:
    """Every climb of the bike's file, and the steepest gradient [%] for the least cadence before and after."""

    climbs: tuple[Hill, ...]
    steepest_before_percent: float | None
    steepest_after_percent: float | None


def hills_of(plan: Plan) -> Hills | None:
    """What the plan does on the rider's hills; None where rider, gears or wheel are not known."""
    after = climb_inputs(Outfit(found=plan.after, bike=plan.after))
    if after is None:
        return None
    least = after["cadence"]
    assert isinstance(least, int | float)
    climbs = tuple(
        Hill(
            name=climb.name,
            gradient_percent=climb.gradient_percent,
            least_rpm=float(least),
            before_rpm=_cadence(plan.bike, climb.gradient_percent),
            after_rpm=_cadence(plan.after, climb.gradient_percent),
        )
        for climb in plan.bike.climbs
    )
    return Hills(
        climbs=climbs, steepest_before_percent=_steepest(plan.bike), steepest_after_percent=_steepest(plan.after)
    )


def _cadence(bike: Bike, gradient_percent: float) -> float | None:
    inputs = climb_inputs(Outfit(found=bike, bike=bike))
    if inputs is None:
        return None
    try:
        return reckon(CHECKS["hill-cadence"], {**inputs, "gradient": gradient_percent}).value
    except InputError:
        return None


def _steepest(bike: Bike) -> float | None:
    inputs = climb_inputs(Outfit(found=bike, bike=bike))
    if inputs is None:
        return None
    try:
        return reckon(CHECKS["steepest-gradient"], inputs).value
    except InputError:
        return None
