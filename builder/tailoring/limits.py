"""The limits of one bike's parts in words: what a reading is held against, by the checks' own figures."""

from __future__ import annotations

import math

from builder.checks.brake_wear import LINING_AT_A_LOOK_MM, RIM_HOLLOW_MM, ROD_RUBBER_MM
from builder.checks.chain_wear import SPROCKETS_TOO, wear_limit_percent
from builder.checks.cockpit import EASY_GAP_MM, MOST_UNCLAMPED_MM, least_insertion_mm
from builder.checks.suspension import USUAL_SAG
from builder.checks.tyre_pressure import Bead, highest_pressure_bar
from builder.checks.wheels import OTHER_BRAKE_MM, RIM_BRAKE_MM, TRUED_MM
from builder.model.bike import Bike
from builder.model.facts import BrakeKind, Fitted, Role
from builder.model.parts import Brake, Cassette, Fork, Pads, Rim, Rotor, SeatPost, Shock, Tyre
from builder.model.units import Unit, write_number, write_quantity, write_range

_LINKS, _PITCH_MM = 24, 12.7
_POST_DIAMETERS = 2.0
_ON_THE_RIM = (BrakeKind.RIM, BrakeKind.ROD)
# Disc pads and rim pads are written in one field; what is typical of each differs.
_RIM_PADS = {Role.FRONT_PADS: "front-rim-pads.least", Role.REAR_PADS: "rear-rim-pads.least"}
# Keeps a round figure whole where its last bit differs between machines.
_HAIR = 1e-6


def limits_of(bike: Bike) -> dict[str, str]:
    """What is known of the bike's limits, by the names of the catalogue's values; what is not known is left out."""
    found: dict[str, str] = {
        "rim.trued": _mm(TRUED_MM),
        "rim.hollow-most": _mm(RIM_HOLLOW_MM),
        "lining.least": _mm(LINING_AT_A_LOOK_MM),
        "rod-pads.least": _mm(ROD_RUBBER_MM),
        "chain.unworn": _grown(0.0),
        "steerer.gap-least": _mm(EASY_GAP_MM),
        "steerer.gap-most": _mm(MOST_UNCLAMPED_MM),
    }
    for role in (Role.FRONT_ROTOR, Role.REAR_ROTOR):
        part = bike.part(role)
        if isinstance(part, Rotor) and part.least_thickness_mm is not None:
            found[f"{role.value}.least"] = _mm(part.least_thickness_mm)
    for role in (Role.FRONT_PADS, Role.REAR_PADS):
        part = bike.part(role)
        if isinstance(part, Pads) and part.least_thickness_mm is not None:
            found[f"{role.value}.least"] = _mm(part.least_thickness_mm)
            found[_RIM_PADS[role]] = f"{_mm(part.least_thickness_mm)}."
    for tyre, rim in ((Role.FRONT_TYRE, Role.FRONT_RIM), (Role.REAR_TYRE, Role.REAR_RIM)):
        most_bar = _most_bar(bike.part(tyre), bike.part(rim))
        if most_bar is not None:
            found[f"{tyre.value}.most"] = f"{write_quantity(_down(most_bar), Unit.BAR)}, the smaller of tyre and rim"
        part = bike.part(tyre)
        if isinstance(part, Tyre) and part.least_pressure_bar is not None:
            found[f"{tyre.value}.least"] = write_quantity(_up(part.least_pressure_bar), Unit.BAR)
    for brake, name in ((Role.FRONT_BRAKE, "front-rim.run-out"), (Role.REAR_BRAKE, "rear-rim.run-out")):
        part = bike.part(brake)
        if isinstance(part, Brake) and part.brake_kind is not None:
            found[name] = _mm(RIM_BRAKE_MM if part.brake_kind in _ON_THE_RIM else OTHER_BRAKE_MM)
    sprockets = _sprockets(bike)
    if sprockets is not None:
        found["chain.longest"] = _grown(wear_limit_percent(sprockets))
        found["chain.longest-for-sprockets"] = _grown(SPROCKETS_TOO)
    post = bike.part(Role.SEAT_POST)
    if isinstance(post, SeatPost) and post.diameter_mm is not None and post.least_insertion_mm is not None:
        found["post.least"] = _mm(least_insertion_mm(post.diameter_mm, _POST_DIAMETERS, post.least_insertion_mm))
    fork, shock = bike.part(Role.FORK), bike.part(Role.SHOCK)
    if isinstance(fork, Fork) and fork.travel_mm is not None:
        found["fork.sag"] = _sag(fork.travel_mm)
    if isinstance(shock, Shock) and shock.stroke_mm is not None:
        found["shock.sag"] = _sag(shock.stroke_mm)
    return found


def _sprockets(bike: Bike) -> int | None:
    """How many sprockets the chain runs on: one behind a gear hub or on a single-speed bike."""
    cassette = bike.part(Role.CASSETTE)
    if isinstance(cassette, Cassette) and cassette.sprockets:
        return len(cassette.sprockets)
    return 1 if Role.CASSETTE in bike.without else None


def _down(bar: float) -> float:
    """A highest pressure to a tenth, never rounded past the limit [bar]."""
    return math.floor(bar * 10 + _HAIR) / 10


def _up(bar: float) -> float:
    """A least pressure to a tenth, never rounded below the limit [bar]."""
    return math.ceil(bar * 10 - _HAIR) / 10


def _most_bar(tyre: object, rim: object) -> float | None:
    """The highest pressure [bar]; None unless both tyre and rim say theirs, and the rim whether it has hooks."""
    if not isinstance(tyre, Tyre) or not isinstance(rim, Rim) or rim.hooks is None:
        return None
    if tyre.greatest_pressure_bar is None or rim.greatest_pressure_bar is None:
        return None
    bead = Bead.HOOKED if rim.hooks is Fitted.FITTED else Bead.HOOKLESS
    return highest_pressure_bar(tyre.greatest_pressure_bar, rim.greatest_pressure_bar, bead)


def _mm(value: float) -> str:
    return write_quantity(value, Unit.MILLIMETRE, 2)


def _grown(percent: float) -> str:
    return write_quantity(_LINKS * _PITCH_MM * (1 + percent / 100), Unit.MILLIMETRE, 1)


def _sag(travel_mm: float) -> str:
    low, high = USUAL_SAG.low / 100 * travel_mm, USUAL_SAG.high / 100 * travel_mm
    span = f"{write_number(low, 0)} to {write_quantity(high, Unit.MILLIMETRE, 0)}"
    return f"{span}, {write_range(USUAL_SAG, Unit.PERCENT)} of {write_quantity(travel_mm, Unit.MILLIMETRE)}"
