"""What the type of a field or of a check's input tells: its unit, its range, what it names, how it is explained.

Markers in `Annotated[...]`, read by `builder.model.declared`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from builder.model.facts import StandardSet
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
class OpenTo:
    """The field holds a word of this set, or a standard of its own that a workshop adds to it."""

    of: StandardSet


@dataclass(frozen=True, slots=True)
class Bounds:
    """The least and the greatest value that the field takes, in its kept unit."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Prose:
    """The field is text for the reader: it may hold Markdown and `{{ value }}` names."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """What the value is, in words for the reader: `width of the tyre as mounted`."""

    text: str


# In a fact's path: the two ends of a bike.
ENDS = ("rear", "front")
# The path that stands for the joint or the end itself at which a check is asked.
WHERE = "where"


@dataclass(frozen=True, slots=True)
class Fact:
    """The fact of a bike or of one of its parts that a value stands for.

    `path` names it as a bike's file does: a place and a field (`rear-derailleur.capacity-teeth`), a measurement
    (`measured.chain-links`), what is known of the rider (`rider.power`), or what is worked out of such facts
    (`worked-out.axle-growth`; see `builder.planning.worked_out`). `{end}` in it stands for `rear` and for `front`, and
    `front` is the path at the front where it differs in more than that. `joints` are the paths where one rule holds at
    several joints of a bike, each by the joint's name; the path `where` stands for that name itself. With `before` it
    is the fact of the bike as it was found, before any part is put on. `by` makes the
    value of the fact, such as `max` of the teeth of all sprockets; `called` is then what that is called: `largest
    sprocket`.
    """

    path: str = ""
    by: Callable[[Any], Any] | None = None
    front: str = ""
    called: str = ""
    before: bool = False
    joints: tuple[tuple[str, str], ...] = ()

    @property
    def wheres(self) -> tuple[str, ...]:
        """The ends or joints at which the fact stands; empty where there is one of it on a bike."""
        if self.joints:
            return tuple(name for name, _ in self.joints)
        return ENDS if self.front or "{end}" in self.path else ()

    def at(self, where: str) -> str:
        """The path at an end or a joint."""
        if self.joints:
            return dict(self.joints).get(where, self.joints[0][1])
        path = self.front if self.front and where == "front" else self.path
        return path.replace("{end}", where or ENDS[0])


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
# How sprockets, rotors and brakes are held: a word that comes with the program, or a workshop's own.
SprocketStandard = Annotated[str, OpenTo(StandardSet.SPROCKET_MOUNT)]
RotorStandard = Annotated[str, OpenTo(StandardSet.ROTOR_MOUNT)]
BrakeStandard = Annotated[str, OpenTo(StandardSet.BRAKE_MOUNT)]

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
    Unit.KILOMETRE_PER_HOUR: "_kmh",
    Unit.METRE: "_m",
    Unit.SQUARE_METRE: "_m2",
    Unit.KILOGRAM_PER_CUBIC_METRE: "_kgm3",
    Unit.CELSIUS: "_celsius",
    Unit.MONEY: "_eur",
}
