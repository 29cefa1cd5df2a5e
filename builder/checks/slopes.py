"""The steepest slope that a gear allows at a least cadence, and the density of the air on the way up."""

from __future__ import annotations

import math
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.gears import development_m
from builder.checks.hills import (
    KMH_PER_MPS,
    MODEL_SHARE,
    ROAD_NOTES,
    ROAD_SOURCE,
    STANDARD_DENSITY,
    USUAL_CADENCE,
    Density,
    DragArea,
    DrivenCircumference,
    Efficiency,
    LeastCadence,
    LowestRing,
    LowestSprocket,
    Mass,
    RiderPower,
    Rolling,
    Wind,
    road_of,
)
from builder.checks.judging import at_least, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.checks.road_power import CHAIN_EFFICIENCY, air_density_kgm3, road_power
from builder.checks.road_power import steepest_gradient as steepest_slope
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

# Above this, grip and balance stop a rider before the gear does; this workshop guide's own choice.
_GRIP_PERCENT = 25.0


def _n(value: float, decimals: int = 1) -> str:
    return write_number(value, decimals)


@check(
    family=Family.GEARS,
    title="Steepest gradient for a least cadence",
    purpose="How steep a road may be before the lowest gear forces the rider below the cadence that they can turn.",
    formula=r"\sin\beta + C_{rr}\cos\beta = \frac{\eta P - P_{air} - P_{bearing}}{m g v}, \quad v = \frac{k\,D}{60}",
    source=ROAD_SOURCE,
    at_verdict={
        Verdict.FITS: "This gear will do.",
        Verdict.WITH_CARE: "Close to the limit of the gear, or of grip and balance.",
        Verdict.DOES_NOT_FIT: "Fit a larger sprocket or a smaller chainring; try the new teeth here first.",
    },
    example={
        "power": "180 W",
        "mass": "95 kg",
        "ring": "32",
        "sprocket": "46",
        "circumference": "2200 mm",
        "cadence": "55 rev/min",
        "gradient": "9 %",
    },
    drawing="hill-cadence",
    notes=ROAD_NOTES + " k is the cadence, D the development.",
    asked=Asked(force=Force.TELLS, when_known=True),
)
def steepest_gradient(
    power_w: RiderPower,
    mass_kg: Mass,
    ring: LowestRing,
    sprocket: LowestSprocket,
    circumference_mm: DrivenCircumference,
    cadence_rpm: LeastCadence = USUAL_CADENCE,
    gradient_percent: Annotated[
        float | None,
        In(Unit.PERCENT),
        Bounds(0, 45),
        Meaning("steepest stretch of the climb, to compare with"),
        Fact("worked-out.steepest-climb"),
    ] = None,
    wind_kmh: Wind = 0.0,
    cda_m2: DragArea = 0.35,
    crr: Rolling = 0.005,
    density_kgm3: Density = STANDARD_DENSITY,
    efficiency: Efficiency = CHAIN_EFFICIENCY,
) -> CheckResult:
    """Steepest slope that a gear allows at a least cadence [%]. Source: Martin et al. 1998, from memory."""
    road = road_of(
        mass_kg, 0.0, wind_kmh=wind_kmh, cda_m2=cda_m2, crr=crr, density_kgm3=density_kgm3, efficiency=efficiency
    )
    development = development_m(ring, sprocket, circumference_mm)
    speed = cadence_rpm * development / 60
    gradient = steepest_slope(road, power_w, speed)
    percent = None if gradient is None else 100 * gradient
    flat = road_power(road, speed)
    air, wind = 0.5 * road.density_kgm3 * (road.cda_m2 + road.wheel_drag_m2), speed + road.headwind_mps
    wheel_w, weight_n = power_w * road.efficiency, road.mass_kg * road.gravity_mps2
    left_n = (wheel_w - flat.aerodynamic_w - flat.bearing_w) / speed
    share = left_n / weight_n
    working = [
        f"Development: {ring} / {sprocket} × {_n(circumference_mm / 1000, 3)} m = {_n(development, 3)} m",
        f"Speed: {_n(cadence_rpm)} × {_n(development, 3)} / 60 = {_n(speed, 3)} m/s = {_n(speed * KMH_PER_MPS)} km/h",
        f"At the wheel: {_n(power_w)} W × {_n(road.efficiency, 4)} = {_n(wheel_w)} W",
        f"Air: {_n(air, 4)} × {_n(wind, 3)} × {_n(abs(wind), 3)} × {_n(speed, 3)} = {_n(flat.aerodynamic_w)} W;"
        f" bearings {_n(flat.bearing_w)} W",
        f"Force left: ({_n(wheel_w)} − {_n(flat.aerodynamic_w)} − {_n(flat.bearing_w)}) / {_n(speed, 3)}"
        f" = {_n(left_n)} N",
        f"By the weight: {_n(left_n)} / ({_n(road.mass_kg)} × 9.80665) = {_n(share, 4)}",
        "The force left is more than the weight: no slope is too steep"
        if percent is None
        else f"Angle: arcsin {_n(share, 4)} − arctan {_n(road.crr, 4)}"
        f" = {_n(math.degrees(math.atan(percent / 100)), 2)}°, whose tangent is {_n(percent)} %",
    ]
    verdict, advice = _judge_steepest(percent, gradient_percent)
    return CheckResult(
        verdict=verdict,
        value=percent,
        unit=Unit.PERCENT,
        limit=gradient_percent,
        margin=None if gradient_percent is None or percent is None else percent - gradient_percent,
        working=tuple(working),
        advice=advice,
        values=(
            named("speed", speed * KMH_PER_MPS, Unit.KILOMETRE_PER_HOUR),
            named("development", development, Unit.METRE),
        ),
    )


