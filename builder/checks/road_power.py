"""The road power model of Martin et al. (1998): what it takes to move a bike and its rider along a road.

Aerodynamic drag with the turning of the wheels, rolling resistance, wheel bearings, gravity, change of speed, and the
loss in the chain. Its authors found it to agree with measured power within a standard error of 2.7 W (their abstract).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from builder.checks.result import InputError
from builder.checks.solving import root_between

STANDARD_GRAVITY = 9.80665
# Drag area of the turning wheels [m2], wheel inertia [kg m2], tyre radius [m] and chain efficiency in the paper.
WHEEL_DRAG_M2 = 0.0044
WHEELS_INERTIA_KGM2 = 0.14
WHEEL_RADIUS_M = 0.311
CHAIN_EFFICIENCY = 0.97698
# Bearing torque of the wheels, as power [W] over speed [m/s]: v (91 + 8.7 v) / 1000, after Dahn et al. 1991.
_BEARING_CONSTANT, _BEARING_SLOPE = 0.091, 0.0087
# The standard atmosphere.
_SEA_LEVEL_K, _SEA_LEVEL_PA, _LAPSE_KPM = 288.15, 101325.0, 0.0065
_EARTH_RADIUS_M = 6356766.0
_GAS_CONSTANT_AIR = 287.05287


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """Everything about rider, bike, road and air that stays the same at every speed.

    `gradient` is rise over run; `headwind_mps` is negative for a tail wind; `crr` has no unit.
    """

    mass_kg: float
    gradient: float
    headwind_mps: float = 0.0
    cda_m2: float = 0.35
    crr: float = 0.005
    density_kgm3: float = 1.225
    efficiency: float = CHAIN_EFFICIENCY
    wheel_drag_m2: float = WHEEL_DRAG_M2
    gravity_mps2: float = STANDARD_GRAVITY


@dataclass(frozen=True, slots=True, kw_only=True)
class Power:
    """The parts of the power at the pedals [W]; `net_w` is what reaches the road, `total_w` what the legs give."""

    aerodynamic_w: float
    rolling_w: float
    bearing_w: float
    gravity_w: float
    kinetic_w: float
    drivetrain_w: float

    @property
    def net_w(self) -> float:
        """All but the loss in the chain [W]."""
        return self.aerodynamic_w + self.rolling_w + self.bearing_w + self.gravity_w + self.kinetic_w

    @property
    def total_w(self) -> float:
        """Power at the pedals [W]; negative downhill, where the brakes take it."""
        return self.net_w + self.drivetrain_w


def bearing_power_w(speed_mps: float) -> float:
    """Loss in the wheel bearings [W].

    Source: Martin et al. 1998, after Dahn et al. 1991 (from memory).
    """
    return speed_mps * (_BEARING_CONSTANT + _BEARING_SLOPE * speed_mps)


def kinetic_power_w(
    mass_kg: float,
    from_mps: float,
    to_mps: float,
    time_s: float,
    *,
    inertia_kgm2: float = WHEELS_INERTIA_KGM2,
    radius_m: float = WHEEL_RADIUS_M,
) -> float:
    """Mean power that a change of speed takes [W], the turning of the wheels included; slowing down is negative.

    Source: Martin et al. 1998 (from memory).
    """
    return (mass_kg + inertia_kgm2 / radius_m**2) * (to_mps**2 - from_mps**2) / (2 * time_s)


def road_power(road: Road, speed_mps: float, *, kinetic_w: float = 0.0) -> Power:
    """Power at a steady speed [m/s], in its parts, with `kinetic_w` for a change of speed.

    Drag goes with the square of the speed through the air and pushes where a tail wind is faster than the bike. The
    chain takes its share of what passes through it, and of nothing downhill.

    Source: Martin, Milliken, Cobb, McFadden and Coggan, Validation of a Mathematical Model for Road Cycling Power,
    Journal of Applied Biomechanics 14 (1998), 276-291 (equations from memory).
    """
    through_air = speed_mps + road.headwind_mps
    along = 1 / math.sqrt(1 + road.gradient**2)  # cosine of the slope's angle; the sine is gradient times this
    weight_n = road.mass_kg * road.gravity_mps2
    drag_area = road.cda_m2 + road.wheel_drag_m2
    parts = Power(
        aerodynamic_w=0.5 * road.density_kgm3 * drag_area * through_air * abs(through_air) * speed_mps,
        rolling_w=road.crr * weight_n * along * speed_mps,
        bearing_w=bearing_power_w(speed_mps),
        gravity_w=weight_n * road.gradient * along * speed_mps,
        kinetic_w=kinetic_w,
        drivetrain_w=0.0,
    )
    if parts.net_w <= 0:
        return parts
    return replace(parts, drivetrain_w=parts.net_w * (1 / road.efficiency - 1))


def steady_speed_mps(road: Road, power_w: float) -> float:
    """The speed [m/s] at which `power_w`, more than nothing, is just used up.

    Force against the bike grows with speed, so that above the speed where it begins to hold the bike back the power
    grows without end, and there is one such speed.
    """

    def surplus(speed: float) -> float:
        return road_power(road, speed).total_w - power_w

    high = 1.0
    while surplus(high) < 0:
        high *= 2
    return root_between(surplus, 0.0, high)


def steepest_gradient(road: Road, power_w: float, speed_mps: float) -> float | None:
    """The gradient (rise over run) at which `power_w` just holds `speed_mps`; None where no slope is too steep.

    The gradient of `road` itself is not used. With k the force left for slope and rolling by the weight, it solves
    `sin a + Crr cos a = k`.

    Raises:
        InputError: even straight down the air would take more than the power and the weight give.
    """
    flat = road_power(replace(road, gradient=0.0, crr=0.0), speed_mps)
    left_n = (power_w * road.efficiency - flat.net_w) / speed_mps
    k = left_n / (road.mass_kg * road.gravity_mps2) / math.sqrt(1 + road.crr**2)
    if k >= 1:
        return None
    if k <= -1:
        raise InputError(
            f"cadence: at {speed_mps * 3.6:.0f} km/h the air takes more than the power and any slope give; lower it"
        )
    return math.tan(math.asin(k) - math.atan(road.crr))


def air_density_kgm3(height_m: float, temperature_c: float | None = None) -> float:
    """Density of dry air [kg/m3] at a height [m]; at the standard atmosphere's temperature, or at the one given.

    Source: U.S. Standard Atmosphere 1976 (ISO 2533), lowest layer; ideal gas law.
    """
    geopotential_m = height_m * _EARTH_RADIUS_M / (_EARTH_RADIUS_M + height_m)
    standard_k = _SEA_LEVEL_K - _LAPSE_KPM * geopotential_m
    exponent = STANDARD_GRAVITY / (_GAS_CONSTANT_AIR * _LAPSE_KPM)
    pressure_pa = _SEA_LEVEL_PA * math.pow(standard_k / _SEA_LEVEL_K, exponent)
    air_k = standard_k if temperature_c is None else temperature_c + 273.15
    return pressure_pa / (_GAS_CONSTANT_AIR * air_k)
