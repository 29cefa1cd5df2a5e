"""What each kind of part is: teeth, capacity, widths, standards, torque. Unknown facts are None and are asked for.

A part stands in `parts/<kind>/*.yaml`, or is written out under its role in a bike's file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from builder.model.facts import (
    Actuation,
    Axle,
    Battery,
    BearingKind,
    BodyHold,
    BracketBuild,
    BrakeKind,
    CaliperMount,
    CassetteBuild,
    ChainTension,
    CrankFixing,
    DriveLine,
    Fitted,
    Fluid,
    Hanger,
    HangerHold,
    HeadsetKind,
    Indexing,
    Joiner,
    LeverPull,
    Material,
    MotorPlace,
    RingMount,
    Role,
    RotorMount,
    ShellKind,
    ShifterMount,
    ShiftPower,
    Spring,
    SprocketMount,
    Suspension,
    TyreSeal,
)
from builder.model.fields import (
    Bounds,
    Euros,
    MeasuredMillimetres,
    MillimetreRange,
    Millimetres,
    PressureBar,
    Ref,
    Teeth,
    TorqueRange,
)
from builder.model.position import Places

Speeds = Annotated[int, Bounds(1, 14)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What every part has. `torques_nm` holds the maker's own figures, by fastener, which go before typical ones."""

    id: str = ""
    name: str
    price_eur: Euros | None = None
    torques_nm: Mapping[Annotated[str, Ref("fasteners")], TorqueRange] = field(default_factory=dict)
    torque_source: str = ""
    note: str = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame(Part):
    """A frame. `axle_growth_mm` is how much farther the axle moves from the bottom bracket over the rear travel.

    `hanger_hold` says whether the hanger is a part of its own; `chain_tension` what takes up the slack of a chain that
    passes through no derailleur.
    """

    suspension: Suspension | None = None
    material: Material | None = None
    chainstay_mm: MeasuredMillimetres | None = None
    axle_growth_mm: MeasuredMillimetres | None = None
    hanger: Hanger | None = None
    hanger_hold: HangerHold | None = None
    chain_tension: ChainTension | None = None
    rear_spacing_mm: Millimetres | None = None
    rear_axle: Axle | None = None
    rear_caliper_mount: CaliperMount | None = None
    greatest_rear_rotor_mm: Millimetres | None = None
    rear_tyre_room_mm: Millimetres | None = None
    shell: ShellKind | None = None
    shell_width_mm: Millimetres | None = None
    seat_tube_bore_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fork(Part):
    """A front fork."""

    material: Material | None = None
    steerer_mm: Millimetres | None = None
    spring: Spring | None = None
    travel_mm: Millimetres | None = None
    axle: Axle | None = None
    spacing_mm: Millimetres | None = None
    caliper_mount: CaliperMount | None = None
    greatest_rotor_mm: Millimetres | None = None
    tyre_room_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shock(Part):
    """A rear shock; `stroke_mm` is how far its shaft moves."""

    spring: Spring | None = None
    stroke_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Headset(Part):
    """The steering bearings."""

    headset_kind: HeadsetKind | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stem(Part):
    """What joins handlebar and steerer; a quill stem goes inside the steerer."""

    steerer_mm: Millimetres | None = None
    bar_clamp_mm: Millimetres | None = None
    quill: Fitted | None = None
    faceplate_bolts: Annotated[int, Bounds(1, 6)] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Handlebar(Part):
    """A handlebar."""

    material: Material | None = None
    clamp_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatPost(Part):
    """A seat post; `least_insertion_mm` is from its lower end to the mark."""

    material: Material | None = None
    diameter_mm: Millimetres | None = None
    length_mm: Millimetres | None = None
    least_insertion_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Saddle(Part):
    """A saddle; its rails decide the clamp."""

    rail_material: Material | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Crankset(Part):
    """Cranks with their chainrings.

    `ring_mount` is written where `ring_bolts` does not say it: a ring without bolts of its own is held direct, by
    splines with a lockring or small screws, or is riveted. `preload_ring` is the threaded ring beside a
    self-extracting crank that takes up the play.
    """

    rings: tuple[Teeth, ...] = ()
    crank_mm: Millimetres | None = None
    fixing: CrankFixing | None = None
    preload_ring: Fitted | None = None
    narrow_wide: Fitted | None = None
    ring_bolts: Annotated[int, Bounds(0, 6)] | None = None
    ring_mount: RingMount | None = None
    speeds: tuple[Speeds, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BottomBracket(Part):
    """The bearings of the cranks."""

    shell: ShellKind | None = None
    build: BracketBuild | None = None
    fixing: CrankFixing | None = None
    width_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pedals(Part):
    """A pair of pedals."""

    head: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain(Part):
    """A chain, or the belt in its place.

    `links` is its length in pitches as it is sold or as it is on the bike, the joiner counted; `inner_width_mm` is
    between its inner plates, which decides what sprocket tooth passes.
    """

    drive_line: DriveLine | None = None
    speeds: tuple[Speeds, ...] = ()
    outer_width_mm: Millimetres | None = None
    inner_width_mm: Millimetres | None = None
    links: Annotated[int, Bounds(40, 220)] | None = None
    joiner: Joiner | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cassette(Part):
    """The sprockets at the rear wheel, smallest first; a screw-on freewheel is one with that mount.

    `stack_mm` is the width over all sprockets where they sit on the body; `maker_spacer_mm` is the spacer that the
    maker asks for behind it on a body for more sprockets, which goes before any worked-out one. `shift_standard` names
    the sprocket spacing that shifters and derailleurs are made for.
    """

    sprockets: tuple[Teeth, ...] = ()
    mount: SprocketMount | None = None
    build: CassetteBuild | None = None
    stack_mm: Millimetres | None = None
    maker_spacer_mm: Millimetres | None = None
    sprocket_pitch_mm: Millimetres | None = None
    shift_standard: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RearDerailleur(Part):
    """A rear derailleur and what its maker rates it for.

    `cable_ratio` is how far it moves sideways for each millimetre of cable. `chain_allowance_links` is what its maker
    adds to the path round the largest chainring and the largest sprocket; two links where nothing is printed.
    """

    largest_sprocket: Teeth | None = None
    largest_sprocket_least: Teeth | None = None
    smallest_sprocket: Teeth | None = None
    capacity_teeth: Annotated[int, Bounds(0, 70)] | None = None
    speeds: tuple[Speeds, ...] = ()
    clutch: Fitted | None = None
    chain_allowance_links: Annotated[int, Bounds(0, 6)] | None = None
    power: ShiftPower | None = None
    actuation: Actuation | None = None
    cable_ratio: float | None = None
    shift_standard: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontDerailleur(Part):
    """A front derailleur."""

    capacity_teeth: Annotated[int, Bounds(0, 40)] | None = None
    largest_ring: Teeth | None = None
    actuation: Actuation | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifter(Part):
    """A shifter; `cable_pull_mm` is the cable that one click moves, on average over the clicks.

    A friction shifter has no clicks: `whole_pull_mm` is the cable that it moves from end to end.
    """

    speeds: Speeds | None = None
    indexing: Indexing | None = None
    mount: ShifterMount | None = None
    whole_pull_mm: Millimetres | None = None
    actuation: Actuation | None = None
    cable_pull_mm: Millimetres | None = None
    shift_standard: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hub(Part):
    """A hub: how it is held, how it runs, what it carries. `gears` counts the gears inside it, 1 for none.

    `body_hold` says how its freehub body is held.
    """

    axle: Axle | None = None
    spacing_mm: Millimetres | None = None
    sprocket_mount: SprocketMount | None = None
    body_length_mm: Millimetres | None = None
    body_hold: BodyHold | None = None
    rotor_mount: RotorMount | None = None
    bearings: BearingKind | None = None
    gears: Annotated[int, Bounds(1, 18)] | None = None
    flange_diameter_mm: Millimetres | None = None
    left_flange_offset_mm: Millimetres | None = None
    right_flange_offset_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rim(Part):
    """A rim with its spokes' count and pattern."""

    bead_seat_mm: Millimetres | None = None
    inner_width_mm: Millimetres | None = None
    spoke_bed_mm: Millimetres | None = None
    spokes: Annotated[int, Bounds(12, 48)] | None = None
    crossings: Annotated[int, Bounds(0, 4)] | None = None
    greatest_pressure_bar: PressureBar | None = None
    hooks: Fitted | None = None
    material: Material | None = None
    brake_track: Fitted | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tyre(Part):
    """A tyre by its ISO 5775 size, `width_mm`-`bead_seat_mm`."""

    width_mm: Millimetres | None = None
    bead_seat_mm: Millimetres | None = None
    least_pressure_bar: PressureBar | None = None
    greatest_pressure_bar: PressureBar | None = None
    seal: TyreSeal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Brake(Part):
    """A brake with its lever."""

    brake_kind: BrakeKind | None = None
    actuation: Actuation | None = None
    fluid: Fluid | None = None
    caliper_mount: CaliperMount | None = None
    caliper_pull: LeverPull | None = None
    lever_pull: LeverPull | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rotor(Part):
    """A brake rotor; `least_thickness_mm` is the maker's wear limit."""

    diameter_mm: Millimetres | None = None
    rotor_mount: RotorMount | None = None
    new_thickness_mm: Millimetres | None = None
    least_thickness_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pads(Part):
    """A pair of brake pads; for a disc pad `least_thickness_mm` counts the backing plate in."""

    brake_kind: BrakeKind | None = None
    least_thickness_mm: Millimetres | None = None
    new_thickness_mm: Millimetres | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DriveUnit(Part):
    """The motor and the battery of an electric bike."""

    battery: Battery | None = None
    place: MotorPlace | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SprocketSpacer(Part):
    """A ring behind a cassette that is narrower than the freehub body."""

    width_mm: Millimetres | None = None
    fits_mount: SprocketMount | None = None
    fits_stack_mm: MillimetreRange | None = None


# The folder under parts/ for each kind, and the kind that fills each role.
KINDS: Mapping[str, type[Part]] = {
    "frame": Frame,
    "fork": Fork,
    "shock": Shock,
    "headset": Headset,
    "stem": Stem,
    "handlebar": Handlebar,
    "seat-post": SeatPost,
    "saddle": Saddle,
    "crankset": Crankset,
    "bottom-bracket": BottomBracket,
    "pedals": Pedals,
    "chain": Chain,
    "cassette": Cassette,
    "rear-derailleur": RearDerailleur,
    "front-derailleur": FrontDerailleur,
    "shifter": Shifter,
    "hub": Hub,
    "rim": Rim,
    "tyre": Tyre,
    "brake": Brake,
    "rotor": Rotor,
    "pads": Pads,
    "drive-unit": DriveUnit,
    "sprocket-spacer": SprocketSpacer,
}
_SHARED_KIND: Mapping[Role, str] = {
    Role.REAR_SHIFTER: "shifter",
    Role.FRONT_SHIFTER: "shifter",
    Role.REAR_HUB: "hub",
    Role.FRONT_HUB: "hub",
    Role.REAR_RIM: "rim",
    Role.FRONT_RIM: "rim",
    Role.REAR_TYRE: "tyre",
    Role.FRONT_TYRE: "tyre",
    Role.REAR_BRAKE: "brake",
    Role.FRONT_BRAKE: "brake",
    Role.REAR_ROTOR: "rotor",
    Role.FRONT_ROTOR: "rotor",
    Role.REAR_PADS: "pads",
    Role.FRONT_PADS: "pads",
}


def kind_of(role: Role) -> str:
    """The kind of part, as its folder is called, that fills `role`."""
    return _SHARED_KIND.get(role, role.value)


def roles_of(kind: str) -> tuple[Role, ...]:
    """The roles that a part of `kind` can fill."""
    return tuple(role for role in Role if kind_of(role) == kind)


def folder_of(part: Part) -> str:
    """The kind of `part`, as its folder is called."""
    for folder, kind in KINDS.items():
        if type(part) is kind:
            return folder
    raise TypeError(f"{type(part).__name__} is not a kind of part")
