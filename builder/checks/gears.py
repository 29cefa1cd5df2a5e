"""One gear: ratio, development, gear inches, gain ratio and speed; and the wheel that it drives."""

from __future__ import annotations

import math
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.inputs import USUAL_CIRCUMFERENCE_MM, Circumference, SmallestRing, Teeth
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

# A measured roll-out is 0.3 to 1.5 % less than the designation's circle; more than 3 % off is a mistake.
_ROLLOUT_DOUBT = 0.03


def _n(value: float, decimals: int = 2) -> str:
    return write_number(value, decimals)


def gear_ratio(ring_teeth: int, sprocket_teeth: int) -> float:
    """Turns of the wheel for one turn of the cranks."""
    return ring_teeth / sprocket_teeth


def development_m(ring_teeth: int, sprocket_teeth: int, circumference_mm: float) -> float:
    """Distance travelled at one turn of the cranks [m].

    Source: 16 CFR 1512.5, footnote 3, for the meaning of the term; arithmetic.
    """
    return circumference_mm / 1000 * ring_teeth / sprocket_teeth


def gear_inches(ring_teeth: int, sprocket_teeth: int, circumference_mm: float) -> float:
    """Diameter of the wheel that, turned by the cranks themselves, would travel as far [in]."""
    return circumference_mm / math.pi / 25.4 * ring_teeth / sprocket_teeth


def gain_ratio(ring_teeth: int, sprocket_teeth: int, circumference_mm: float, crank_mm: float) -> float:
    """Distance that the bike travels for each unit of distance that the pedal travels."""
    return circumference_mm / (2 * math.pi * crank_mm) * ring_teeth / sprocket_teeth


def speed_kmh(development: float, cadence_per_min: float) -> float:
    """Speed [km/h] of a development [m] at a cadence [rev/min]."""
    return development * cadence_per_min * 60 / 1000


def wheel_circumference_mm(rim_mm: float, tyre_mm: float) -> float:
    """Circumference of an unloaded wheel from its tyre's ISO 5775 designation [mm], `pi (rim + 2 tyre)`.

    The height of the tyre is taken to be its nominal width. Loaded, a wheel rolls 0.3 to 1.5 % less far.

    Source: ISO 5775-1, tyre designation; arithmetic.
    """
    return math.pi * (rim_mm + 2 * tyre_mm)


@check(
    family=Family.GEARS,
    title="One gear in numbers",
    purpose=(
        "Ring and sprocket alone say little: a small wheel makes the same teeth an easier gear. These are the usual "
        "measures of a gear, side by side."
    ),
    formula=(
        r"i = \frac{R}{S}, \quad D = i\,U, \quad G = i\,\frac{U}{\pi \cdot 25.4}, \quad g = i\,\frac{U}{2\pi c}"
        r", \quad v = \frac{60\,D\,k}{1000}"
    ),
    source=Source(
        title="Definitions; development as in 16 CFR Part 1512 (1978, amended 2011)",
        locator="1512.5, footnote 3",
        provenance=Provenance.LOOKED_UP,
    ),
    at_verdict={Verdict.FITS: "Compare the gear with the one that the rider has now."},
    example={"ring": "32", "sprocket": "40", "circumference": "2200 mm", "crank": "170 mm", "cadence": "80 rev/min"},
    drawing="gear-chart",
    notes=(
        "i is the ratio, R and S the teeth of ring and sprocket, U the circumference in mm (for D in m: divided by "
        "1000), D the development, G the gear inches, c the crank in mm, g the gain ratio, k the cadence, v the speed "
        "in km/h. Without a circumference it reckons with 2130 mm, a tyre 28-622."
    ),
    asked=Asked(force=Force.TELLS, when_known=True),
)
def gear(
    ring: SmallestRing,
    sprocket: Annotated[Teeth, Meaning("teeth of the sprocket at the rear hub"), Fact("cassette.sprockets", max)],
    circumference_mm: Circumference = USUAL_CIRCUMFERENCE_MM,
    crank_mm: Annotated[
        float, Meaning("centre of the bottom bracket to centre of the pedal"), Fact("crankset.crank")
    ] = 170.0,
    cadence_rpm: Annotated[
        float, In(Unit.PER_MINUTE), Bounds(10, 250), Meaning("turns of the cranks in a minute")
    ] = 90.0,
) -> CheckResult:
    """One gear in the usual measures; of a bike, its lowest one. Source: definitions."""
    ratio = gear_ratio(ring, sprocket)
    development = development_m(ring, sprocket, circumference_mm)
    inches = gear_inches(ring, sprocket, circumference_mm)
    gain = gain_ratio(ring, sprocket, circumference_mm, crank_mm)
    speed = speed_kmh(development, cadence_rpm)
    diameter_mm = circumference_mm / math.pi
    return CheckResult(
        verdict=Verdict.FITS,
        value=ratio,
        unit=Unit.ONE,
        working=(
            f"Ratio: {ring} / {sprocket} = {_n(ratio, 3)}",
            f"Development: {_n(ratio, 3)} × {_n(circumference_mm / 1000, 3)} m = {_n(development, 3)} m",
            f"Wheel diameter: {_n(circumference_mm, 1)} mm / π = {_n(diameter_mm, 1)} mm = {_n(diameter_mm / 25.4)} in",
            f"Gear inches: {_n(ratio, 3)} × {_n(diameter_mm / 25.4)} = {_n(inches, 1)} in",
            f"Gain ratio: {_n(ratio, 3)} × {_n(diameter_mm / 2, 1)} mm / {_n(crank_mm, 1)} mm = {_n(gain, 3)}",
            f"Speed at {_n(cadence_rpm, 1)} rev/min: {_n(development, 3)} m × {_n(cadence_rpm, 1)} × 60 / 1000"
            f" = {_n(speed, 1)} km/h",
        ),
        advice="A lower ratio is easier uphill and slower at the same cadence.",
        values=(
            named("development", development, Unit.METRE),
            named("gear-inches", inches, Unit.ONE),
            named("gain-ratio", gain, Unit.ONE),
            named("speed", speed, Unit.KILOMETRE_PER_HOUR),
        ),
    )


