"""The numbers that the drawing beside a step is made from, on one bike or on none."""

from __future__ import annotations

from collections.abc import Mapping

from builder.drawings.registry import needs
from builder.drawings.subject import DrawingError, Need, Number
from builder.model.bike import Bike
from builder.model.guide import Step
from builder.model.units import Measure
from builder.planning.fitting import as_found
from builder.planning.looking_up import Known, look_up
from builder.planning.plan import Plan


def figure_numbers(step: Step, bike: Bike | None, plan: Plan | None) -> Mapping[str, Number]:
    """The numbers for the drawing of `step` on this bike, by what each need of the drawing says of itself.

    What is not known is left to the drawing's own defaults; a drawing that nobody has made has none.
    """
    if not step.figure:
        return {}
    after = plan.after if plan is not None else bike
    try:
        wanted = needs(step.figure)
    except DrawingError:
        return {}
    found = ((need.name, _number(need, step, after)) for need in wanted)
    return {name: number for name, number in found if number is not None}


def _by_act(need: Need, step: Step) -> Number | None:
    """What the step does with its fastener; nothing where it does both, or turns none, so that the default stands."""
    done = [name for name, fastener in (("tightens", step.tightens), ("loosens", step.loosens)) if fastener]
    return dict(need.acts).get(done[0]) if len(done) == 1 else None


def _number(need: Need, step: Step, bike: Bike | None) -> Number | None:
    things = (*step.handles, step.tightens or "", step.loosens or "")
    told = next((value for thing, value in need.told if thing in things), None)
    if need.acts:
        return _by_act(need, step)
    if told is not None or need.fact is None:
        return told
    if bike is None:
        return need.usual
    where = next((joint for joint in need.fact.wheres if joint in things), "")
    match look_up(need.fact, where, as_found(bike), many=need.many > 0):
        case Known(values):
            return values[0].value if isinstance(values[0], Measure) else values[0]
        case _:
            return need.usual