def _judge_steepest(percent: float | None, climb: float | None) -> tuple[Verdict, str]:
    if percent is not None and percent <= 0:
        return Verdict.DOES_NOT_FIT, "Not even a level road at this cadence: the gear is too high for the power."
    if climb is None:
        if percent is None or percent > _GRIP_PERCENT:
            return Verdict.WITH_CARE, "The power is there; on such slopes grip and balance set the limit, not the gear."
        return Verdict.FITS, "Compare it with the steepest stretch of the rider's roads."
    if percent is not None and not at_least(percent, climb):
        return Verdict.DOES_NOT_FIT, "The climb is steeper than this gear allows at the least cadence."
    if percent is not None and not at_least(percent, climb * (1 + MODEL_SHARE)):
        return Verdict.WITH_CARE, "It is close; the model itself may be a tenth off."
    return Verdict.FITS, "The climb can be ridden at the least cadence or above."


@check(
    family=Family.GEARS,
    title="Density of the air",
    purpose="Air is thinner high up and on hot days; on a mountain road it holds the rider back less.",
    formula=r"\rho = \frac{p_0}{R\,T}\left(1 - \frac{0.0065\,h}{288.15}\right)^{5.2559}",
    source=Source(
        title="U.S. Standard Atmosphere 1976 (ISO 2533) and the ideal gas law",
        locator="lowest layer, constants from memory",
        provenance=Provenance.FROM_MEMORY,
    ),
    at_verdict={Verdict.FITS: "Use it for the climb."},
    example={"height": "1500 m", "temperature": "20 °C"},
    notes="ρ is the density of dry air, p0 101325 Pa, R 287.05 J/(kg K), T the temperature in K, h the height in m.",
)
def air_density(
    height_m: Annotated[float, In(Unit.METRE), Bounds(-450, 6000), Meaning("above the sea")],
    temperature_celsius: Annotated[
        float | None,
        In(Unit.CELSIUS),
        Bounds(-40, 55),
        Meaning("of the air; without it, the standard atmosphere's"),
    ] = None,
) -> CheckResult:
    """Density of dry air [kg/m³]. Source: U.S. Standard Atmosphere 1976, constants from memory."""
    density = air_density_kgm3(height_m, temperature_celsius)
    standard = air_density_kgm3(height_m)
    at = "the standard temperature of that height" if temperature_celsius is None else f"{_n(temperature_celsius)} °C"
    return CheckResult(
        verdict=Verdict.FITS,
        value=density,
        unit=Unit.KILOGRAM_PER_CUBIC_METRE,
        working=(
            f"Standard temperature: 288.15 − 0.0065 × {_n(height_m)} = {_n(288.15 - 0.0065 * height_m, 2)} K",
            f"Standard pressure: 101325 × ({_n(288.15 - 0.0065 * height_m, 2)} / 288.15)^5.2559, then by 287.05 "
            f"and {at}",
            f"Density: {_n(density, 4)} kg/m³; at the standard temperature {_n(standard, 4)} kg/m³",
        ),
        advice="Give it to hill-power and hill-cadence as density.",
        values=(named("standard", standard, Unit.KILOGRAM_PER_CUBIC_METRE),),
    )
