"""The questions about gears and hills: what the bike gains. They inform and force nothing."""

from __future__ import annotations

from builder.checks.gears import wheel_circumference_mm
from builder.checks.result import Given
from builder.model.facts import Role
from builder.model.parts import Cassette, Crankset, Tyre
from builder.model.units import Measure
from builder.planning.outfit import Outfit
from builder.planning.question import Answer, Question, as_kind

# A bike that was never weighed: common practice takes some 13 kg for a bike with its fittings.
_USUAL_BIKE_KG = 13.0
_USUAL_CADENCE = 60.0


def circumference(outfit: Outfit) -> Measure | None:
    """Circumference of the rear wheel [mm]: the measured roll-out, or that of the tyre's size."""
    if outfit.bike.measured.wheel_circumference_mm is not None:
        return outfit.bike.measured.wheel_circumference_mm
    tyre = as_kind(outfit, Role.REAR_TYRE, Tyre)
    if tyre is None or tyre.bead_seat_mm is None or tyre.width_mm is None:
        return None
    return Measure(wheel_circumference_mm(tyre.bead_seat_mm, tyre.width_mm))


def total_mass_kg(outfit: Outfit) -> float | None:
    """Rider, luggage and bike [kg], where the rider's mass is known."""
    rider = outfit.bike.rider
    if rider.mass_kg is None:
        return None
    return rider.mass_kg + (rider.luggage_kg or 0.0) + (outfit.bike.measured.bike_mass_kg or _USUAL_BIKE_KG)


def _teeth(outfit: Outfit) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
    cassette, crankset = as_kind(outfit, Role.CASSETTE, Cassette), as_kind(outfit, Role.CRANKSET, Crankset)
    if cassette is None or crankset is None or not cassette.sprockets or not crankset.rings:
        return None
    return crankset.rings, cassette.sprockets


def _ask_upgrade(outfit: Outfit) -> Answer:
    now = _teeth(Outfit(found=outfit.found, bike=outfit.found))
    then, round_mm = _teeth(outfit), circumference(outfit)
    if now is None or then is None or not outfit.replaced & {Role.CASSETTE, Role.CRANKSET}:
        return None
    if min(then[0]) * max(now[1]) == min(now[0]) * max(then[1]):
        return None  # the lowest gear stays as it is, as where worn sprockets are replaced by new ones
    inputs: dict[str, Given] = {
        "rings": now[0],
        "sprockets": now[1],
        "new-rings": then[0],
        "new-sprockets": then[1],
    }
    if round_mm is not None:
        inputs["circumference"] = round_mm
    return inputs


def climb_inputs(outfit: Outfit) -> dict[str, Given] | None:
    """What the checks of climbing need of a bike and its rider, in the lowest gear; None where they are not known."""
    teeth, round_mm, mass = _teeth(outfit), circumference(outfit), total_mass_kg(outfit)
    rider = outfit.bike.rider
    if teeth is None or round_mm is None or mass is None or rider.power_w is None:
        return None
    return {
        "power": rider.power_w,
        "mass": mass,
        "ring": min(teeth[0]),
        "sprocket": max(teeth[1]),
        "circumference": round_mm,
        "cadence": rider.least_cadence_rpm or _USUAL_CADENCE,
    }


def _ask_steepest(outfit: Outfit) -> Answer:
    inputs = climb_inputs(outfit)
    if inputs is not None and outfit.bike.climbs:
        inputs["gradient"] = max(climb.gradient_percent for climb in outfit.bike.climbs)
    return inputs


def _ask_cadence(outfit: Outfit) -> Answer:
    inputs = climb_inputs(outfit)
    if inputs is None or not outfit.bike.climbs:
        return None
    return {**inputs, "gradient": max(climb.gradient_percent for climb in outfit.bike.climbs)}


_LOWEST_GEAR = frozenset({Role.CASSETTE, Role.CRANKSET, Role.REAR_TYRE})

QUESTIONS: tuple[Question, ...] = (
    Question(check="gear-upgrade", roles=_LOWEST_GEAR, ask=_ask_upgrade, binding=False),
    Question(check="steepest-gradient", roles=_LOWEST_GEAR, ask=_ask_steepest, binding=False),
    Question(check="hill-cadence", roles=_LOWEST_GEAR, ask=_ask_cadence, binding=False),
)
