"""What the type of a field tells the reader of sources: its unit, what it names, how it is explained.

Markers in `Annotated[...]`; the pure core ignores them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from builder.model.units import Measure, Range, Unit


@dataclass(frozen=True, slots=True)
class In:
    """The field is written as a quantity and kept in this unit."""

    unit: Unit


@dataclass(frozen=True, slots=True)
class Ref:
    """The field names an item of this collection of the library, such as `tools`."""

    collection: str


@dataclass(frozen=True, slots=True)
class Bounds:
    """The least and the greatest value that the field takes, in its kept unit."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Prose:
    """The field is text for the reader: it may hold Markdown and `{{ value }}` names."""


Millimetres = Annotated[float, In(Unit.MILLIMETRE)]
MeasuredMillimetres = Annotated[Measure, In(Unit.MILLIMETRE)]
MillimetreRange = Annotated[Range, In(Unit.MILLIMETRE)]
# What the checks of torques take at the least, up to more than anything on a bicycle bears.
TorqueRange = Annotated[Range, In(Unit.NEWTON_METRE), Bounds(0.1, 300)]
PressureBar = Annotated[float, In(Unit.BAR)]
Kilograms = Annotated[float, In(Unit.KILOGRAM)]
Watts = Annotated[float, In(Unit.WATT)]
Minutes = Annotated[float, In(Unit.MINUTE)]
Percent = Annotated[float, In(Unit.PERCENT)]
Degrees = Annotated[float, In(Unit.DEGREE)]
RevPerMinute = Annotated[float, In(Unit.PER_MINUTE)]
Kilometres = Annotated[float, In(Unit.KILOMETRE)]
Euros = Annotated[float, In(Unit.MONEY)]
# From the smallest sprocket to the largest chainring in use, as the checks of gears and chains take them.
Teeth = Annotated[int, Bounds(8, 100)]
Text = Annotated[str, Prose()]

# The ending of a field's name that tells its unit, and that the YAML key leaves out.
UNIT_SUFFIX: dict[Unit, str] = {
    Unit.MILLIMETRE: "_mm",
    Unit.NEWTON_METRE: "_nm",
    Unit.BAR: "_bar",
    Unit.KILOGRAM: "_kg",
    Unit.WATT: "_w",
    Unit.MINUTE: "_min",
    Unit.PERCENT: "_percent",
    Unit.DEGREE: "_deg",
    Unit.PER_MINUTE: "_rpm",
    Unit.KILOMETRE: "_km",
    Unit.MONEY: "_eur",
}
