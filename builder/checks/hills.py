"""Hills: the power a climb takes, the cadence that a gear leaves, and the steepest slope for a least cadence."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.gears import development_m
from builder.checks.inputs import Teeth
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.checks.road_power import (
    CHAIN_EFFICIENCY,
    Power,
    Road,
    kinetic_power_w,
    road_power,
    steady_speed_mps,
)
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

KMH_PER_MPS = 3.6
STANDARD_DENSITY = 1.225
# Power worked out from uphill speed strayed by about a tenth to either side in 95 % of cases (Millet et al. 2014).
MODEL_SHARE = 0.10
_HARD_TO_BALANCE_KMH = 5.0
_FASTEST_KMH = 150.0

ROAD_SOURCE = Source(
    title="Martin et al., Validation of a Mathematical Model for Road Cycling Power",
    locator="J. Appl. Biomech. 14 (1998), 276-291, model equations",
    provenance=Provenance.FROM_MEMORY,
)

Mass = Annotated[
    float,
    In(Unit.KILOGRAM),
    Bounds(10, 500),
    Meaning("rider, bike and luggage together"),
    Fact("worked-out.total-mass"),
]
Gradient = Annotated[float, In(Unit.PERCENT), Bounds(-40, 45), Meaning("rise over run; downhill is negative")]
RiderPower = Annotated[
    float,
    In(Unit.WATT),
    Bounds(10, 2500),
    Meaning("what the rider can hold at the pedals, and what a motor adds"),
    Fact("worked-out.climbing-power"),
]
LowestRing = Annotated[
    Teeth, Meaning("teeth of the chainring"), Fact("crankset.rings", min, called="smallest chainring")
]
LowestSprocket = Annotated[
    Teeth, Meaning("teeth of the sprocket at the rear hub"), Fact("cassette.sprockets", max, called="largest sprocket")
]
# A gear hub turns its wheel slower than its sprocket in its lowest gear.
DrivenCircumference = Annotated[
    float,
    In(Unit.MILLIMETRE),
    Bounds(100, 3000),
    Meaning("distance that the wheel rolls in one turn"),
    Fact("worked-out.rolled-a-sprocket-turn"),
]
Wind = Annotated[float, In(Unit.KILOMETRE_PER_HOUR), Bounds(-100, 100), Meaning("head wind; a tail wind is negative")]
DragArea = Annotated[float, In(Unit.SQUARE_METRE), Bounds(0, 1.5), Meaning("drag area of rider and bike")]
Rolling = Annotated[float, Bounds(0, 0.1), Meaning("coefficient of rolling resistance")]
Density = Annotated[float, In(Unit.KILOGRAM_PER_CUBIC_METRE), Bounds(0.3, 1.6), Meaning("density of the air")]
Efficiency = Annotated[float, Bounds(0.5, 1), Meaning("share of the power that passes the chain")]
LeastCadence = Annotated[
    float,
    In(Unit.PER_MINUTE),
    Bounds(10, 150),
    Meaning("least cadence at which the rider is at ease uphill"),
    Fact("rider.least-cadence"),
]
# Common practice, no source.
USUAL_CADENCE = 60.0
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


def road_of(
    mass_kg: float,
    gradient_percent: float,
    *,
    wind_kmh: float,
    cda_m2: float,
    crr: float,
    density_kgm3: float,
    efficiency: float,
) -> Road:
    """The road, the air and the mass on a slope of `gradient_percent`."""
    return Road(
        mass_kg=mass_kg,
        gradient=gradient_percent / 100,
        headwind_mps=wind_kmh / KMH_PER_MPS,
        cda_m2=cda_m2,
        crr=crr,
        density_kgm3=density_kgm3,
        efficiency=efficiency,
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


@check(
    family=Family.GEARS,
    title="Power for a climb",
    purpose="What the legs must give to ride at a speed: against air, tyres, bearings, slope and chain.",
    formula=(
        r"P = \frac{1}{\eta}\left(\frac{1}{2}\rho (A + F_w) v_a^2 v + C_{rr} m g v \cos\beta"
        r" + v\,\frac{91 + 8.7 v}{1000} + m g v \sin\beta + \Delta E_k\right)"
    ),
    source=ROAD_SOURCE,
    at_verdict={
        Verdict.FITS: "The climb can be ridden at this speed.",
        Verdict.WITH_CARE: "It is close, or the bike rolls by itself. Plan for a lower gear or for the brakes.",
        Verdict.DOES_NOT_FIT: "Lower the speed; then look with hill-cadence whether the gear is low enough for it.",
    },
    example={"mass": "95 kg", "gradient": "8 %", "speed": "8 km/h", "power": "200 W"},
    drawing="hill-power",
    notes=ROAD_NOTES + " ΔE_k is the change of kinetic energy by the time; at a steady speed it is nothing.",
)
def hill_power(
    mass_kg: Mass,
    gradient_percent: Gradient,
    speed_kmh: Annotated[float, In(Unit.KILOMETRE_PER_HOUR), Bounds(0.5, 130), Meaning("speed over the road")],
    wind_kmh: Wind = 0.0,
    cda_m2: DragArea = 0.35,
    crr: Rolling = 0.005,
    density_kgm3: Density = STANDARD_DENSITY,
    efficiency: Efficiency = CHAIN_EFFICIENCY,
    power_w: Annotated[
        float | None, In(Unit.WATT), Bounds(10, 2500), Meaning("what the rider can hold, to compare with")
    ] = None,
    from_speed_kmh: Annotated[
        float | None,
        In(Unit.KILOMETRE_PER_HOUR),
        Bounds(0, 130),
        Meaning("speed at the beginning, for a change of speed"),
    ] = None,
    to_speed_kmh: Annotated[
        float | None, In(Unit.KILOMETRE_PER_HOUR), Bounds(0, 130), Meaning("speed at the end, for a change of speed")
    ] = None,
    time_min: Annotated[
        float | None, In(Unit.MINUTE), Bounds(0.01, 120), Meaning("time that the change of speed takes")
    ] = None,
) -> CheckResult:
    """Power at the pedals that a climb takes at a speed [W]. Source: Martin et al. 1998, from memory."""
    road = road_of(
        mass_kg,
        gradient_percent,
        wind_kmh=wind_kmh,
        cda_m2=cda_m2,
        crr=crr,
        density_kgm3=density_kgm3,
        efficiency=efficiency,
    )
    speed = speed_kmh / KMH_PER_MPS
    kinetic = _kinetic(road, from_speed_kmh, to_speed_kmh, time_min)
    power = road_power(road, speed, kinetic_w=kinetic)
    working = [f"Speed: {_n(speed_kmh, 2)} km/h / 3.6 = {_n(speed, 3)} m/s", *_parts_working(road, speed, power)]
    if kinetic:
        working.append(f"Change of speed: {_n(kinetic)} W")
    working.append(f"At the wheel, together: {_n(power.net_w)} W")
    if power.net_w > 0:
        working.append(f"At the pedals: {_n(power.net_w)} / {_n(road.efficiency, 4)} = {_n(power.total_w)} W")
    verdict, advice = _judge_power(power, power_w)
    return CheckResult(
        verdict=verdict,
        value=power.total_w,
        unit=Unit.WATT,
        limit=power_w,
        margin=None if power_w is None else power_w - power.total_w,
        working=tuple(working),
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


def _kinetic(road: Road, from_kmh: float | None, to_kmh: float | None, time_min: float | None) -> float:
    """Power of a change of speed [W]; 0 at a steady speed."""
    if from_kmh is None and to_kmh is None and time_min is None:
        return 0.0
    if from_kmh is None or to_kmh is None or time_min is None:
        raise InputError("from-speed, to-speed and time belong together: give all three for a change of speed, or none")
    return kinetic_power_w(road.mass_kg, from_kmh / KMH_PER_MPS, to_kmh / KMH_PER_MPS, time_min * 60)


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


@check(
    family=Family.GEARS,
    title="Cadence on a climb",
    purpose=(
        "Will it get me up the hill? The power that a rider can hold gives a speed on the slope, and the lowest gear "
        "turns that speed into a cadence. Too slow a cadence hurts the knees and stops the rider."
    ),
    formula=r"P(v) = P_{rider} \Rightarrow v, \quad k = \frac{60\,v}{D}, \quad D = \frac{R}{S}\,U",
    source=ROAD_SOURCE,
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
    asked=Asked(force=Force.TELLS, when_known=True),
)
def hill_cadence(
    power_w: RiderPower,
    mass_kg: Mass,
    gradient_percent: Annotated[Gradient, Fact("worked-out.steepest-climb")],
    ring: LowestRing,
    sprocket: LowestSprocket,
    circumference_mm: DrivenCircumference,
    wind_kmh: Wind = 0.0,
    cda_m2: DragArea = 0.35,
    crr: Rolling = 0.005,
    density_kgm3: Density = STANDARD_DENSITY,
    efficiency: Efficiency = CHAIN_EFFICIENCY,
    cadence_rpm: LeastCadence = USUAL_CADENCE,
) -> CheckResult:
    """Cadence that a gear leaves on a climb at the power that the rider can hold [rev/min].

    Source: Martin et al. 1998, from memory.
    """
    road = road_of(
        mass_kg,
        gradient_percent,
        wind_kmh=wind_kmh,
        cda_m2=cda_m2,
        crr=crr,
        density_kgm3=density_kgm3,
        efficiency=efficiency,
    )
    speed = steady_speed_mps(road, power_w)
    speed_kmh = speed * KMH_PER_MPS
    if speed_kmh > _FASTEST_KMH:
        raise InputError(
            f"gradient: the bike would run at {speed_kmh:.0f} km/h; the model ends at {_FASTEST_KMH:g} km/h"
        )
    development = development_m(ring, sprocket, circumference_mm)
    cadence = 60 * speed / development
    parts = road_power(road, speed)
    margin = cadence - cadence_rpm
    slow = f" At {_n(speed_kmh)} km/h balance is hard." if speed_kmh < _HARD_TO_BALANCE_KMH else ""
    if not at_least(cadence, cadence_rpm):
        verdict = Verdict.DOES_NOT_FIT
        wanted = ring / sprocket * cadence / cadence_rpm
        advice = f"The gear is too high: a ratio of {_n(wanted, 2)} or lower keeps the cadence.{slow}"
    elif not at_least(cadence, cadence_rpm * (1 + MODEL_SHARE)) or slow:
        verdict, advice = Verdict.WITH_CARE, f"It is close; the model itself may be a tenth off.{slow}"
    else:
        verdict, advice = Verdict.FITS, "The rider gets up at a good cadence."
    return CheckResult(
        verdict=verdict,
        value=cadence,
        unit=Unit.PER_MINUTE,
        limit=cadence_rpm,
        margin=margin,
        working=(
            f"Try speeds until the parts add up to {_n(power_w)} W: {_n(speed_kmh, 2)} km/h / 3.6 = {_n(speed, 3)} m/s",
            *_parts_working(road, speed, parts),
            f"At the pedals: {_n(parts.net_w)} / {_n(road.efficiency, 4)} = {_n(parts.total_w)} W",
            f"Development: {ring} / {sprocket} × {_n(circumference_mm / 1000, 3)} m = {_n(development, 3)} m",
            f"Cadence: 60 × {_n(speed, 3)} / {_n(development, 3)} = {_n(cadence)} rev/min",
        ),
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
