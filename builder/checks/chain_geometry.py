"""The path of a chain round two sprockets, in pitches of half an inch."""

from __future__ import annotations

import math
from dataclasses import dataclass

from builder.checks.result import InputError

PITCH_MM = 12.7
# The bicycle's addition for the S through the derailleur, on the largest ring and the largest sprocket together.
DERAILLEUR_LINKS = 2
_DECIMALS = 9


def pitch_diameter_mm(teeth: int, pitch_mm: float = PITCH_MM) -> float:
    """Diameter of the circle through the chain's pins on a sprocket [mm], `p / sin(pi / z)`.

    Source: ISO 606, pitch circle diameter.
    """
    return pitch_mm / math.sin(math.pi / teeth)


@dataclass(frozen=True, slots=True, kw_only=True)
class Loop:
    """A chain laid round two sprockets without a derailleur; lengths in pitches unless the name tells otherwise."""

    large_teeth: int
    small_teeth: int
    centre_mm: float
    large_radius_mm: float
    small_radius_mm: float
    lean_deg: float
    straight_mm: float
    large_wrap: float
    small_wrap: float

    @property
    def pitches(self) -> float:
        """Length of the closed loop."""
        return 2 * self.straight_mm / PITCH_MM + self.large_wrap + self.small_wrap


def loop_round(centre_mm: float, ring_teeth: int, sprocket_teeth: int) -> Loop:
    """The open loop round two sprockets: two straight runs along the common tangents, and two arcs.

    The straight runs touch the pitch circles. On an arc the chain bends from tooth to tooth, one pitch a tooth, so
    that an arc of part of a turn holds that part of the teeth.

    Args:
        centre_mm: bottom bracket to rear axle [mm].
        ring_teeth: teeth in front.
        sprocket_teeth: teeth at the rear.

    Raises:
        InputError: the two sprockets would touch at that distance.

    Source: plane geometry, open belt over two circles; pitch circles of ISO 606.
    """
    large, small = max(ring_teeth, sprocket_teeth), min(ring_teeth, sprocket_teeth)
    large_radius, small_radius = pitch_diameter_mm(large) / 2, pitch_diameter_mm(small) / 2
    if centre_mm <= large_radius + small_radius:
        raise InputError(
            f"chainstay: at {centre_mm:g} mm a ring of {ring_teeth} and a sprocket of {sprocket_teeth} teeth would "
            f"touch; their pitch circles alone need {large_radius + small_radius:.1f} mm"
        )
    lean = math.asin((large_radius - small_radius) / centre_mm)
    return Loop(
        large_teeth=large,
        small_teeth=small,
        centre_mm=centre_mm,
        large_radius_mm=large_radius,
        small_radius_mm=small_radius,
        lean_deg=math.degrees(lean),
        straight_mm=centre_mm * math.cos(lean),
        large_wrap=large * (0.5 + lean / math.pi),
        small_wrap=small * (0.5 - lean / math.pi),
    )


def exact_pitches(centre_mm: float, ring_teeth: int, sprocket_teeth: int) -> float:
    """Pitches of chain round both sprockets, nothing added; see `loop_round`."""
    return loop_round(centre_mm, ring_teeth, sprocket_teeth).pitches


def handbook_pitches(centre_mm: float, ring_teeth: int, sprocket_teeth: int, pitch_mm: float = PITCH_MM) -> float:
    """Pitches of chain by the handbooks' series, `2C/p + (z1 + z2)/2 + ((z2 - z1)/(2 pi))**2 * p/C`.

    Good while the centre distance is well above the larger sprocket's diameter; then it is within 0.05 of a pitch of
    the exact length.

    Source: Mott, Machine Elements in Mechanical Design, 4th edition, section 7-6; ISO 606, annex.
    """
    centre = centre_mm / pitch_mm
    difference = (sprocket_teeth - ring_teeth) / (2 * math.pi)
    return 2 * centre + (ring_teeth + sprocket_teeth) / 2 + difference**2 / centre


def centre_for_pitches_mm(pitches: float, ring_teeth: int, sprocket_teeth: int, pitch_mm: float = PITCH_MM) -> float:
    """Centre distance [mm] at which a chain of `pitches` is just tight, the series of `handbook_pitches` turned round.

    Raises:
        InputError: the chain is too short for the two sprockets at any distance.
    """
    slack = pitches - (ring_teeth + sprocket_teeth) / 2
    difference = (sprocket_teeth - ring_teeth) / (2 * math.pi)
    inside = slack**2 - 8 * difference**2
    if slack <= 0 or inside < 0:
        raise InputError(f"{pitches:g} links are too few for {ring_teeth} and {sprocket_teeth} teeth at any distance")
    return pitch_mm * (slack + math.sqrt(inside)) / 4


def workshop_rule_links(centre_mm: float, ring_teeth: int, sprocket_teeth: int) -> float:
    """Links by the workshop's rule in inches, `L = 2C + F/4 + R/4 + 1`, two links to the inch; not rounded.

    It adds the inch for the derailleur by itself.

    Source: common practice, no source.
    """
    return 2 * (2 * centre_mm / 25.4 + ring_teeth / 4 + sprocket_teeth / 4 + 1)


def even_links(pitches: float) -> int:
    """The least even number of links that is not less than `pitches`; the last bits of the arithmetic left out."""
    return 2 * math.ceil(round(pitches / 2, _DECIMALS))


def growth_teeth(growth_mm: float) -> int:
    """Teeth of capacity that take up at rest what the chain needs where a suspended axle is farthest away.

    Both runs of the chain grow by `growth_mm`, and a link of slack takes two teeth of capacity, since a sprocket holds
    the chain on half its turn.

    Source: plane geometry; two teeth for a link as in `builder.checks.take_up`.
    """
    return math.ceil(round(2 * 2 * growth_mm / PITCH_MM, _DECIMALS))


def chain_links(
    chainstay_mm: float, ring_teeth: int, sprocket_teeth: int, growth_mm: float = 0.0, extra_links: int = 0
) -> int:
    """Links to fit: round the largest ring and the largest sprocket, two more for the derailleur, up to an even number.

    Args:
        chainstay_mm: bottom bracket to rear axle, suspension unladen [mm].
        ring_teeth: the largest ring.
        sprocket_teeth: the largest sprocket.
        growth_mm: how much farther the axle moves away over its travel [mm].
        extra_links: what the derailleur's maker asks for beyond the two.

    Raises:
        InputError: the two sprockets would touch.

    Source: plane geometry; the two links more and the even number are common practice.
    """
    pitches = exact_pitches(chainstay_mm + growth_mm, ring_teeth, sprocket_teeth)
    return even_links(pitches + DERAILLEUR_LINKS + extra_links)
