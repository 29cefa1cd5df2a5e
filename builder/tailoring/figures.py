"""The numbers that the drawing beside a step is made from, on one bike or on none."""

from __future__ import annotations

from collections.abc import Mapping

from builder.drawings.drawing_kind import DrawingError, Number, Parameter
from builder.drawings.registry import parameters
from builder.model.bike import Bike
from builder.model.guide import Step
from builder.model.units import Measure
from builder.planning.fitting import as_found
from builder.planning.looking_up import Known, look_up
from builder.planning.plan import Plan


def figure_numbers(step: Step, bike: Bike | None, plan: Plan | None) -> Mapping[str, Number]:
    """The numbers for the drawing of `step` on this bike, by what each parameter of the drawing says of itself.

    What is not known is left to the drawing's own defaults; a drawing that nobody has made has none.
    """
    if not step.figure:
        return {}
    after = plan.after if plan is not None else bike
    try:
        wanted = parameters(step.figure)
    except DrawingError:
        return {}
    found = ((parameter.name, _number(parameter, step, after)) for parameter in wanted)
    return {name: number for name, number in found if number is not None}


def _by_act(parameter: Parameter, step: Step) -> Number | None:
    """What the step does with its fastener; nothing where it does both, or turns none, so that the default stands."""
    done = [name for name, fastener in (("tightens", step.tightens), ("loosens", step.loosens)) if fastener]
    return dict(parameter.acts).get(done[0]) if len(done) == 1 else None


def _number(parameter: Parameter, step: Step, bike: Bike | None) -> Number | None:
    things = (*step.handles, step.tightens or "", step.loosens or "")
    told = next((value for thing, value in parameter.told if thing in things), None)
    if parameter.acts:
        return _by_act(parameter, step)
    if told is not None or parameter.fact is None:
        return told
    if bike is None:
        return parameter.usual
    where = next((joint for joint in parameter.fact.wheres if joint in things), "")
    match look_up(parameter.fact, where, as_found(bike), many=parameter.many > 0):
        case Known(values):
            return values[0].value if isinstance(values[0], Measure) else values[0]
        case _:
            return parameter.usual
