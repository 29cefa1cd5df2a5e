"""Facts that are worked out of others: the axle's growth, the wheel's circumference, the links that a bike needs.

Each names the facts that it is made from, so that a check that reads it is asked when one of their parts changes, and
what to ask for where it can't be worked out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from builder.checks.chain_geometry import chain_links
from builder.checks.chain_wear import chain_wear_percent
from builder.checks.gears import wheel_circumference_mm
from builder.checks.result import InputError
from builder.model.bike import Bike
from builder.model.facts import Joiner, Role, Suspension
from builder.model.parts import (
    Cassette,
    Chain,
    Crankset,
    DriveUnit,
    Frame,
    Hub,
    Part,
    RearDerailleur,
    SeatPost,
    SprocketSpacer,
    Tyre,
)
from builder.model.torque import torque_of
from builder.model.units import Measure, Range
from builder.planning.fitting import Fitting

# A bike that was never weighed: common practice takes some 13 kg for a bike with its fittings.
_USUAL_BIKE_KG = 13.0
# What a chain is measured over, where the reading does not say: 24 links are 12 inches.
_USUAL_WEAR_LINKS = 24

AnyPart = TypeVar("AnyPart", bound=Part)
Worked = Measure | float | int | str | tuple[int, ...] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedOut:
    """`work` gives the fact for a bike, None where it is not known; `asks` are then the facts to ask for.

    `made_from` are the paths of the facts that it hangs on. Of several paths in one group of `asks` only the first that
    is not known is asked for, since its answer may settle the others. `never_assumed` says that the default of a check
    must not stand for it in silence.
    """

    made_from: tuple[str, ...]
    work: Callable[[Fitting], Worked]
    asks: tuple[tuple[str, ...], ...] = ()
    never_assumed: bool = False


def part_as(bike: Bike, role: Role, kind: type[AnyPart]) -> AnyPart | None:
    """The part in `role` where it is of `kind`."""
    part = bike.part(role)
    return part if isinstance(part, kind) else None


def transmission(bike: Bike) -> str | None:
    """Whether the bike shifts by a derailleur, by a gear hub, or not at all; None where that is not known."""
    hub = bike.part(Role.REAR_HUB)
    if isinstance(hub, Hub) and hub.gears is not None and hub.gears > 1:
        return "hub-gear"
    if Role.REAR_DERAILLEUR in bike.parts:
        return "derailleur"
    if Role.REAR_DERAILLEUR in bike.without:
        return "single-speed"
    return None


def axle_growth_mm(bike: Bike) -> Measure | None:
    """How much farther the axle moves away [mm]: 0 without rear suspension, else as stated or as measured."""
    frame = part_as(bike, Role.FRAME, Frame) or Frame(name="")
    if frame.axle_growth_mm is not None:
        return frame.axle_growth_mm
    if frame.suspension is not None and frame.suspension is not Suspension.FULL:
        return Measure(0.0)
    stay, compressed = frame.chainstay_mm, frame.compressed_chainstay_mm
    if stay is None or compressed is None:
        return None
    ways = [one for one in (stay, compressed, frame.halfway_chainstay_mm) if one is not None]
    longest = max(ways, key=lambda one: one.value)
    return Measure(longest.value - stay.value, 0.0 if longest is stay else longest.tolerance + stay.tolerance)


def circumference_mm(bike: Bike) -> Measure | None:
    """Circumference of the rear wheel [mm]: the measured roll-out, or that of the tyre's size."""
    if bike.measured.wheel_circumference_mm is not None:
        return bike.measured.wheel_circumference_mm
    tyre = part_as(bike, Role.REAR_TYRE, Tyre)
    if tyre is None or tyre.bead_seat_mm is None or tyre.width_mm is None:
        return None
    return Measure(wheel_circumference_mm(tyre.bead_seat_mm, tyre.width_mm))


def rolled_a_sprocket_turn_mm(bike: Bike) -> Measure | None:
    """How far the wheel rolls while the sprocket turns once, in the lowest gear of a gear hub [mm]."""
    rolled, hub = circumference_mm(bike), part_as(bike, Role.REAR_HUB, Hub)
    if rolled is None or transmission(bike) != "hub-gear":
        return rolled
    if hub is None or hub.lowest_gear is None:
        return None
    return Measure(rolled.value * hub.lowest_gear, rolled.tolerance * hub.lowest_gear)


