"""Inputs that the checks of bolts and of torque wrenches share: a fastener's range of torque, and a wrench's."""

from __future__ import annotations

from typing import Annotated

from builder.checks.result import InputError
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Range, Unit

_Torque = Annotated[float, In(Unit.NEWTON_METRE), Bounds(0.1, 500)]
TorqueLow = Annotated[_Torque, Meaning("lower end of the fastener's range of torque"), Fact("fastener.torque-low")]
TorqueHigh = Annotated[_Torque, Meaning("upper end of the fastener's range of torque"), Fact("fastener.torque-high")]
WrenchLow = Annotated[
    float,
    In(Unit.NEWTON_METRE),
    Bounds(0, 500),
    Meaning("lowest value on the wrench's scale"),
    Fact("worked-out.wrench-low"),
]
WrenchHigh = Annotated[
    float,
    In(Unit.NEWTON_METRE),
    Bounds(0.5, 1000),
    Meaning("highest value on the wrench's scale"),
    Fact("worked-out.wrench-high"),
]
BoltThread = Annotated[str, Meaning("thread of the bolt, such as M6 or M8x1"), Fact("fastener.thread")]


def range_of(what: str, low_nm: float, high_nm: float) -> Range:
    """The range of `what`, `torque` or `wrench`, from its two inputs [N·m].

    Raises:
        InputError: the lower end is above the upper one.
    """
    if low_nm > high_nm:
        raise InputError(f"'{what}-low' ({low_nm:g} N·m) is more than '{what}-high' ({high_nm:g} N·m)")
    return Range(low_nm, high_nm)
