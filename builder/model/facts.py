"""Closed sets of the trade: what kinds of axle, brake, joiner and so on there are.

Their values are what a source file writes and what a condition asks for. Names are those of ISO 8090 or a plain
description of the geometry; none is a maker's.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum


class Role(StrEnum):
    """A place on a bike that a part fills."""

    FRAME = "frame"
    FORK = "fork"
    SHOCK = "shock"
    HEADSET = "headset"
    STEM = "stem"
    HANDLEBAR = "handlebar"
    SEAT_POST = "seat-post"
    SADDLE = "saddle"
    CRANKSET = "crankset"
    BOTTOM_BRACKET = "bottom-bracket"
    PEDALS = "pedals"
    CHAIN = "chain"
    CASSETTE = "cassette"
    REAR_DERAILLEUR = "rear-derailleur"
    FRONT_DERAILLEUR = "front-derailleur"
    REAR_SHIFTER = "rear-shifter"
    FRONT_SHIFTER = "front-shifter"
    REAR_HUB = "rear-hub"
    FRONT_HUB = "front-hub"
    REAR_RIM = "rear-rim"
    FRONT_RIM = "front-rim"
    REAR_TYRE = "rear-tyre"
    FRONT_TYRE = "front-tyre"
    REAR_BRAKE = "rear-brake"
    FRONT_BRAKE = "front-brake"
    REAR_ROTOR = "rear-rotor"
    FRONT_ROTOR = "front-rotor"
    REAR_PADS = "rear-pads"
    FRONT_PADS = "front-pads"
    REAR_BRAKE_LEVER = "rear-brake-lever"
    FRONT_BRAKE_LEVER = "front-brake-lever"
    REAR_BRAKE_CABLE = "rear-brake-cable"
    FRONT_BRAKE_CABLE = "front-brake-cable"
    REAR_SHIFT_CABLE = "rear-shift-cable"
    FRONT_SHIFT_CABLE = "front-shift-cable"
    REAR_THROUGH_AXLE = "rear-through-axle"
    FRONT_THROUGH_AXLE = "front-through-axle"
    DRIVE_UNIT = "drive-unit"
    SPROCKET_SPACER = "sprocket-spacer"


class Axle(StrEnum):
    """How a wheel is held."""

    QUICK_RELEASE = "quick-release"
    BOLT_THROUGH = "bolt-through"
    NUTTED = "nutted"


class BrakeKind(StrEnum):
    """What a brake works on."""

    DISC = "disc"
    RIM = "rim"
    COASTER = "coaster"
    DRUM = "drum"
    ROD = "rod"


class Actuation(StrEnum):
    """What carries the hand's pull."""

    CABLE = "cable"
    HYDRAULIC = "hydraulic"
    ELECTRONIC = "electronic"
    NONE = "none"


class Fluid(StrEnum):
    """What fills a hydraulic brake."""

    MINERAL_OIL = "mineral-oil"
    DOT = "dot"
    NONE = "none"


class LeverPull(StrEnum):
    """How much cable a brake lever or a caliper wants."""

    SHORT = "short-pull"
    LONG = "long-pull"


class Fitted(StrEnum):
    """Whether there is one."""

    FITTED = "fitted"
    NONE = "none"


class Joiner(StrEnum):
    """How the ends of a chain are joined."""

    REUSABLE_LINK = "reusable-link"
    SINGLE_USE_LINK = "single-use-link"
    JOINING_PIN = "joining-pin"
    SPRING_CLIP = "spring-clip"


class SprocketMount(StrEnum):
    """What the sprockets are held by. Bodies are told apart by what a hand can see."""

    NINE_SPLINE = "nine-spline"
    FINE_SPLINE = "fine-spline"
    THREADED_NOSE = "threaded-nose"
    SCREW_ON = "screw-on"
    THREE_LUG = "three-lug"
    FIXED_THREAD = "fixed-thread"


class CassetteBuild(StrEnum):
    """How the sprockets hold together."""

    LOOSE = "loose"
    PART_CARRIER = "part-carrier"
    ONE_PIECE = "one-piece"


class Suspension(StrEnum):
    """Which ends of the bike are sprung."""

    RIGID = "rigid"
    FRONT = "front"
    FULL = "full"


