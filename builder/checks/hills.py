"""Hills: the power a climb takes, the cadence that a gear leaves, and the steepest slope for a least cadence."""

from __future__ import annotations

from builder.checks.gears import FAMILY, development_m
from builder.checks.inputs import RING, SPROCKET
from builder.checks.judging import at_least, at_most, named, number, number_or_none, quantity, whole
from builder.checks.result import Check, CheckResult, Input, InputError, Inputs, Provenance, Source, Verdict
from builder.checks.road_power import (
    CHAIN_EFFICIENCY,
    Power,
    Road,
    kinetic_power_w,
    road_power,
    steady_speed_mps,
)
from builder.model.units import Unit, write_number

KMH_PER_MPS = 3.6
_STANDARD_DENSITY = 1.225
# Power worked out from uphill speed strayed by about a tenth to either side in 95 % of cases (Millet et al. 2014).
MODEL_SHARE = 0.10
_HARD_TO_BALANCE_KMH = 5.0
_FASTEST_KMH = 150.0

ROAD_SOURCE = Source(
    title="Martin et al., Validation of a Mathematical Model for Road Cycling Power",
    locator="J. Appl. Biomech. 14 (1998), 276-291, model equations",
    provenance=Provenance.FROM_MEMORY,
)

MASS = quantity("mass", "rider, bike and luggage together", Unit.KILOGRAM, 10, 500)
GRADIENT = quantity("gradient", "rise over run; downhill is negative", Unit.PERCENT, -40, 45)
POWER = quantity("power", "what the rider can hold at the pedals", Unit.WATT, 10, 2500)
AIR_AND_ROAD: tuple[Input, ...] = (
    quantity("wind", "head wind; a tail wind is negative", Unit.KILOMETRE_PER_HOUR, -100, 100, default=0.0),
    quantity("cda", "drag area of rider and bike", Unit.SQUARE_METRE, 0, 1.5, default=0.35),
    quantity("crr", "coefficient of rolling resistance", Unit.ONE, 0, 0.1, default=0.005),
    quantity("density", "density of the air", Unit.KILOGRAM_PER_CUBIC_METRE, 0.3, 1.6, default=_STANDARD_DENSITY),
    quantity("efficiency", "share of the power that passes the chain", Unit.ONE, 0.5, 1, default=CHAIN_EFFICIENCY),
)
DRIVEN_CIRCUMFERENCE = quantity(
    "circumference", "distance that the wheel rolls in one turn", Unit.MILLIMETRE, 500, 3000
)
ROAD_NOTES = (
    "m is the mass, g 9.80665 m/s², v the speed and v_a the speed through the air in m/s, ρ the density of the air, A "
    "the drag area, F_w the wheels' own 0.0044 m², C_rr the rolling coefficient, β the slope's angle, η the chain's "
    "efficiency of 0.977. Typical drag areas in m²: 0.25 low on a race bar, 0.35 on the brake hoods, 0.5 to 0.6 "
    "upright. Typical rolling: 0.004 to 0.006 on asphalt, 0.008 to 0.015 on gravel (common practice, no source). A "
    "result strays by about a tenth: power worked out from uphill speed was within −10.4 to +8.5 % of the measured in "
    "95 % of cases (Millet et al. 2014, abstract)."
)


def _n(value: float, decimals: int = 1) -> str:
    return write_number(value, decimals)


def road_of(inputs: Inputs, gradient_percent: float) -> Road:
    """The road, the air and the mass that the inputs tell, on a slope of `gradient_percent`."""
    return Road(
        mass_kg=number(inputs, "mass"),
        gradient=gradient_percent / 100,
        headwind_mps=number(inputs, "wind") / KMH_PER_MPS,
        cda_m2=number(inputs, "cda"),
        crr=number(inputs, "crr"),
        density_kgm3=number(inputs, "density"),
        efficiency=number(inputs, "efficiency"),
    )


def _parts_working(road: Road, speed_mps: float, power: Power) -> tuple[str, ...]:
    along = 1 / (1 + road.gradient**2) ** 0.5
    weight = road.mass_kg * road.gravity_mps2
    air, speed = speed_mps + road.headwind_mps, _n(speed_mps, 3)
    area = road.cda_m2 + road.wheel_drag_m2
    return (
        f"Air: ½ × {_n(road.density_kgm3, 4)} × ({_n(road.cda_m2, 4)} + {_n(road.wheel_drag_m2, 4)}) ="
        f" {_n(0.5 * road.density_kgm3 * area, 4)}; × {_n(air, 3)} × {_n(abs(air), 3)} × {speed}"
        f" = {_n(power.aerodynamic_w)} W",
        f"Weight: {_n(road.mass_kg, 1)} kg × 9.80665 = {_n(weight)} N",
        f"Rolling: {_n(road.crr, 4)} × {_n(weight)} × {_n(along, 4)} × {speed} = {_n(power.rolling_w)} W",
        f"Bearings: {speed} × (91 + 8.7 × {speed}) / 1000 = {_n(power.bearing_w)} W",
        f"Slope: {_n(weight)} × {_n(road.gradient, 4)} × {_n(along, 4)} × {speed} = {_n(power.gravity_w)} W",
    )


