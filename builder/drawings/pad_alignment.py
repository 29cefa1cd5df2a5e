"""A rim brake pad on its braking track: height, and a little toe-in."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    BODY,
    CLOSE,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc_commands,
    box,
    group,
    path,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.fasteners import socket_head
from builder.drawings.marks import act_arrow, call_outs, cross_mark, dimension, heading, tick_mark
from builder.model.units import Unit, write_number

_NAME = "pad-alignment"
_RADIUS = 110.0
_SIDE_Y = 29.0
_PLAN_Y = 76.0
_RUBBER = "#8a8a8a"


def _rim(x: float, y: float, half_deg: float) -> Shape:
    """A stretch of rim and tyre from its side; `y` is the middle of the braking track."""
    centre: Point = (x, y + _RADIUS)
    begin, end = -90 - half_deg, -90 + half_deg

    def band(low: float, high: float, fill: str, part: str) -> Shape:
        commands = (*arc_commands(centre, high, begin, end), *arc_commands(centre, low, end, begin, joined=True), CLOSE)
        return path(commands, Pen(width_mm=0.7, fill=fill), part)

    return (
        band(_RADIUS + 5.5, _RADIUS + 15.0, SHADE, "tyre")
        + band(_RADIUS - 5.5, _RADIUS + 5.5, "#ffffff", "track")
        + band(_RADIUS - 11.0, _RADIUS - 5.5, TINT, "rim")
    )


def _panel(x: float, shift: float, words: str, *, right: bool) -> Shape:
    """A short stretch of rim with the pad at one height."""
    pad = box((x - 9.5, _SIDE_Y + shift - 3.2), 19.0, 6.4, Pen(width_mm=0.7, fill=_RUBBER), round_mm=2.0, part="pad")
    mark = tick_mark((x, 4.0), size=1.8) if right else cross_mark((x, 4.0), size=1.6)
    bolt = socket_head((x, _SIDE_Y + shift), 2.2, turn_deg=30)
    return _rim(x, _SIDE_Y, 6.8) + pad + bolt + mark + text((x, 10.4), words, bold=True)


def _make(arguments: Arguments) -> Drawing:
    toe_mm = arguments.number("toe-in")
    x, y = PAGE_MM / 2, _PLAN_Y
    toe_deg = math.degrees(toe_mm / 40.0)
    from_above = (
        box((-20.0, -5.0), 40.0, 5.0, Pen(width_mm=0.7, fill=_RUBBER), round_mm=0.6),
        box((-22.0, -7.4), 44.0, 2.4, BODY),
    )
    shapes = (
        _panel(15.5, 0.0, "on the track", right=True),
        _panel(45.0, -6.4, "too high", right=False),
        _panel(74.5, 6.4, "too low", right=False),
        box((6.0, y), PAGE_MM - 12.0, 4.0, BODY.filled(TINT), part="rim-plan"),
        group(from_above, shift=(x, y - 0.4 - toe_mm / 2), turn_deg=toe_deg, part="pad-plan"),
        act_arrow((x + 12.0, y + 9.0), (x + 32.0, y + 9.0)),
        text((x + 8.0, y + 9.0), "front of the bike", anchor="end"),
        heading((21.0, y - 14.0), f"toe-in {write_number(toe_mm)} mm"),
        dimension((x - 27.5, y), (x - 27.5, y - 0.4 - toe_mm), "", part="toe-in"),
    )
    numbers, legend = call_outs(
        (
            ("tyre: the pad never touches it", (60.0, 53.0), (66.0, _SIDE_Y - 9.5)),
            ("braking track", (6.0, 53.0), (6.5, _SIDE_Y + 4.2)),
            ("brake pad, its whole face on the track", (20.0, 53.0), (20.5, _SIDE_Y + 1.4)),
            ("front end of the pad, which touches first", (84.0, y - 12.0), (x + 19.0, y - 1.8)),
        )
    )
    touches = (
        f"the front end touches the rim first, the rear end stands {write_number(toe_mm)} mm off"
        if toe_mm
        else "the whole face touches the rim at once"
    )
    return Drawing(
        name=_NAME,
        title="A brake pad on the rim",
        description=(
            "From the side: the whole face of the pad lies on the braking track, clear of the tyre above and of the "
            f"edge below. From above: {touches}."
        ),
        width_mm=PAGE_MM,
        height_mm=_PLAN_Y + 12.5,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="where a rim brake pad meets the rim",
    make=_make,
    things=(
        "brake-pad",
        "rim",
    ),
    parameters=(Parameter(name="toe-in", words="gap at the rear end", unit=Unit.MILLIMETRE, default=1, low=0, high=3),),
)