class Hanger(StrEnum):
    """How the rear derailleur is borne by the frame."""

    PLAIN = "plain"
    SHOULDERED = "shouldered"
    AXLE_PLATE = "axle-plate"
    THROUGH_FRAME = "through-frame"
    EXTENDED = "extended"
    NONE = "none"


class HangerHold(StrEnum):
    """Whether a hanger comes off the frame."""

    SEPARATE = "separate"
    IN_FRAME = "in-frame"


class Material(StrEnum):
    """What a part is made of, where it decides how it is clamped."""

    STEEL = "steel"
    ALUMINIUM = "aluminium"
    TITANIUM = "titanium"
    CARBON = "carbon"


class ThreadedMaterial(StrEnum):
    """What an inner thread is cut in."""

    STEEL = "steel"
    TITANIUM = "titanium"
    BRASS = "brass"
    ALUMINIUM = "aluminium"
    MAGNESIUM = "magnesium"
    PLASTIC = "plastic"


class RotorMount(StrEnum):
    """How a rotor is held to the hub."""

    SIX_BOLT = "six-bolt"
    SPLINED = "splined"
    NONE = "none"


class BrakeMount(StrEnum):
    """How a brake is fixed to frame or fork."""

    RIM_CENTRE_BOLT = "rim-centre-bolt"
    RIM_STUDS = "rim-studs"
    TABS = "tab-mount"
    POST = "post-mount"
    FLAT = "flat-mount"
    REACTION_ARM = "reaction-arm"
    NONE = "none"


class StandardSet(StrEnum):
    """A set of words that a workshop may add to: how parts of one kind hold on another."""

    SPROCKET_MOUNT = "sprocket-mount"
    ROTOR_MOUNT = "rotor-mount"
    BRAKE_MOUNT = "brake-mount"

    @property
    def words(self) -> tuple[str, ...]:
        """The words that come with the program."""
        return tuple(str(word.value) for word in _WORDS_OF[self])

    def word(self, text: str) -> str:
        """`text` as the word that comes with the program, or itself where a workshop brings it along."""
        return _WORDS_OF[self](text) if text in self.words else text


_WORDS_OF: Mapping[StandardSet, type[StrEnum]] = {
    StandardSet.SPROCKET_MOUNT: SprocketMount,
    StandardSet.ROTOR_MOUNT: RotorMount,
    StandardSet.BRAKE_MOUNT: BrakeMount,
}


class CableEnd(StrEnum):
    """The nipple at the end of a cable, and the seat that takes it."""

    BARREL = "barrel"
    PEAR = "pear"
    GEAR = "gear"


class RailShape(StrEnum):
    """The section of a saddle's rails."""

    ROUND = "round"
    OVAL = "oval"
    SINGLE = "single"


class PedalThread(StrEnum):
    """Thread of a pedal axle and of the crank's eye."""

    NINE_SIXTEENTHS = "9/16x20"
    HALF = "1/2x20"
    METRIC_14 = "M14x1.25"


class AxleClosing(StrEnum):
    """How a bolt-through axle is closed."""

    KEY = "key"
    LEVER = "lever"


class RotorRing(StrEnum):
    """What a tool engages on the lockring of a splined rotor."""

    INSIDE_SPLINES = "inside-splines"
    OUTSIDE_NOTCHES = "outside-notches"


class MotorPlace(StrEnum):
    """Where the motor of an electric bike is."""

    CRANKS = "cranks"
    REAR_HUB = "rear-hub"
    FRONT_HUB = "front-hub"


class SpeedMagnet(StrEnum):
    """Where the magnet is that tells a motor how fast the rear wheel turns."""

    SPOKE = "spoke"
    ROTOR = "rotor"
    VALVE = "valve"
    NONE = "none"


class EndCaps(StrEnum):
    """How the end caps of a hub with cartridge bearings sit on its axle."""

    PULL_OFF = "pull-off"
    SCREWED = "screwed"


class HubCable(StrEnum):
    """What ends the cable of a gear hub at the hub."""

    CLAMP_BOLT = "clamp-bolt"
    INDICATOR = "indicator"
    TWO_CABLES = "two-cables"


class BearingKind(StrEnum):
    """How a hub runs."""

    CUP_AND_CONE = "cup-and-cone"
    CARTRIDGE = "cartridge"