@check(
    family=Family.GEARS,
    title="Circumference of a wheel",
    purpose="How far the wheel rolls in one turn, from the size that is marked on the tyre.",
    formula=r"U = \pi\,(d + 2 b)",
    source=Source(
        title="ISO 5775-1, tyre designation, and plane geometry",
        locator="tyre height taken as its nominal width",
        provenance=Provenance.DERIVABLE,
    ),
    at_verdict={Verdict.FITS: "Use it for gears; for a speed counter roll the wheel out."},
    example={"rim": "622 mm", "tyre": "32 mm"},
    drawing="wheel-circle",
    notes=(
        "U is the circumference, d the bead seat diameter, b the nominal width. A tyre marked 32-622 is 32 mm wide on "
        "a bead seat of 622 mm. Its real width depends on the rim."
    ),
    asked=Asked(force=Force.TELLS, when_known=True),
)
def wheel_circumference(
    rim_mm: Annotated[
        float,
        Meaning("bead seat diameter, the second figure of the tyre's ISO 5775 size"),
        Fact("{end}-tyre.bead-seat"),
    ],
    tyre_mm: Annotated[
        float, Meaning("nominal width, the first figure of the tyre's ISO 5775 size"), Fact("{end}-tyre.width")
    ],
) -> CheckResult:
    """How far a wheel rolls in one turn [mm], by its size. Source: ISO 5775-1 and plane geometry."""
    circumference = wheel_circumference_mm(rim_mm, tyre_mm)
    diameter = rim_mm + 2 * tyre_mm
    return CheckResult(
        verdict=Verdict.FITS,
        value=circumference,
        unit=Unit.MILLIMETRE,
        working=(
            f"Outer diameter: {_n(rim_mm)} + 2 × {_n(tyre_mm)} = {_n(diameter)} mm",
            f"Circumference: π × {_n(diameter)} = {_n(circumference, 1)} mm",
            f"Loaded, about 0.3 to 1.5 % less: {_n(circumference * 0.985, 0)} to {_n(circumference * 0.997, 0)} mm",
        ),
        advice="For a speed counter, or to be exact, roll the wheel out with the rider's weight on it.",
        values=(named("diameter", diameter, Unit.MILLIMETRE),),
    )


@check(
    family=Family.GEARS,
    title="Circumference by rolling out",
    purpose="The wheel's true circumference, measured on the floor, with the tyre's size as a guard against a slip.",
    formula=r"U = \frac{s}{n}",
    source=Source(
        title="Measured distance by number of turns",
        locator="3 % is this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Use the rolled figure.",
        Verdict.MEASURE_FIRST: "Roll again: size, number of turns or the line was wrong.",
    },
    example={"distance": "6.42 m", "turns": "3", "rim": "622 mm", "tyre": "32 mm"},
    drawing="wheel-circle",
    notes="U is the circumference, s the distance, n the turns. Valve down at both marks, usual pressure, rider on it.",
    asked=Asked(force=Force.CONDITION, kept=("rear-tyre",), when_known=True),
)
def roll_out(
    distance_m: Annotated[
        float,
        In(Unit.METRE),
        Bounds(0.5, 100),
        Meaning("rolled on the floor in a straight line, mark to mark"),
        Fact("worked-out.rolled-distance"),
    ],
    turns: Annotated[int, Bounds(1, 40), Meaning("whole turns of the wheel")] = 1,
    *,
    rim_mm: Annotated[
        float, Meaning("bead seat diameter, the second figure of the tyre's ISO 5775 size"), Fact("rear-tyre.bead-seat")
    ],
    tyre_mm: Annotated[
        float, Meaning("nominal width, the first figure of the tyre's ISO 5775 size"), Fact("rear-tyre.width")
    ],
) -> CheckResult:
    """Circumference of a wheel that was rolled out [mm], with its size as a guard. Source: measurement."""
    rolled = distance_m * 1000 / turns
    circle = wheel_circumference_mm(rim_mm, tyre_mm)
    share = rolled / circle - 1
    doubtful = not at_most(abs(share), _ROLLOUT_DOUBT)
    return CheckResult(
        verdict=Verdict.MEASURE_FIRST if doubtful else Verdict.FITS,
        value=rolled,
        unit=Unit.MILLIMETRE,
        limit=circle * (1 + _ROLLOUT_DOUBT),
        margin=circle * _ROLLOUT_DOUBT - abs(rolled - circle),
        working=(
            f"In one turn: {_n(distance_m * 1000, 1)} mm / {turns} = {_n(rolled, 1)} mm",
            f"From the tyre's size: π × ({_n(rim_mm)} + 2 × {_n(tyre_mm)}) = {_n(circle, 1)} mm",
            f"Difference: 100 × ({_n(rolled, 1)} / {_n(circle, 1)} − 1) = {_n(100 * share)} %",
        ),
        advice=(
            "The two differ by more than 3 %. Read the tyre's size, count the turns and roll in a straight line again."
            if doubtful
            else "Use the rolled figure: it holds the tyre's real width, its pressure and the weight on it."
        ),
        values=(named("from-size", circle, Unit.MILLIMETRE), named("difference", 100 * share, Unit.PERCENT)),
    )