def _hill_power(inputs: Inputs) -> CheckResult:
    road = road_of(inputs, number(inputs, "gradient"))
    speed_kmh = number(inputs, "speed")
    speed = speed_kmh / KMH_PER_MPS
    kinetic = _kinetic(inputs, road)
    power = road_power(road, speed, kinetic_w=kinetic)
    limit = number_or_none(inputs, "power")
    working = [f"Speed: {_n(speed_kmh, 2)} km/h / 3.6 = {_n(speed, 3)} m/s", *_parts_working(road, speed, power)]
    if kinetic:
        working.append(f"Change of speed: {_n(kinetic)} W")
    working.append(f"At the wheel, together: {_n(power.net_w)} W")
    if power.net_w > 0:
        working.append(f"At the pedals: {_n(power.net_w)} / {_n(road.efficiency, 4)} = {_n(power.total_w)} W")
    verdict, advice = _judge_power(power, limit)
    return CheckResult(
        check="hill-power",
        verdict=verdict,
        value=power.total_w,
        unit=Unit.WATT,
        limit=limit,
        margin=None if limit is None else limit - power.total_w,
        working=tuple(working),
        source=str(ROAD_SOURCE),
        advice=advice,
        values=(
            named("aerodynamic", power.aerodynamic_w, Unit.WATT),
            named("rolling", power.rolling_w, Unit.WATT),
            named("bearing", power.bearing_w, Unit.WATT),
            named("gravity", power.gravity_w, Unit.WATT),
            named("kinetic", power.kinetic_w, Unit.WATT),
            named("drivetrain", power.drivetrain_w, Unit.WATT),
            named("net", power.net_w, Unit.WATT),
        ),
    )


def _kinetic(inputs: Inputs, road: Road) -> float:
    given = [name for name in ("from-speed", "to-speed", "time") if name in inputs]
    if not given:
        return 0.0
    if len(given) < 3:
        raise InputError("from-speed, to-speed and time belong together: give all three for a change of speed, or none")
    return kinetic_power_w(
        road.mass_kg,
        number(inputs, "from-speed") / KMH_PER_MPS,
        number(inputs, "to-speed") / KMH_PER_MPS,
        number(inputs, "time") * 60,
    )


def _judge_power(power: Power, limit: float | None) -> tuple[Verdict, str]:
    if power.net_w <= 0:
        return Verdict.WITH_CARE, "The bike rolls by itself, and faster: the brakes must take the rest."
    if limit is None:
        return Verdict.FITS, "Compare it with the power that the rider can hold."
    if not at_most(power.total_w, limit):
        return Verdict.DOES_NOT_FIT, "More than the rider can hold: ride slower, which asks for a lower gear."
    if not at_most(power.total_w * (1 + MODEL_SHARE), limit):
        return Verdict.WITH_CARE, "It is just enough; the model itself may be a tenth off."
    return Verdict.FITS, "The rider can hold this."


HILL_POWER = Check(
    name="hill-power",
    family=FAMILY,
    title="Power for a climb",
    purpose="What the legs must give to ride at a speed: against air, tyres, bearings, slope and chain.",
    formula=(
        r"P = \frac{1}{\eta}\left(\frac{1}{2}\rho (A + F_w) v_a^2 v + C_{rr} m g v \cos\beta"
        r" + v\,\frac{91 + 8.7 v}{1000} + m g v \sin\beta + \Delta E_k\right)"
    ),
    inputs=(
        MASS,
        GRADIENT,
        quantity("speed", "speed over the road", Unit.KILOMETRE_PER_HOUR, 0.5, 130),
        *AIR_AND_ROAD,
        quantity("power", "what the rider can hold, to compare with", Unit.WATT, 10, 2500, optional=True),
        quantity(
            "from-speed",
            "speed at the beginning, for a change of speed",
            Unit.KILOMETRE_PER_HOUR,
            0,
            130,
            optional=True,
        ),
        quantity("to-speed", "speed at the end, for a change of speed", Unit.KILOMETRE_PER_HOUR, 0, 130, optional=True),
        quantity("time", "time that the change of speed takes", Unit.MINUTE, 0.01, 120, optional=True),
    ),
    source=ROAD_SOURCE,
    run=_hill_power,
    at_verdict={
        Verdict.FITS: "The climb can be ridden at this speed.",
        Verdict.WITH_CARE: "It is close, or the bike rolls by itself. Plan for a lower gear or for the brakes.",
        Verdict.DOES_NOT_FIT: "Lower the speed; then look with hill-cadence whether the gear is low enough for it.",
    },
    example={"mass": "95 kg", "gradient": "8 %", "speed": "8 km/h", "power": "200 W"},
    drawing="hill-power",
    notes=ROAD_NOTES + " ΔE_k is the change of kinetic energy by the time; at a steady speed it is nothing.",
)


