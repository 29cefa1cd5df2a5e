"""Inputs that the checks of the drivetrain and of the hills share."""

from __future__ import annotations

from builder.checks.result import Input, Kind
from builder.model.units import Unit

LEAST_TEETH, MOST_TEETH = 8, 100


def teeth(name: str, words: str, *, optional: bool = False, low: int = LEAST_TEETH, high: int = MOST_TEETH) -> Input:
    """A tooth count, from the smallest sprocket to the largest chainring in use."""
    return Input(name=name, words=words, kind=Kind.WHOLE, unit=Unit.TEETH, low=low, high=high, optional=optional)


def teeth_list(name: str, words: str, *, optional: bool = False) -> Input:
    """Tooth counts with commas between."""
    return Input(
        name=name,
        words=words,
        kind=Kind.WHOLE_LIST,
        unit=Unit.TEETH,
        low=LEAST_TEETH,
        high=MOST_TEETH,
        optional=optional,
    )


RING = teeth("ring", "teeth of the chainring")
SPROCKET = teeth("sprocket", "teeth of the sprocket at the rear hub")
RINGS = teeth_list("rings", "teeth of every chainring, with commas between")
SPROCKETS = teeth_list("sprockets", "teeth of every sprocket at the rear hub, with commas between")
CHAINSTAY = Input(
    name="chainstay",
    words="centre of the bottom bracket to centre of the rear axle, suspension unladen",
    unit=Unit.MILLIMETRE,
    low=250,
    high=900,
)
GROWTH = Input(
    name="growth",
    words="how much farther the rear axle moves from the bottom bracket over the suspension's travel",
    unit=Unit.MILLIMETRE,
    low=0,
    high=80,
    default=0.0,
)
CAPACITY = Input(
    name="rated",
    words="capacity that the derailleur's maker states",
    kind=Kind.WHOLE,
    unit=Unit.TEETH,
    low=5,
    high=70,
    optional=True,
)
# A 28-622 tyre by pi * (rim + 2 * tyre), to the nearest millimetre.
CIRCUMFERENCE = Input(
    name="circumference",
    words="distance that the wheel rolls in one turn",
    unit=Unit.MILLIMETRE,
    low=500,
    high=3000,
    default=2130.0,
)
