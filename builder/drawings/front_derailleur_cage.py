"""The cage of a front derailleur over the largest chainring: its gap, at full size, and its line."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CLOSE,
    DETAIL,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc,
    arc_commands,
    box,
    group,
    line,
    move,
    path,
    round_at,
    sweep,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import HEADED_MM, call_outs, cross_mark, dimension, headed, heading, tick_mark
from builder.drawings.transmission import PITCH_MM, ROLLER_RADIUS_IN_PITCHES, pitch_radius
from builder.model.units import Unit, write_number

_NAME = "front-derailleur-cage"
_TOOTH_TIP_PITCHES = 0.27
_TIP_Y = 31.0
_PLAN_Y = 60.0


def _ring_top(teeth: int) -> tuple[Shape, Point, float]:
    """The top of a chainring at full size, its centre, and the radius of its tooth tips."""
    radius = pitch_radius(teeth)
    tip = radius + _TOOTH_TIP_PITCHES * PITCH_MM
    centre = (PAGE_MM / 2, _TIP_Y + tip)
    seat = ROLLER_RADIUS_IN_PITCHES * PITCH_MM
    step = 360.0 / teeth
    half = int(29.0 / step)
    half_tip = 0.10 * PITCH_MM / tip * 57.3
    commands: list[str] = []
    for index in range(-half, half + 1):
        angle = -90 + (index + 0.5) * step
        roller = round_at(centre, radius, angle)
        a, b = round_at(roller, seat, angle + 258), round_at(roller, seat, angle + 102)
        first, second = (
            round_at(centre, tip, angle - step / 2 - half_tip),
            round_at(centre, tip, angle - step / 2 + half_tip),
        )
        if first[0] < 3.0 or round_at(centre, tip, angle + step / 2)[0] > PAGE_MM - 3.0:
            continue
        commands += [to(first) if commands else move(first), to(second), to(a), sweep(seat, b, clockwise=False)]
    return path(commands, Pen(width_mm=0.7), "chainring"), centre, tip


def _plan(x: float, turn_deg: float) -> Shape:
    """Chainrings and cage from above."""
    rings = "".join(
        box((x - 17.0 + inset, _PLAN_Y + shift), 34.0 - 2 * inset, 1.3, Pen(fill=SHADE))
        for shift, inset in ((0.0, 0.0), (4.2, 3.0))
    )
    cage = group(
        (
            box((-9.0, -2.6), 18.0, 1.5, DETAIL, round_mm=0.6, part="outer-plate"),
            box((-9.0, 7.2), 18.0, 1.5, DETAIL, round_mm=0.6, part="inner-plate"),
            line((-9.0, -2.0), (-9.0, 8.0), Pen(width_mm=0.7)),
            line((9.0, -2.0), (9.0, 8.0), Pen(width_mm=0.7)),
        ),
        shift=(x, _PLAN_Y + 0.0),
        turn_deg=turn_deg,
    )
    return rings + cage


def _make(arguments: Arguments) -> Drawing:
    teeth, gap = arguments.whole("ring"), arguments.number("gap")
    ring, centre, tip = _ring_top(teeth)
    low, high = tip + gap, tip + gap + 15.0
    begin, end = -90 - 13.0 * 97 / tip, -90 + 12.0 * 97 / tip
    outline = (
        *arc_commands(centre, low, begin, end),
        to(round_at(centre, high - 1.5, end + 1.0)),
        sweep(high, round_at(centre, high, begin + 3.0), clockwise=False),
        to(round_at(centre, low + 5.0, begin - 1.5)),
        CLOSE,
    )
    shapes = (
        ring,
        path(outline, BODY.filled(TINT), "cage-plate"),
        arc(centre, low + 3.5, begin + 2.0, end - 1.5),
        line((centre[0] - 2.0, _TIP_Y), (PAGE_MM - 16.0, _TIP_Y)),
        line(round_at(centre, low, -90), (PAGE_MM - 16.0, _TIP_Y - gap)),
        dimension((PAGE_MM - 18.0, _TIP_Y - gap), (PAGE_MM - 18.0, _TIP_Y), "", part="gap"),
        heading((PAGE_MM - 8.0, _TIP_Y - gap / 2), f"{write_number(gap)} mm"),
        _plan(23.0, 0.0),
        _plan(67.0, 9.0),
        tick_mark((9.0, _PLAN_Y - 8.0)),
        cross_mark((53.0, _PLAN_Y - 8.0)),
        heading((26.0, _PLAN_Y - 8.0), "parallel"),
        heading((70.0, _PLAN_Y - 8.0), "askew"),
    )
    numbers, legend = call_outs(
        (
            ("outer plate of the cage", (9.0, 9.0), (round_at(centre, low + 7.0, begin + 4.0))),
            ("largest chainring", (8.0, _TIP_Y + 15.0), round_at(centre, tip - 4.0, -90 - 360.0 / teeth)),
        )
    )
    return Drawing(
        name=_NAME,
        title="The cage of a front derailleur over the largest chainring",
        description=(
            f"Above, from the side and at full size: {write_number(gap)} mm between the tips of the teeth, "
            f"{teeth} of them, and the edge of the outer plate. Below, from above: the plates are parallel to the "
            "chainrings."
        ),
        width_mm=PAGE_MM,
        height_mm=_PLAN_Y + 13.0 + HEADED_MM,
        body=headed("above: drive side; below: from above", (*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how high and how straight the cage of a front derailleur stands",
    make=_make,
    things=("front-derailleur",),
    parameters=(
        Parameter(
            name="gap", words="between the tooth tips and the cage", unit=Unit.MILLIMETRE, default=2, low=1, high=6
        ),
        Parameter(name="ring", words="teeth of the largest chainring", whole=True, default=48, low=22, high=60),
    ),
)
