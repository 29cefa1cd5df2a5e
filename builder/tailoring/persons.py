"""How many persons a job takes on one bike: a heavy bike is lifted by two, whatever its guide says."""

from __future__ import annotations

from builder.tailoring.tailored import Tailored

_HEAVY = "heavy-bike"
_LIFTERS = 2


def persons_for(tailored: Tailored) -> int:
    """The persons of the guide, and at least two where a step of the card lifts a heavy bike."""
    lifts = tailored.bike is not None and any(_HEAVY in step.step.handles for step in tailored.steps)
    return max(tailored.guide.persons, _LIFTERS) if lifts else tailored.guide.persons
