"""One bike: its parts, what was measured on it, who rides it and which jobs are planned.

The bounds of figures are those of the checks that read them, as in `builder.model.parts`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from builder.model.facts import Role
from builder.model.fields import (
    Bounds,
    In,
    Kilograms,
    Kilometres,
    MeasuredMillimetres,
    Percent,
    Ref,
    RevPerMinute,
    Text,
    Watts,
)
from builder.model.parts import Part
from builder.model.position import Places
from builder.model.units import Measure, Unit

RotorThickness = Annotated[MeasuredMillimetres, Bounds(0.3, 4)]
PadThickness = Annotated[MeasuredMillimetres, Bounds(0, 20)]
Sag = Annotated[MeasuredMillimetres, Bounds(0, 250)]
RunOut = Annotated[MeasuredMillimetres, Bounds(0, 50)]
LeverReach = Annotated[MeasuredMillimetres, Bounds(20, 200)]
LeverForce = Annotated[Measure, In(Unit.NEWTON), Bounds(1, 600)]
Tensions = tuple[Annotated[float, In(Unit.NEWTON), Bounds(50, 3000)], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rider:
    """Who rides the bike, as far as gears are concerned. `power_w` is what the rider can hold up a long climb."""

    mass_kg: Annotated[Kilograms, Bounds(10, 250)] | None = None
    luggage_kg: Annotated[Kilograms, Bounds(0, 150)] | None = None
    power_w: Annotated[Watts, Bounds(10, 2500)] | None = None
    least_cadence_rpm: Annotated[RevPerMinute, Bounds(10, 150)] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Climb:
    """A named hill to reckon with."""

    name: str
    gradient_percent: Annotated[Percent, Bounds(0, 45)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurements:
    """What was measured on this very bike; everything may be missing.

    `chain_length_mm` is measured over `chain_length_links` links under light pull. `wheel_circumference_mm` is a
    measured roll-out. `fork_sag_mm` and `shock_sag_mm` are how far each moves under the rider. Tensions are those of
    the spokes of one side of a wheel; `rear_lever_closing` is the force at the end of the rear quick-release lever, and
    `rear_lever_reach_mm` the reach of the rear brake's lever.
    """

    chain_length_mm: Annotated[MeasuredMillimetres, Bounds(50, 3000)] | None = None
    chain_length_links: Annotated[int, Bounds(4, 220)] | None = None
    chain_links: Annotated[int, Bounds(40, 220)] | None = None
    wheel_circumference_mm: Annotated[MeasuredMillimetres, Bounds(500, 3000)] | None = None
    bike_mass_kg: Annotated[Kilograms, Bounds(2, 100)] | None = None
    front_rotor_mm: RotorThickness | None = None
    rear_rotor_mm: RotorThickness | None = None
    front_pads_mm: PadThickness | None = None
    rear_pads_mm: PadThickness | None = None
    fork_sag_mm: Sag | None = None
    shock_sag_mm: Sag | None = None
    post_inserted_mm: Annotated[MeasuredMillimetres, Bounds(0, 500)] | None = None
    stem_inserted_mm: Annotated[MeasuredMillimetres, Bounds(0, 300)] | None = None
    steerer_gap_mm: Annotated[MeasuredMillimetres, Bounds(0, 60)] | None = None
    spacer_above_mm: Annotated[MeasuredMillimetres, Bounds(0, 40)] | None = None
    rear_runout_sideways_mm: RunOut | None = None
    front_runout_sideways_mm: RunOut | None = None
    rear_runout_upwards_mm: RunOut | None = None
    front_runout_upwards_mm: RunOut | None = None
    rear_left_tensions: Tensions = ()
    rear_right_tensions: Tensions = ()
    front_left_tensions: Tensions = ()
    front_right_tensions: Tensions = ()
    rear_lever_closing: LeverForce | None = None
    front_lever_closing: LeverForce | None = None
    rear_lever_opening: LeverForce | None = None
    front_lever_opening: LeverForce | None = None
    rear_lever_reach_mm: LeverReach | None = None
    front_lever_reach_mm: LeverReach | None = None
    toe_clearance_mm: Annotated[MeasuredMillimetres, Bounds(1, 400)] | None = None


# What is measured of which part: with another part there, the reading is no longer known. What is in none of them is
# of the bike as a whole.
MEASURED_ON: Mapping[str, tuple[Role, ...]] = {
    "chain-length": (Role.CHAIN,),
    "chain-length-links": (Role.CHAIN,),
    "chain-links": (Role.CHAIN,),
    "wheel-circumference": (Role.REAR_TYRE,),
    "bike-mass": (),
    "front-rotor": (Role.FRONT_ROTOR,),
    "rear-rotor": (Role.REAR_ROTOR,),
    "front-pads": (Role.FRONT_PADS,),
    "rear-pads": (Role.REAR_PADS,),
    "fork-sag": (Role.FORK,),
    "shock-sag": (Role.SHOCK,),
    "post-inserted": (Role.SEAT_POST, Role.FRAME),
    "stem-inserted": (Role.STEM, Role.FORK),
    "steerer-gap": (Role.STEM, Role.FORK, Role.HEADSET),
    "spacer-above": (Role.STEM, Role.FORK, Role.HEADSET),
    "rear-runout-sideways": (Role.REAR_RIM,),
    "front-runout-sideways": (Role.FRONT_RIM,),
    "rear-runout-upwards": (Role.REAR_RIM,),
    "front-runout-upwards": (Role.FRONT_RIM,),
    "rear-left-tensions": (Role.REAR_RIM, Role.REAR_HUB),
    "rear-right-tensions": (Role.REAR_RIM, Role.REAR_HUB),
    "front-left-tensions": (Role.FRONT_RIM, Role.FRONT_HUB),
    "front-right-tensions": (Role.FRONT_RIM, Role.FRONT_HUB),
    "rear-lever-closing": (Role.REAR_HUB,),
    "front-lever-closing": (Role.FRONT_HUB,),
    "rear-lever-opening": (Role.REAR_HUB,),
    "front-lever-opening": (Role.FRONT_HUB,),
    "rear-lever-reach": (Role.REAR_BRAKE, Role.REAR_BRAKE_LEVER),
    "front-lever-reach": (Role.FRONT_BRAKE, Role.FRONT_BRAKE_LEVER),
    "toe-clearance": (Role.FRONT_TYRE, Role.FORK, Role.CRANKSET),
}


class Wearing(StrEnum):
    """What the wear book follows."""

    CHAIN = "chain"
    FRONT_ROTOR = "front-rotor"
    REAR_ROTOR = "rear-rotor"
    FRONT_PADS = "front-pads"
    REAR_PADS = "rear-pads"
    FRONT_TREAD = "front-tread"
    REAR_TREAD = "rear-tread"


@dataclass(frozen=True, slots=True, kw_only=True)
class WearReading:
    """One dated entry of a bike's wear book.

    `renewed` names what was new on that day: readings of it from before no longer count.
    """

    date: str
    distance_km: Annotated[Kilometres, Bounds(0, 1_000_000)] | None = None
    renewed: tuple[Wearing, ...] = ()
    chain_wear_percent: Annotated[Percent, Bounds(-0.5, 3)] | None = None
    front_rotor_mm: RotorThickness | None = None
    rear_rotor_mm: RotorThickness | None = None
    front_pads_mm: PadThickness | None = None
    rear_pads_mm: PadThickness | None = None
    front_tread_mm: Annotated[MeasuredMillimetres, Bounds(0, 20)] | None = None
    rear_tread_mm: Annotated[MeasuredMillimetres, Bounds(0, 20)] | None = None
    places: Places = field(default=Places(), compare=False, repr=False)

    def of(self, wearing: Wearing) -> Measure | None:
        """What was measured of `wearing`: per cent for the chain, else millimetres; None if it was not."""
        if wearing is Wearing.CHAIN:
            return None if self.chain_wear_percent is None else Measure(self.chain_wear_percent)
        return {
            Wearing.FRONT_ROTOR: self.front_rotor_mm,
            Wearing.REAR_ROTOR: self.rear_rotor_mm,
            Wearing.FRONT_PADS: self.front_pads_mm,
            Wearing.REAR_PADS: self.rear_pads_mm,
            Wearing.FRONT_TREAD: self.front_tread_mm,
            Wearing.REAR_TREAD: self.rear_tread_mm,
        }[wearing]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedJob:
    """A guide to build for the bike, with the parts wanted on it."""

    guide: Annotated[str, Ref("guides")]
    parts: tuple[Annotated[str, Ref("parts")], ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bike:
    """A bike. A role that is in neither `parts` nor `without` is not known; one in `without` has no part there."""

    id: str
    name: str
    tag: str = ""
    description: Text = ""
    parts: Mapping[Role, Part] = field(default_factory=dict)
    without: frozenset[Role] = frozenset()
    measured: Measurements = Measurements()
    rider: Rider = Rider()
    climbs: tuple[Climb, ...] = ()
    jobs: tuple[PlannedJob, ...] = ()
    wear: tuple[WearReading, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)

    def part(self, role: Role) -> Part | None:
        """The part that fills `role`, where it is known."""
        return self.parts.get(role)