def total_mass_kg(bike: Bike) -> float | None:
    """Rider, luggage and bike [kg], where the rider's mass is known."""
    if bike.rider.mass_kg is None:
        return None
    return bike.rider.mass_kg + (bike.rider.luggage_kg or 0.0) + (bike.measured.bike_mass_kg or _USUAL_BIKE_KG)


def climbing_power_w(bike: Bike) -> float | None:
    """What rider and motor give together up a long climb [W]; None where one of them is not known."""
    if bike.rider.power_w is None:
        return None
    if Role.DRIVE_UNIT in bike.parts:
        motor = part_as(bike, Role.DRIVE_UNIT, DriveUnit)
        return None if motor is None or motor.power_w is None else bike.rider.power_w + motor.power_w
    return bike.rider.power_w


def steepest_climb_percent(bike: Bike) -> float | None:
    """The steepest of the climbs in the bike's file [%]."""
    return max((climb.gradient_percent for climb in bike.climbs), default=None)


def joiner(bike: Bike) -> str | None:
    """What closes the chain, as the checks of its length call it."""
    chain = part_as(bike, Role.CHAIN, Chain)
    if chain is None or chain.joiner is None:
        return None
    return "joining-pin" if chain.joiner is Joiner.JOINING_PIN else "quick-link"


def links_needed(bike: Bike) -> int | None:
    """Links that the bike needs, at the far end of every tolerance; None where something for it is not known."""
    frame, growth = part_as(bike, Role.FRAME, Frame), axle_growth_mm(bike)
    cassette, crankset = part_as(bike, Role.CASSETTE, Cassette), part_as(bike, Role.CRANKSET, Crankset)
    if frame is None or frame.chainstay_mm is None or growth is None:
        return None
    if cassette is None or crankset is None or not cassette.sprockets or not crankset.rings:
        return None
    rear = part_as(bike, Role.REAR_DERAILLEUR, RearDerailleur)
    extra = 0 if rear is None or rear.extra_links is None else rear.extra_links
    try:
        return chain_links(frame.chainstay_mm.high, max(crankset.rings), max(cassette.sprockets), growth.high, extra)
    except InputError:
        return None


def chain_wear(bike: Bike) -> float | None:
    """Wear of the chain on the bike [%]."""
    length = bike.measured.chain_length_mm
    if length is None:
        return None
    return chain_wear_percent(length.value, bike.measured.chain_length_links or _USUAL_WEAR_LINKS)


def spacers_mm(bike: Bike) -> float | None:
    """Width of what lies behind the sprockets [mm]; nothing where the file names no spacer."""
    if Role.SPROCKET_SPACER not in bike.parts:
        return 0.0
    spacer = part_as(bike, Role.SPROCKET_SPACER, SprocketSpacer)
    return None if spacer is None else spacer.width_mm


def _lowest_gear(fitting: Fitting) -> str | None:
    """Whether the lowest gear becomes another one."""
    lowest = (_lowest_ratio(fitting.found), _lowest_ratio(fitting.bike))
    if None in lowest:
        return None
    return "the same" if lowest[0] == lowest[1] else "another"


def _lowest_ratio(bike: Bike) -> float | None:
    cassette, crankset = part_as(bike, Role.CASSETTE, Cassette), part_as(bike, Role.CRANKSET, Crankset)
    if cassette is None or crankset is None or not cassette.sprockets or not crankset.rings:
        return None
    return min(crankset.rings) / max(cassette.sprockets)


def _rolled_m(fitting: Fitting) -> Measure | None:
    rolled = fitting.bike.measured.wheel_circumference_mm
    return None if rolled is None else Measure(rolled.value / 1000, rolled.tolerance / 1000)


def _several_sprockets(fitting: Fitting) -> tuple[int, ...] | None:
    """The sprockets that a derailleur moves between; None where there is one alone."""
    cassette = part_as(fitting.bike, Role.CASSETTE, Cassette)
    return None if cassette is None or len(cassette.sprockets) < 2 else cassette.sprockets


def _post_depth_shown(fitting: Fitting) -> Measure | None:
    """How deep the post stands; where nobody has measured it, a drawing shows the least depth itself."""
    if fitting.bike.measured.post_inserted_mm is not None:
        return fitting.bike.measured.post_inserted_mm
    post = part_as(fitting.bike, Role.SEAT_POST, SeatPost)
    return None if post is None or post.least_insertion_mm is None else Measure(post.least_insertion_mm)


