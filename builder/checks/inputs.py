"""Inputs that the checks of the drivetrain and of the hills share."""

from __future__ import annotations

from typing import Annotated

from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit

# A tooth count, from the smallest sprocket to the largest chainring in use.
TOOTH_COUNTS = Bounds(8, 100)
Teeth = Annotated[int, In(Unit.TEETH), TOOTH_COUNTS]
TeethList = Annotated[tuple[int, ...], In(Unit.TEETH), TOOTH_COUNTS]

Rings = Annotated[TeethList, Meaning("teeth of every chainring"), Fact("crankset.rings")]
Sprockets = Annotated[TeethList, Meaning("teeth of every sprocket at the rear hub"), Fact("cassette.sprockets")]
LargestRing = Annotated[
    Teeth, Meaning("teeth of the largest chainring"), Fact("crankset.rings", max, called="largest chainring")
]
SmallestRing = Annotated[
    Teeth, Meaning("teeth of the chainring"), Fact("crankset.rings", min, called="smallest chainring")
]
LargestSprocket = Annotated[
    Teeth, Meaning("teeth of the largest sprocket"), Fact("cassette.sprockets", max, called="largest sprocket")
]
# How many speeds the sprockets make.
SpeedCount = Annotated[
    int, Bounds(1, 14), Meaning("number of sprockets"), Fact("cassette.sprockets", len, called="number of sprockets")
]
# What a shifter with clicks and one without are both held against.
CableRatio = Annotated[
    float, Meaning("how far the derailleur moves sideways for each mm of cable"), Fact("rear-derailleur.cable-ratio")
]
SprocketPitch = Annotated[
    float, Meaning("from one sprocket to the next, centre to centre"), Fact("cassette.sprocket-pitch")
]
SideBySide = Annotated[
    int, Bounds(2, 14), Meaning("how many sprockets stand side by side"), Fact("cassette.sprockets", len)
]
Chainstay = Annotated[
    float,
    Meaning("centre of the bottom bracket to centre of the rear axle, suspension unladen"),
    Fact("frame.chainstay"),
]
Growth = Annotated[
    float,
    In(Unit.MILLIMETRE),
    Bounds(0, 80),
    Meaning("how much farther the rear axle moves from the bottom bracket over the suspension's travel"),
    Fact("worked-out.axle-growth"),
]
Capacity = Annotated[
    int | None,
    In(Unit.TEETH),
    Meaning("capacity that the derailleur's maker states"),
    Fact("rear-derailleur.capacity-teeth"),
]
ExtraLinks = Annotated[
    int,
    In(Unit.LINKS),
    Meaning("links that the derailleur's maker asks for beyond the usual two"),
    Fact("rear-derailleur.extra-links"),
]
Circumference = Annotated[
    float,
    In(Unit.MILLIMETRE),
    Bounds(500, 3000),
    Meaning("distance that the wheel rolls in one turn"),
    Fact("worked-out.wheel-circumference"),
]
# A 28-622 tyre by pi * (rim + 2 * tyre), to the nearest millimetre.
USUAL_CIRCUMFERENCE_MM = 2130.0
