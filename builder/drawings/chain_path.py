"""The chain round the largest chainring and the largest sprocket, past the derailleur: how its length is found."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    ACCENT,
    CLOSE,
    HIDDEN,
    PAGE_MM,
    SOLID,
    TINT,
    WHITE,
    Drawing,
    Pen,
    Point,
    Shape,
    circle,
    line,
    move,
    path,
    round_at,
    sweep,
    text,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter
from builder.drawings.marks import HEADED_MM, along, beside, call_outs, dimension, headed, heading, plus
from builder.drawings.transmission import (
    PITCH_MM,
    OpenLoop,
    chain,
    open_loop,
    pitch_radius,
    teeth_path,
)
from builder.model.fields import Fact
from builder.model.units import Unit, write_number

_NAME = "chain-path"
_TOOTH_TIP_MM = 4.0
_ADDED_LINKS = 2  # for the path through the derailleur; common practice, no source
_PULLEY_TEETH = 11
_CAGE_MM = 78.0
_TOP = 7.0
_PITCH_CIRCLE = Pen(stroke=ACCENT, dash_mm=(2.0, 0.8))


def _make(arguments: Arguments) -> Drawing:
    ring_teeth, sprocket_teeth = arguments.whole("ring"), arguments.whole("sprocket")
    chainstay_mm, growth_mm = arguments.number("chainstay"), arguments.number("growth")
    distance_mm = chainstay_mm + growth_mm
    ring_mm, sprocket_mm = pitch_radius(ring_teeth), pitch_radius(sprocket_teeth)
    if ring_mm + sprocket_mm + 2 * _TOOTH_TIP_MM > distance_mm:
        raise DrawingError(
            f"drawing '{_NAME}': {ring_teeth} and {sprocket_teeth} teeth would touch at {distance_mm:g} mm; "
            "it needs a chainstay longer than both radii"
        )
    scale = (PAGE_MM - 6.0) / (distance_mm + ring_mm + sprocket_mm + 2 * _TOOTH_TIP_MM)
    pitch, tip = PITCH_MM * scale, _TOOTH_TIP_MM * scale
    left_radius, right_radius = sprocket_mm * scale, ring_mm * scale
    largest = max(left_radius, right_radius) + tip
    left: Point = (3.0 + tip + left_radius, _TOP + largest)
    right: Point = (left[0] + distance_mm * scale, _TOP + largest)

    loop = open_loop(left, right, left_radius, right_radius)
    exact = loop.length / pitch
    links = arguments.whole("links") or 2 * math.ceil(round((exact + _ADDED_LINKS) / 2, 6))
    if not 0 <= links - exact <= 20:
        raise DrawingError(
            f"drawing '{_NAME}': {links} links can't be laid round {exact:.1f} pitches; "
            "it needs links from that number to 20 more"
        )
    joined, tail, tail_middle = _laid(loop, pitch, links - exact)
    derailleur, pulley, bottom = _derailleur(left, left_radius + tip, scale)
    height = max(bottom, _TOP + 2 * largest) + 3.0
    stay = write_number(chainstay_mm) + (f" + {write_number(growth_mm)}" if growth_mm else "")
    call_out_y = max(_TOP + 2 * largest + 3.5, height - 9.0)
    height = max(height, call_out_y + 3.2)
    numbers, legend = call_outs(
        (
            (
                f"the ends overlap by {_ADDED_LINKS} links or a little more: the number of links is even",
                (tail_middle[0] + 9.0, call_out_y),
                tail_middle,
            ),
            ("rear derailleur: the chain goes past it, not through it", (pulley[0] + 17.0, call_out_y), pulley),
        )
    )
    top_y = 3.6
    bolts = (45, 135, 225, 315) if right_radius > 40.0 * scale else ()
    body = (
        derailleur,
        path(teeth_path(left, sprocket_teeth, pitch), Pen(fill=TINT), "sprocket"),
        path(teeth_path(right, ring_teeth, pitch, phase_deg=90), Pen(fill=TINT), "chainring"),
        circle(left, left_radius, _PITCH_CIRCLE, "sprocket-pitch-circle"),
        circle(right, right_radius, _PITCH_CIRCLE, "ring-pitch-circle"),
        circle(left, min(17.0 * scale, 0.6 * left_radius), Pen(fill=WHITE)),
        circle(right, min(13.0 * scale, 0.6 * right_radius), Pen(fill=WHITE)),
        *(circle(round_at(right, 0.62 * right_radius, angle), 4.0 * scale, Pen(fill=WHITE)) for angle in bolts),
        joined,
        tail,
        dimension(left, right, f"{stay} mm", bold=True, part="centre-distance"),
        *(circle(centre, 0.8, SOLID) for centre in (left, right)),
        text((max(left[0], 9.0), top_y), f"{sprocket_teeth} teeth"),
        text((min(right[0], PAGE_MM - 9.0), top_y), f"{ring_teeth} teeth"),
        heading(((left[0] + right[0]) / 2, top_y), f"{links} links"),
        numbers,
    )
    return Drawing(
        name=_NAME,
        title=f"Chain of {links} links round {ring_teeth} and {sprocket_teeth} teeth at {stay} mm",
        description=(
            f"Drawn to scale from the drive side. The chain lies round the largest sprocket, {sprocket_teeth} teeth, "
            f"and the largest chainring, {ring_teeth} teeth, with {stay} mm between their centres, and does not pass "
            f"through the derailleur. Round both it takes {exact:.1f} pitches; {links} links are left."
        ),
        width_mm=PAGE_MM,
        height_mm=height + HEADED_MM,
        body=headed("drive side, front to the right", body),
        legend=legend,
    )


def _laid(loop: OpenLoop, pitch: float, spare: float) -> tuple[Shape, Shape, Point]:
    """The chain on the loop, its spare end below it, and a point on the spare end.

    The ends meet on the lower run, where the mechanic holds them; the spare end hangs one plate lower.
    """
    exact = loop.length / pitch
    lower_run_starts = loop.run + loop.right_radius * (math.pi + 2 * math.radians(loop.lean_deg))
    join = lower_run_starts + min(0.45 * loop.run, loop.run - 3 * pitch)
    laid = [loop.point(join + index * pitch) for index in range(math.floor(exact + 1e-9) + 1)]
    start, backward = loop.point(join), loop.point(join + pitch)
    drop = beside(start, backward, -1.3 * pitch)
    over = exact - (len(laid) - 1)
    hung = [
        plus(along(start, backward, (index - over) * pitch), drop)
        for index in range(math.floor(spare + over + 1e-9) + 1)
    ]
    return (
        chain(laid, part="chain"),
        chain(hung, colour=ACCENT, fill=ACCENT, part="spare-end", first_outer=len(laid) % 2 == 1),
        hung[len(hung) // 2],
    )


def _derailleur(axle: Point, largest: float, scale: float) -> tuple[Shape, Point, float]:
    """A dashed derailleur that hangs below the axle, the centre of its lower pulley, and how low it reaches."""
    radius = pitch_radius(_PULLEY_TEETH) * scale
    guide = (axle[0] + 4.0 * scale, axle[1] + largest + radius + 9.0 * scale)
    tension = round_at(guide, _CAGE_MM * scale, 66.0)
    aside = beside(guide, tension, radius + 0.9)
    back = (-aside[0], -aside[1])
    hanger = (axle[0] + 8.0 * scale, axle[1] + 28.0 * scale)
    shapes = (
        line(hanger, guide, HIDDEN),
        circle(guide, radius, HIDDEN),
        circle(tension, radius, HIDDEN),
        path(
            (
                move(plus(guide, aside)),
                sweep(radius + 0.9, plus(guide, back)),
                to(plus(tension, back)),
                sweep(radius + 0.9, plus(tension, aside)),
                CLOSE,
            ),
            HIDDEN,
        ),
    )
    return "".join(shapes), tension, tension[1] + radius + 0.9


DRAWING = DrawingKind(
    name=_NAME,
    words="how the length of a new chain is found: biggest to biggest, past the derailleur, and two links",
    make=_make,
    things=("chain",),
    parameters=(
        Parameter(
            name="chainstay",
            words="bottom bracket to rear axle",
            unit=Unit.MILLIMETRE,
            low=250,
            high=900,
            fact=Fact("frame.chainstay"),
        ),
        Parameter(
            name="ring",
            words="teeth of the largest chainring",
            whole=True,
            low=9,
            high=70,
            fact=Fact("crankset.rings", max),
        ),
        Parameter(
            name="sprocket",
            words="teeth of the largest sprocket",
            whole=True,
            low=9,
            high=70,
            fact=Fact("cassette.sprockets", max),
        ),
        Parameter(
            name="growth",
            words="how much farther the axle moves away over its travel",
            unit=Unit.MILLIMETRE,
            default=0,
            low=0,
            high=100,
            fact=Fact("worked-out.axle-growth"),
        ),
        Parameter(name="links", words="links in all; worked out if not given", whole=True, default=0, low=0, high=300),
    ),
)
