"""What each kind of part is: teeth, capacity, widths, standards, torque. Unknown facts are None and are asked for.

A part stands in `parts/<kind>/*.yaml`, or is written out under its role in a bike's file.

A figure's bounds are those of the checks that read it, so that what a source may say a check can reckon with; where no
check reads it they are guard rails of our own, wider than anything on a bicycle.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Annotated

from builder.model.facts import (
    Actuation,
    Axle,
    AxleClosing,
    BarShape,
    Battery,
    BearingKind,
    BodyHold,
    BracketBuild,
    BrakeKind,
    CableEnd,
    CableSide,
    CassetteBuild,
    ChainTension,
    CrankFixing,
    DriveLine,
    DropperLine,
    EndCaps,
    Fitted,
    Fluid,
    FrontMount,
    GripHold,
    Hanger,
    HangerHold,
    HeadsetKind,
    HubCable,
    Indexing,
    Joiner,
    LeverPull,
    Material,
    MotorPlace,
    PedalDrive,
    PedalThread,
    RailShape,
    RingMount,
    Role,
    RotorRing,
    SaddleClamp,
    SeatClamp,
    ShellKind,
    ShifterMount,
    ShiftPower,
    SpeedMagnet,
    Spring,
    Suspension,
    TyreSeal,
)
from builder.model.fields import (
    Bounds,
    BrakeStandard,
    Euros,
    In,
    MeasuredMillimetres,
    Millimetres,
    PressureBar,
    Ref,
    RotorStandard,
    SprocketStandard,
    Teeth,
    TorqueRange,
    Watts,
)
from builder.model.position import Places
from builder.model.units import Unit

Speeds = Annotated[int, Bounds(1, 14)]
SpokeCount = Annotated[int, Bounds(8, 72)]
# What a hub, a frame or a fork measures where the wheel sits, and what goes through it.
Spacing = Annotated[Millimetres, Bounds(60, 220)]
AxleDiameter = Annotated[Millimetres, Bounds(5, 30)]
AxleLength = Annotated[Millimetres, Bounds(80, 260)]
RotorDiameter = Annotated[Millimetres, Bounds(100, 260)]
TyreRoom = Annotated[Millimetres, Bounds(16, 200)]
BeadSeat = Annotated[Millimetres, Bounds(150, 700)]
# Round parts and what clamps or holds them: bar, steerer, post, the cups of a headset.
Round = Annotated[Millimetres, Bounds(15, 65)]
# A seat tube from outside, where the band of a front derailleur clamps it.
BandTube = Annotated[Millimetres, Bounds(20, 60)]
ShellWidth = Annotated[Millimetres, Bounds(55, 130)]
ShellBore = Annotated[Millimetres, Bounds(30, 60)]
CrankAxle = Annotated[Millimetres, Bounds(10, 40)]
Insertion = Annotated[Millimetres, Bounds(30, 300)]
ShockLength = Annotated[Millimetres, Bounds(100, 300)]
Stroke = Annotated[Millimetres, Bounds(20, 250)]


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

    It may be stated, or be worked out of `compressed_chainstay_mm`, measured with the suspension fully compressed, and
    `halfway_chainstay_mm`, measured at half its travel. `dropout_slot_mm` is how far an axle can slide back in its
    slot. `rear_axle_diameter_mm` is the width of the slots, or the bore for a through axle, whose thread and length
    `rear_axle_thread` (`M12x1.5`) and `rear_axle_length_mm` are. `hanger_hold` says whether the hanger is a part of its
    own; `chain_tension` what takes up the slack of a chain that passes through no derailleur. `hinges` says whether the
    frame or the column of the steering folds at hinges that a lever closes. `front_mount` is what the frame holds a
    front derailleur by, `seat_tube_mm` the outside of its seat tube there, `front_cable` where its cable comes from.
    """

    suspension: Suspension | None = None
    material: Material | None = None
    chainstay_mm: Annotated[MeasuredMillimetres, Bounds(250, 900)] | None = None
    axle_growth_mm: Annotated[MeasuredMillimetres, Bounds(0, 80)] | None = None
    compressed_chainstay_mm: Annotated[MeasuredMillimetres, Bounds(250, 900)] | None = None
    halfway_chainstay_mm: Annotated[MeasuredMillimetres, Bounds(250, 900)] | None = None
    dropout_slot_mm: Annotated[Millimetres, Bounds(1, 80)] | None = None
    hanger: Hanger | None = None
    hanger_hold: HangerHold | None = None
    chain_tension: ChainTension | None = None
    hinges: Fitted | None = None
    rear_spacing_mm: Spacing | None = None
    rear_axle: Axle | None = None
    rear_axle_diameter_mm: AxleDiameter | None = None
    rear_axle_thread: str = ""
    rear_axle_length_mm: AxleLength | None = None
    rear_caliper_mount: BrakeStandard | None = None
    least_rear_rotor_mm: RotorDiameter | None = None
    greatest_rear_rotor_mm: RotorDiameter | None = None
    rear_tyre_room_mm: TyreRoom | None = None
    shell: ShellKind | None = None
    shell_width_mm: ShellWidth | None = None
    shell_bore_mm: ShellBore | None = None
    seat_tube_bore_mm: Round | None = None
    seat_tube_mm: BandTube | None = None
    front_mount: FrontMount | None = None
    front_cable: CableSide | None = None
    seat_clamp: SeatClamp | None = None
    least_post_insertion_mm: Insertion | None = None
    upper_head_tube_bore_mm: Round | None = None
    lower_head_tube_bore_mm: Round | None = None
    shock_length_mm: ShockLength | None = None
    shock_stroke_mm: Stroke | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fork(Part):
    """A front fork. `steerer_kind` says whether its steerer carries a thread for the headset.

    `steering_rod` says whether a rod turns it from a distance, as on a box bike.
    """

    material: Material | None = None
    steerer_mm: Round | None = None
    steerer_material: Material | None = None
    steerer_kind: HeadsetKind | None = None
    spring: Spring | None = None
    travel_mm: Stroke | None = None
    axle: Axle | None = None
    axle_diameter_mm: AxleDiameter | None = None
    axle_thread: str = ""
    axle_length_mm: AxleLength | None = None
    spacing_mm: Spacing | None = None
    caliper_mount: BrakeStandard | None = None
    least_rotor_mm: RotorDiameter | None = None
    greatest_rotor_mm: RotorDiameter | None = None
    steering_rod: Fitted | None = None
    tyre_room_mm: TyreRoom | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shock(Part):
    """A rear shock; `length_mm` is from eye to eye at rest, `stroke_mm` how far its shaft moves."""

    spring: Spring | None = None
    length_mm: ShockLength | None = None
    stroke_mm: Stroke | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Headset(Part):
    """The steering bearings; `upper_mm` and `lower_mm` are what sits in the head tube."""

    headset_kind: HeadsetKind | None = None
    steerer_mm: Round | None = None
    upper_mm: Round | None = None
    lower_mm: Round | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stem(Part):
    """What joins handlebar and steerer; a quill stem goes inside the steerer, down to its mark at least."""

    steerer_mm: Round | None = None
    bar_clamp_mm: Round | None = None
    quill: Fitted | None = None
    quill_diameter_mm: Annotated[Millimetres, Bounds(18, 32)] | None = None
    least_insertion_mm: Annotated[Millimetres, Bounds(40, 200)] | None = None
    faceplate_bolts: Annotated[int, Bounds(1, 6)] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Handlebar(Part):
    """A handlebar; `grips` says what holds its grips, where it has any."""

    shape: BarShape | None = None
    grips: GripHold | None = None
    material: Material | None = None
    clamp_mm: Round | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatPost(Part):
    """A seat post; `least_insertion_mm` is from its lower end to the mark, `rails` what its clamp is shaped for.

    `dropper` says whether a lever lowers it: its upper tube then moves, and no stand may clamp it. `dropper_line`
    says what carries the press of that lever to the post.
    """

    material: Material | None = None
    dropper: Fitted | None = None
    dropper_line: DropperLine | None = None
    saddle_clamp: SaddleClamp | None = None
    diameter_mm: Annotated[Millimetres, Bounds(20, 45)] | None = None
    length_mm: Annotated[Millimetres, Bounds(50, 700)] | None = None
    least_insertion_mm: Insertion | None = None
    rails: RailShape | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Saddle(Part):
    """A saddle; its rails decide the clamp."""

    rail_material: Material | None = None
    rails: RailShape | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Crankset(Part):
    """Cranks with their chainrings; `chainline_mm` is from the middle of the frame to the middle of the rings.

    `axle_mm` is the diameter of the axle that they bring along or sit on. `ring_mount` is written where `ring_bolts`
    does not say it: a ring without bolts of its own, or with three, may be held direct, by splines with a lockring or
    small screws, or be riveted. `preload_ring` is the threaded ring beside a self-extracting crank that takes up the
    play.
    """

    rings: tuple[Teeth, ...] = ()
    chainline_mm: Annotated[Millimetres, Bounds(30, 75)] | None = None
    crank_mm: Annotated[Millimetres, Bounds(80, 250)] | None = None
    fixing: CrankFixing | None = None
    axle_mm: CrankAxle | None = None
    pedal_thread: PedalThread | None = None
    preload_ring: Fitted | None = None
    narrow_wide: Fitted | None = None
    ring_bolts: Annotated[int, Bounds(0, 6)] | None = None
    ring_mount: RingMount | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BottomBracket(Part):
    """The bearings of the cranks; `width_mm` and `bore_mm` are those of the shell that they are made for."""

    shell: ShellKind | None = None
    build: BracketBuild | None = None
    fixing: CrankFixing | None = None
    axle_mm: CrankAxle | None = None
    width_mm: ShellWidth | None = None
    bore_mm: ShellBore | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pedals(Part):
    """A pair of pedals; `head` is what turns them in their cranks."""

    head: PedalDrive | None = None
    thread: PedalThread | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain(Part):
    """A chain, or the belt in its place.

    `links` is its length in pitches as it is sold or as it is on the bike, the joiner counted. `outer_width_mm` is over
    the ends of a pin, `inner_width_mm` between the inner plates, which decides what sprocket tooth passes.
    """

    drive_line: DriveLine | None = None
    speeds: tuple[Speeds, ...] = ()
    outer_width_mm: Annotated[Millimetres, Bounds(4, 12)] | None = None
    inner_width_mm: Annotated[Millimetres, Bounds(1.5, 5)] | None = None
    links: Annotated[int, Bounds(40, 220)] | None = None
    joiner: Joiner | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cassette(Part):
    """The sprockets at the rear wheel, smallest first; a screw-on freewheel is one with that mount.

    `stack_mm` is the width over all sprockets where they sit on the body, `made_for_body_mm` the length of the body
    that they are made for, `maker_spacer_mm` the spacer that their maker lays behind them there. `tooth_width_mm` is
    that of a single sprocket, 2.4 mm (3/32 in) or 3.2 mm (1/8 in). `shift_standard` names the sprocket spacing that
    shifters and derailleurs are made for.
    """

    sprockets: tuple[Teeth, ...] = ()
    mount: SprocketStandard | None = None
    build: CassetteBuild | None = None
    stack_mm: Annotated[Millimetres, Bounds(10, 60)] | None = None
    made_for_body_mm: Annotated[Millimetres, Bounds(15, 60)] | None = None
    maker_spacer_mm: Annotated[Millimetres, Bounds(0, 5)] | None = None
    sprocket_pitch_mm: Annotated[Millimetres, Bounds(3, 7)] | None = None
    tooth_width_mm: Annotated[Millimetres, Bounds(1.5, 4)] | None = None
    shift_standard: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RearDerailleur(Part):
    """A rear derailleur and what its maker rates it for.

    `cable_ratio` is how far it moves sideways for each millimetre of cable. `extra_links` are what its maker asks for
    beyond the two links that the path through a derailleur usually takes.
    """

    largest_sprocket: Teeth | None = None
    largest_sprocket_least: Teeth | None = None
    smallest_sprocket: Teeth | None = None
    capacity_teeth: Annotated[int, Bounds(5, 70)] | None = None
    speeds: tuple[Speeds, ...] = ()
    clutch: Fitted | None = None
    power: ShiftPower | None = None
    actuation: Actuation | None = None
    cable_ratio: Annotated[float, Bounds(0.5, 3)] | None = None
    shift_standard: str = ""
    extra_links: Annotated[int, Bounds(0, 8)] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontDerailleur(Part):
    """A front derailleur; `band_mm` is the tube that its band is made for, where a band holds it.

    `front_mount` is what holds it on the frame, `front_cable` from where its cable comes, `speeds` the numbers of
    sprockets for whose chain its cage is made.
    """

    capacity_teeth: Annotated[int, Bounds(0, 40)] | None = None
    largest_ring: Teeth | None = None
    actuation: Actuation | None = None
    front_mount: FrontMount | None = None
    band_mm: BandTube | None = None
    front_cable: CableSide | None = None
    speeds: tuple[Speeds, ...] = ()
    shift_standard: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shifter(Part):
    """A shifter; `cable_pull_mm` is the cable that one click moves, on average over the clicks.

    A friction shifter has no clicks: `whole_pull_mm` is the cable that it moves from end to end.
    """

    speeds: Speeds | None = None
    indexing: Indexing | None = None
    mount: ShifterMount | None = None
    actuation: Actuation | None = None
    cable_pull_mm: Annotated[Millimetres, Bounds(1, 8)] | None = None
    whole_pull_mm: Annotated[Millimetres, Bounds(5, 60)] | None = None
    shift_standard: str = ""
    cable_end: CableEnd | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hub(Part):
    """A hub: how it is held, how it runs, what it carries. `gears` counts the gears inside it, 1 for none.

    `lowest_gear` and `highest_gear` are the ratios of a gear hub's own gears, `least_primary_ratio` the least ratio
    of chainring to sprocket that its maker allows. `radial_spokes` is fitted where the maker allows spokes that
    cross none. `axle_closing` tells of a bolt-through axle, `rotor_ring` of the lockring of a splined rotor.
    `dynamo` says whether the hub makes the current of the lamps, `body_hold` how its freehub body is held.
    `end_caps` says how those of a hub with cartridge bearings sit on the axle, `cable_joint` what ends the cable of
    a gear hub there: a bolt clamped on it, an indicator in the axle, or a box with two cables.
    """

    axle: Axle | None = None
    axle_closing: AxleClosing | None = None
    axle_diameter_mm: AxleDiameter | None = None
    spacing_mm: Spacing | None = None
    sprocket_line_mm: Annotated[Millimetres, Bounds(30, 75)] | None = None
    sprocket_mount: SprocketStandard | None = None
    body_length_mm: Annotated[Millimetres, Bounds(15, 60)] | None = None
    body_hold: BodyHold | None = None
    rotor_mount: RotorStandard | None = None
    rotor_ring: RotorRing | None = None
    dynamo: Fitted | None = None
    cable_joint: HubCable | None = None
    bearings: BearingKind | None = None
    end_caps: EndCaps | None = None
    gears: Annotated[int, Bounds(1, 18)] | None = None
    lowest_gear: Annotated[float, Bounds(0.1, 2)] | None = None
    highest_gear: Annotated[float, Bounds(0.5, 5)] | None = None
    least_primary_ratio: Annotated[float, Bounds(0.5, 4)] | None = None
    flange_diameter_mm: Annotated[Millimetres, Bounds(20, 300)] | None = None
    left_flange_offset_mm: Annotated[Millimetres, Bounds(0, 80)] | None = None
    right_flange_offset_mm: Annotated[Millimetres, Bounds(0, 80)] | None = None
    spoke_holes: SpokeCount | None = None
    spoke_hole_mm: Annotated[Millimetres, Bounds(0, 4)] | None = None
    radial_spokes: Fitted | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rim(Part):
    """A rim with its spokes' count and pattern."""

    bead_seat_mm: BeadSeat | None = None
    inner_width_mm: Annotated[Millimetres, Bounds(10, 100)] | None = None
    spoke_bed_mm: Annotated[Millimetres, Bounds(150, 800)] | None = None
    spokes: SpokeCount | None = None
    crossings: Annotated[int, Bounds(0, 6)] | None = None
    greatest_tension: Annotated[float, In(Unit.NEWTON), Bounds(50, 3000)] | None = None
    greatest_pressure_bar: Annotated[PressureBar, Bounds(0.5, 16)] | None = None
    hooks: Fitted | None = None
    material: Material | None = None
    brake_track: Fitted | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tyre(Part):
    """A tyre by its ISO 5775 size, `width_mm`-`bead_seat_mm`."""

    width_mm: Annotated[Millimetres, Bounds(16, 130)] | None = None
    bead_seat_mm: BeadSeat | None = None
    least_pressure_bar: Annotated[PressureBar, Bounds(0.2, 16)] | None = None
    greatest_pressure_bar: Annotated[PressureBar, Bounds(0.5, 16)] | None = None
    seal: TyreSeal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Brake(Part):
    """A brake, with the pull of the lever that it is sold with; `pad_shape` is what the trade calls its pad."""

    brake_kind: BrakeKind | None = None
    actuation: Actuation | None = None
    fluid: Fluid | None = None
    caliper_mount: BrakeStandard | None = None
    caliper_pull: LeverPull | None = None
    lever_pull: LeverPull | None = None
    pad_shape: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rotor(Part):
    """A brake rotor; `least_thickness_mm` is the maker's wear limit."""

    diameter_mm: RotorDiameter | None = None
    rotor_mount: RotorStandard | None = None
    new_thickness_mm: Annotated[Millimetres, Bounds(0.5, 4)] | None = None
    least_thickness_mm: Annotated[Millimetres, Bounds(0.5, 4)] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pads(Part):
    """A pair of brake pads; for a disc pad `least_thickness_mm` counts the backing plate in."""

    brake_kind: BrakeKind | None = None
    shape: str = ""
    least_thickness_mm: Annotated[Millimetres, Bounds(0.1, 10)] | None = None
    new_thickness_mm: Annotated[Millimetres, Bounds(0.1, 20)] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BrakeLever(Part):
    """A brake lever that is bought without its brake; `cable_end` is the seat that it has for the cable."""

    actuation: Actuation | None = None
    pull: LeverPull | None = None
    cable_end: CableEnd | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable(Part):
    """The inner cable of a brake or of a derailleur."""

    end: CableEnd | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ThroughAxle(Part):
    """The axle of a bolt-through wheel; `length_mm` is what its maker states, `thread` such as `M12x1.5`."""

    thread: str = ""
    length_mm: AxleLength | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DriveUnit(Part):
    """The motor and the battery of an electric bike; `power_w` is what it adds up a long climb.

    `speed_magnet` says where on the rear wheel the magnet of its speed sensor is; it is none where the motor or the hub
    has the sensor inside.
    """

    battery: Battery | None = None
    place: MotorPlace | None = None
    speed_magnet: SpeedMagnet | None = None
    power_w: Annotated[Watts, Bounds(0, 1500)] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SprocketSpacer(Part):
    """A ring behind a cassette that is narrower than the freehub body."""

    width_mm: Annotated[Millimetres, Bounds(0.1, 10)] | None = None
    fits_mount: SprocketStandard | None = None


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
    "brake-lever": BrakeLever,
    "cable": Cable,
    "through-axle": ThroughAxle,
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
    Role.REAR_BRAKE_LEVER: "brake-lever",
    Role.FRONT_BRAKE_LEVER: "brake-lever",
    Role.REAR_BRAKE_CABLE: "cable",
    Role.FRONT_BRAKE_CABLE: "cable",
    Role.REAR_SHIFT_CABLE: "cable",
    Role.FRONT_SHIFT_CABLE: "cable",
    Role.REAR_THROUGH_AXLE: "through-axle",
    Role.FRONT_THROUGH_AXLE: "through-axle",
}


def kind_of(role: Role) -> str:
    """The kind of part, as its folder is called, that fills `role`."""
    return _SHARED_KIND.get(role, role.value)


@cache
def roles_of(kind: str) -> tuple[Role, ...]:
    """The roles that a part of `kind` can fill."""
    return tuple(role for role in Role if kind_of(role) == kind)


def folder_of(part: Part) -> str:
    """The kind of `part`, as its folder is called."""
    for folder, kind in KINDS.items():
        if type(part) is kind:
            return folder
    raise TypeError(f"{type(part).__name__} is not a kind of part")
