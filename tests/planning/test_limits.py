"""What a part must satisfy, in words."""

from __future__ import annotations

from builder.model.fields import Fact
from builder.model.units import Unit
from builder.planning import Requirement


def bounds(least: float | None, most: float | None) -> str:
    wanted = Requirement(fact=Fact("front-tyre.width"), at_least=least, at_most=most, unit=Unit.MILLIMETRE)
    return wanted.bounds.replace("\u00a0", " ")


def test_limits_that_contradict_each_other_are_told_and_are_no_error() -> None:
    assert bounds(42, 40) == "at least 42 mm and at most 40 mm"
    assert bounds(40, 42) == "40 to 42 mm"
    assert bounds(40, None) == "at least 40 mm"
    assert bounds(None, 42) == "at most 42 mm"
    assert bounds(None, None) == ""