class HeadsetKind(StrEnum):
    """How a steerer is held."""

    THREADLESS = "threadless"
    THREADED = "threaded"


class ShellKind(StrEnum):
    """The bottom bracket shell of a frame."""

    THREADED_LEFT_RIGHT = "threaded-left-right"
    THREADED_BOTH_RIGHT = "threaded-both-right"
    THREADED_OTHER = "threaded-other"
    PRESSED = "pressed"


class BracketBuild(StrEnum):
    """How the bearings of the cranks are borne."""

    OUTBOARD = "outboard"
    CARTRIDGE = "cartridge"
    CUP_AND_LOCKRING = "cup-and-lockring"
    PRESSED = "pressed"


class RingMount(StrEnum):
    """How a chainring is held to its crank."""

    BOLTS = "bolts"
    DIRECT = "direct"
    RIVETED = "riveted"


class ShifterMount(StrEnum):
    """What bears a shifter."""

    OWN_CLAMP = "own-clamp"
    BRAKE_LEVER = "brake-lever"


class FrontMount(StrEnum):
    """What holds a front derailleur on the frame."""

    BAND = "band"
    BRAZE_ON = "braze-on"
    DIRECT = "direct"
    BRACKET = "bracket"


class CableSide(StrEnum):
    """From which side the cable comes to a front derailleur."""

    BELOW = "below"
    ABOVE = "above"
    EITHER = "either"


class Indexing(StrEnum):
    """Whether a shifter stops at each gear by itself."""

    CLICKS = "clicks"
    FRICTION = "friction"


class ShiftPower(StrEnum):
    """What feeds the motor of an electronic derailleur."""

    OWN_BATTERY = "own-battery"
    SHARED_BATTERY = "shared-battery"
    BIKE_BATTERY = "bike-battery"


class BodyHold(StrEnum):
    """How a freehub body is held to its hub."""

    HOLLOW_BOLT = "hollow-bolt"
    PULLS_OFF = "pulls-off"


class DriveLine(StrEnum):
    """What turns the rear wheel."""

    CHAIN = "chain"
    BELT = "belt"


class ChainTension(StrEnum):
    """What takes up the slack of a chain without a derailleur."""

    SLIDING = "sliding"
    ECCENTRIC = "eccentric"
    TENSIONER = "tensioner"


class CrankFixing(StrEnum):
    """How a crank holds on its axle."""

    SQUARE_TAPER = "square-taper"
    SPLINED_BOLT = "splined-bolt"
    PINCH_BOLT = "pinch-bolt"
    SELF_EXTRACTING = "self-extracting"


class Spring(StrEnum):
    """What a fork or a shock is sprung by."""

    AIR = "air"
    COIL = "coil"
    NONE = "none"


class TyreSeal(StrEnum):
    """What keeps the air in."""

    TUBE = "tube"
    TUBELESS = "tubeless"
    TUBULAR = "tubular"


class Battery(StrEnum):
    """How the battery of an electric bike is borne."""

    REMOVABLE = "removable"
    BUILT_IN = "built-in"
    NONE = "none"


class BarShape(StrEnum):
    """The shape of a handlebar, which decides what clamps its levers and what covers it."""

    FLAT = "flat"
    DROP = "drop"


class GripHold(StrEnum):
    """What holds a grip on the handlebar."""

    CLAMPED = "clamped"
    PUSHED_ON = "pushed-on"


class SaddleClamp(StrEnum):
    """What clamps the rails of a saddle."""

    ONE_BOLT = "one-bolt"
    TWO_BOLTS = "two-bolts"
    CLIP = "clip"


class DropperLine(StrEnum):
    """What carries the hand's press from its lever to a dropper post, and where a cable is clamped."""

    CLAMPED_AT_LEVER = "clamped-at-lever"
    CLAMPED_AT_POST = "clamped-at-post"
    HYDRAULIC = "hydraulic"
    ELECTRONIC = "electronic"


class SeatClamp(StrEnum):
    """What closes the clamp round a seat post."""

    ONE_BOLT = "one-bolt"
    TWO_BOLTS = "two-bolts"
    LEVER = "lever"


class PedalDrive(StrEnum):
    """What turns a pedal in its crank; the values are heads of the catalogue."""

    FLATS = "pedal-flats"
    SOCKET_8 = "hex-8"
