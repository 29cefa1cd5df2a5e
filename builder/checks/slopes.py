"""The steepest slope that a gear allows at a least cadence, and the density of the air on the way up."""

from __future__ import annotations

import math

from builder.checks.gears import FAMILY, development_m
from builder.checks.hills import (
    AIR_AND_ROAD,
    DRIVEN_CIRCUMFERENCE,
    KMH_PER_MPS,
    LEAST_CADENCE,
    MASS,
    MODEL_SHARE,
    POWER,
    ROAD_NOTES,
    ROAD_SOURCE,
    road_of,
)
from builder.checks.inputs import RING, SPROCKET
from builder.checks.judging import at_least, named, number, number_or_none, quantity, whole
from builder.checks.result import Check, CheckResult, Inputs, Provenance, Source, Verdict
from builder.checks.road_power import air_density_kgm3, road_power, steepest_gradient
from builder.model.units import Unit, write_number

# Above this, grip and balance stop a rider before the gear does; this workshop guide's own choice.
_GRIP_PERCENT = 25.0


def _n(value: float, decimals: int = 1) -> str:
    return write_number(value, decimals)


def _steepest(inputs: Inputs) -> CheckResult:
    power_w, cadence = number(inputs, "power"), number(inputs, "cadence")
    ring, sprocket = whole(inputs, "ring"), whole(inputs, "sprocket")
    circumference = number(inputs, "circumference")
    climb = number_or_none(inputs, "gradient")
    road = road_of(inputs, 0.0)
    development = development_m(ring, sprocket, circumference)
    speed = cadence * development / 60
    gradient = steepest_gradient(road, power_w, speed)
    percent = None if gradient is None else 100 * gradient
    flat = road_power(road, speed)
    air, wind = 0.5 * road.density_kgm3 * (road.cda_m2 + road.wheel_drag_m2), speed + road.headwind_mps
    wheel_w, weight_n = power_w * road.efficiency, road.mass_kg * road.gravity_mps2
    left_n = (wheel_w - flat.aerodynamic_w - flat.bearing_w) / speed
    share = left_n / weight_n
    working = [
        f"Development: {ring} / {sprocket} × {_n(circumference / 1000, 3)} m = {_n(development, 3)} m",
        f"Speed: {_n(cadence)} × {_n(development, 3)} / 60 = {_n(speed, 3)} m/s = {_n(speed * KMH_PER_MPS)} km/h",
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
    verdict, advice = _judge_steepest(percent, climb)
    return CheckResult(
        check="steepest-gradient",
        verdict=verdict,
        value=percent,
        unit=Unit.PERCENT,
        limit=climb,
        margin=None if climb is None or percent is None else percent - climb,
        working=tuple(working),
        source=str(ROAD_SOURCE),
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


STEEPEST_GRADIENT = Check(
    name="steepest-gradient",
    family=FAMILY,
    title="Steepest gradient for a least cadence",
    purpose="How steep a road may be before the lowest gear forces the rider below the cadence that they can turn.",
    formula=(r"\sin\beta + C_{rr}\cos\beta = \frac{\eta P - P_{air} - P_{bearing}}{m g v}, \quad v = \frac{k\,D}{60}"),
    inputs=(
        POWER,
        MASS,
        RING,
        SPROCKET,
        DRIVEN_CIRCUMFERENCE,
        LEAST_CADENCE,
        quantity("gradient", "steepest stretch of the climb, to compare with", Unit.PERCENT, 0, 45, optional=True),
        *AIR_AND_ROAD,
    ),
    source=ROAD_SOURCE,
    run=_steepest,
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
)


def _air_density(inputs: Inputs) -> CheckResult:
    height, temperature = number(inputs, "height"), number_or_none(inputs, "temperature")
    density = air_density_kgm3(height, temperature)
    standard = air_density_kgm3(height)
    at = "the standard temperature of that height" if temperature is None else f"{_n(temperature)} °C"
    return CheckResult(
        check="air-density",
        verdict=Verdict.FITS,
        value=density,
        unit=Unit.KILOGRAM_PER_CUBIC_METRE,
        working=(
            f"Standard temperature: 288.15 − 0.0065 × {_n(height)} = {_n(288.15 - 0.0065 * height, 2)} K",
            f"Standard pressure: 101325 × ({_n(288.15 - 0.0065 * height, 2)} / 288.15)^5.2559, then by 287.05 and {at}",
            f"Density: {_n(density, 4)} kg/m³; at the standard temperature {_n(standard, 4)} kg/m³",
        ),
        source=str(AIR_DENSITY.source),
        advice="Give it to hill-power and hill-cadence as density.",
        values=(named("standard", standard, Unit.KILOGRAM_PER_CUBIC_METRE),),
    )


AIR_DENSITY = Check(
    name="air-density",
    family=FAMILY,
    title="Density of the air",
    purpose="Air is thinner high up and on hot days; on a mountain road it holds the rider back less.",
    formula=r"\rho = \frac{p_0}{R\,T}\left(1 - \frac{0.0065\,h}{288.15}\right)^{5.2559}",
    inputs=(
        quantity("height", "above the sea", Unit.METRE, -450, 6000),
        quantity(
            "temperature",
            "of the air; without it, the standard atmosphere's",
            Unit.CELSIUS,
            -40,
            55,
            optional=True,
        ),
    ),
    source=Source(
        title="U.S. Standard Atmosphere 1976 (ISO 2533) and the ideal gas law",
        locator="lowest layer, constants from memory",
        provenance=Provenance.FROM_MEMORY,
    ),
    run=_air_density,
    at_verdict={Verdict.FITS: "Use it for the climb."},
    example={"height": "1500 m", "temperature": "20 °C"},
    notes="ρ is the density of dry air, p0 101325 Pa, R 287.05 J/(kg K), T the temperature in K, h the height in m.",
)

CHECKS = (STEEPEST_GRADIENT, AIR_DENSITY)