def _wrench(fitting: Fitting) -> Range | None:
    """The range of the wrench of the workshop that holds the fastener's torque; the widest where none does [N·m]."""
    if fitting.fastener is None or not fitting.wrenches_nm:
        return None
    torque_nm, _ = torque_of(fitting.fastener, fitting.bike)
    if torque_nm is None:
        return None
    holding = [one for one in fitting.wrenches_nm if one.low <= torque_nm.low and torque_nm.high <= one.high]
    return holding[0] if holding else max(fitting.wrenches_nm, key=lambda one: one.high)


def _bit(fitting: Fitting) -> str | None:
    """The shape of the workshop's tool for the fastener's head; None where it has none."""
    fastener = fitting.fastener
    return None if fastener is None or fastener.head not in fitting.bits else fastener.head


def _wrench_low(fitting: Fitting) -> float | None:
    wrench = _wrench(fitting)
    return None if wrench is None else wrench.low


def _wrench_high(fitting: Fitting) -> float | None:
    wrench = _wrench(fitting)
    return None if wrench is None else wrench.high


def _of_bike(work: Callable[[Bike], Worked]) -> Callable[[Fitting], Worked]:
    return lambda fitting: work(fitting.bike)


def _each(*paths: str) -> tuple[tuple[str, ...], ...]:
    return tuple((path,) for path in paths)


_TEETH = ("crankset.rings", "cassette.sprockets")
_TYRE = ("rear-tyre.bead-seat", "rear-tyre.width")
_SUSPENSION = ("frame.suspension", "frame.axle-growth")

WORKED_OUT: Mapping[str, WorkedOut] = {
    "transmission": WorkedOut(
        made_from=("rear-derailleur.actuation", "rear-hub.gears"),
        work=_of_bike(transmission),
        asks=(("rear-derailleur.actuation",),),
    ),
    "axle-growth": WorkedOut(
        made_from=_SUSPENSION, work=_of_bike(axle_growth_mm), asks=(_SUSPENSION,), never_assumed=True
    ),
    "wheel-circumference": WorkedOut(made_from=_TYRE, work=_of_bike(circumference_mm), asks=_each(*_TYRE)),
    "rolled-a-sprocket-turn": WorkedOut(
        made_from=(*_TYRE, "rear-hub.lowest-gear"),
        work=_of_bike(rolled_a_sprocket_turn_mm),
        asks=_each(*_TYRE, "rear-hub.lowest-gear"),
    ),
    "rolled-distance": WorkedOut(
        made_from=("measured.wheel-circumference",), work=_rolled_m, asks=_each("measured.wheel-circumference")
    ),
    "total-mass": WorkedOut(
        made_from=("rider.mass", "rider.luggage", "measured.bike-mass"),
        work=_of_bike(total_mass_kg),
        asks=_each("rider.mass"),
    ),
    "climbing-power": WorkedOut(
        made_from=("rider.power", "drive-unit.power"),
        work=_of_bike(climbing_power_w),
        asks=_each("rider.power", "drive-unit.power"),
    ),
    "steepest-climb": WorkedOut(made_from=(), work=_of_bike(steepest_climb_percent)),
    "lowest-gear": WorkedOut(made_from=_TEETH, work=_lowest_gear, asks=_each(*_TEETH)),
    "several-sprockets": WorkedOut(made_from=("cassette.sprockets",), work=_several_sprockets),
    "post-depth-shown": WorkedOut(made_from=("seat-post.least-insertion",), work=_post_depth_shown),
    "joiner": WorkedOut(made_from=("chain.joiner",), work=_of_bike(joiner), asks=_each("chain.joiner")),
    "links-measured": WorkedOut(
        made_from=("measured.chain-length-links",),
        work=lambda fitting: fitting.bike.measured.chain_length_links or _USUAL_WEAR_LINKS,
    ),
    "links-needed": WorkedOut(
        made_from=("frame.chainstay", *_SUSPENSION, *_TEETH, "rear-derailleur.extra-links"),
        work=_of_bike(links_needed),
        asks=(*_each(*_TEETH, "frame.chainstay"), _SUSPENSION),
    ),
    "chain-wear": WorkedOut(
        made_from=("measured.chain-length", "measured.chain-length-links"),
        work=_of_bike(chain_wear),
        asks=_each("measured.chain-length"),
    ),
    "bit": WorkedOut(made_from=(), work=_bit),
    "wrench-low": WorkedOut(made_from=(), work=_wrench_low),
    "wrench-high": WorkedOut(made_from=(), work=_wrench_high),
    "spacers": WorkedOut(
        made_from=("sprocket-spacer.width",), work=_of_bike(spacers_mm), asks=_each("sprocket-spacer.width")
    ),
}