def _hill_cadence(inputs: Inputs) -> CheckResult:
    power_w, least = number(inputs, "power"), number(inputs, "cadence")
    ring, sprocket = whole(inputs, "ring"), whole(inputs, "sprocket")
    circumference = number(inputs, "circumference")
    road = road_of(inputs, number(inputs, "gradient"))
    speed = steady_speed_mps(road, power_w)
    speed_kmh = speed * KMH_PER_MPS
    if speed_kmh > _FASTEST_KMH:
        raise InputError(
            f"gradient: the bike would run at {speed_kmh:.0f} km/h; the model ends at {_FASTEST_KMH:g} km/h"
        )
    development = development_m(ring, sprocket, circumference)
    cadence = 60 * speed / development
    parts = road_power(road, speed)
    margin = cadence - least
    slow = f" At {_n(speed_kmh)} km/h balance is hard." if speed_kmh < _HARD_TO_BALANCE_KMH else ""
    if not at_least(cadence, least):
        verdict = Verdict.DOES_NOT_FIT
        wanted = ring / sprocket * cadence / least
        advice = f"The gear is too high: a ratio of {_n(wanted, 2)} or lower keeps the cadence.{slow}"
    elif not at_least(cadence, least * (1 + MODEL_SHARE)) or slow:
        verdict, advice = Verdict.WITH_CARE, f"It is close; the model itself may be a tenth off.{slow}"
    else:
        verdict, advice = Verdict.FITS, "The rider gets up at a good cadence."
    return CheckResult(
        check="hill-cadence",
        verdict=verdict,
        value=cadence,
        unit=Unit.PER_MINUTE,
        limit=least,
        margin=margin,
        working=(
            f"Try speeds until the parts add up to {_n(power_w)} W: {_n(speed_kmh, 2)} km/h / 3.6 = {_n(speed, 3)} m/s",
            *_parts_working(road, speed, parts),
            f"At the pedals: {_n(parts.net_w)} / {_n(road.efficiency, 4)} = {_n(parts.total_w)} W",
            f"Development: {ring} / {sprocket} × {_n(circumference / 1000, 3)} m = {_n(development, 3)} m",
            f"Cadence: 60 × {_n(speed, 3)} / {_n(development, 3)} = {_n(cadence)} rev/min",
        ),
        source=str(ROAD_SOURCE),
        advice=advice,
        values=(
            named("speed", speed_kmh, Unit.KILOMETRE_PER_HOUR),
            named("development", development, Unit.METRE),
            named("aerodynamic", parts.aerodynamic_w, Unit.WATT),
            named("rolling", parts.rolling_w, Unit.WATT),
            named("bearing", parts.bearing_w, Unit.WATT),
            named("gravity", parts.gravity_w, Unit.WATT),
            named("drivetrain", parts.drivetrain_w, Unit.WATT),
        ),
    )


LEAST_CADENCE = quantity(
    "cadence", "least cadence at which the rider is at ease uphill", Unit.PER_MINUTE, 10, 150, default=60.0
)

HILL_CADENCE = Check(
    name="hill-cadence",
    family=FAMILY,
    title="Cadence on a climb",
    purpose=(
        "Will it get me up the hill? The power that a rider can hold gives a speed on the slope, and the lowest gear "
        "turns that speed into a cadence. Too slow a cadence hurts the knees and stops the rider."
    ),
    formula=r"P(v) = P_{rider} \Rightarrow v, \quad k = \frac{60\,v}{D}, \quad D = \frac{R}{S}\,U",
    inputs=(POWER, MASS, GRADIENT, RING, SPROCKET, DRIVEN_CIRCUMFERENCE, *AIR_AND_ROAD, LEAST_CADENCE),
    source=ROAD_SOURCE,
    run=_hill_cadence,
    at_verdict={
        Verdict.FITS: "This gear will do for this climb.",
        Verdict.WITH_CARE: "It will just do. A lower gear would leave something in hand.",
        Verdict.DOES_NOT_FIT: "Fit a larger sprocket or a smaller chainring; try the new teeth here first.",
    },
    example={
        "power": "180 W",
        "mass": "95 kg",
        "gradient": "9 %",
        "ring": "32",
        "sprocket": "40",
        "circumference": "2200 mm",
    },
    drawing="hill-cadence",
    notes=ROAD_NOTES
    + " k is the cadence, D the development. A least cadence of 60 rev/min: common practice, no source.",
)


CHECKS = (HILL_POWER, HILL_CADENCE)
