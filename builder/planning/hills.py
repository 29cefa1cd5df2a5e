"""The hills of a bike's rider: cadence on each named climb and the steepest gradient, before and after a plan."""

from __future__ import annotations

from dataclasses import dataclass, replace

from builder.checks.hills import USUAL_CADENCE, hill_cadence
from builder.checks.slopes import steepest_gradient
from builder.model.bike import Bike, Climb
from builder.planning.asking import answer
from builder.planning.fitting import as_found
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
    after = _steepest(plan.after)
    if after is None:
        return None
    climbs = tuple(
        Hill(
            name=climb.name,
            gradient_percent=climb.gradient_percent,
            least_rpm=plan.bike.rider.least_cadence_rpm or USUAL_CADENCE,
            before_rpm=_cadence(plan.bike, climb),
            after_rpm=_cadence(plan.after, climb),
        )
        for climb in plan.bike.climbs
    )
    return Hills(climbs=climbs, steepest_before_percent=_steepest(plan.bike), steepest_after_percent=after)


def _cadence(bike: Bike, climb: Climb) -> float | None:
    answered = answer(hill_cadence, "", as_found(replace(bike, climbs=(climb,))))
    return None if answered is None else answered.result.value


def _steepest(bike: Bike) -> float | None:
    answered = answer(steepest_gradient, "", as_found(bike))
    return None if answered is None else answered.result.value
