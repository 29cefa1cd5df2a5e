"""The triangle that gives a spoke its length, to scale, from the side and from the end of the axle."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CENTRE,
    PAGE_MM,
    SHADE,
    SOLID,
    THICK,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc,
    box,
    circle,
    line,
    polygon,
    round_at,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter
from builder.drawings.marks import call_outs, dimension, heading
from builder.model.units import Unit, write_number

_NAME = "spoke-triangle"
_SIDE = 58.0


def _make(arguments: Arguments) -> Drawing:
    rim_mm, flange_mm = arguments.number("rim-diameter") / 2, arguments.number("flange-diameter") / 2
    offset_mm, hole_mm = arguments.number("flange-offset"), arguments.number("hole")
    spokes, crossings = arguments.whole("spokes"), arguments.whole("crossings")
    if spokes % 2:
        raise DrawingError(
            f"drawing '{_NAME}': {spokes} spokes can't be shared by two flanges; it needs an even number"
        )
    turn = 720.0 * crossings / spokes
    if turn > 100:
        raise DrawingError(
            f"drawing '{_NAME}': {crossings} crossings with {spokes} spokes would pass over the hub; it needs "
            "fewer crossings"
        )
    flat = math.sqrt(rim_mm**2 + flange_mm**2 - 2 * rim_mm * flange_mm * math.cos(math.radians(turn)))
    length_mm = math.hypot(flat, offset_mm) - hole_mm / 2
    scale = (_SIDE - 6.0) / (rim_mm + flange_mm)
    rim, flange = rim_mm * scale, flange_mm * scale
    hub: Point = (24.0, 8.0 + rim)
    at_rim: Point = (hub[0], hub[1] - rim)
    at_flange = round_at(hub, flange, -90.0 + turn)
    end: Point = (72.0, hub[1])
    offset = max(offset_mm * scale, 0.0)
    flange_foot: Point = (end[0] - offset, hub[1] - flange * math.cos(math.radians(turn)))
    half_deg = math.degrees(math.asin(min(20.0 / rim, 0.9)))
    shapes: tuple[Shape, ...] = (
        arc(hub, rim, -90 - half_deg, -90 + half_deg, Pen(width_mm=1.4)),
        circle(hub, flange, BODY.filled(TINT), "flange"),
        *(
            circle(round_at(hub, flange, -90.0 + turn + 720.0 * index / spokes), 0.7, Pen(fill="#ffffff"))
            for index in range(spokes // 2)
        ),
        line(hub, at_rim, CENTRE, "rim-radius"),
        line(hub, at_flange, THICK, "flange-radius"),
        line(at_flange, at_rim, Pen(width_mm=0.9, stroke=ACCENT), "spoke"),
        circle(hub, 0.8, SOLID),
        box((end[0] - 3.5, hub[1] - rim - 2.0), 7.0, 3.0, BODY.filled(SHADE)),
        line((end[0], hub[1] - rim - 2.0), (end[0], hub[1] + 10.5), CENTRE),
        polygon(
            (
                (end[0] - offset - 0.8, hub[1] - flange - 1.0),
                (end[0] - offset + 0.8, hub[1] - flange - 1.0),
                (end[0] - offset + 0.8, hub[1] - 3.0),
                (end[0] + 8.0, hub[1] - 3.0),
                (end[0] + 8.0, hub[1] + 3.0),
                (end[0] - offset - 0.8, hub[1] + 3.0),
            ),
            BODY.filled(TINT),
        ),
        line((end[0] - offset - 10.0, hub[1]), (end[0] + 12.0, hub[1]), CENTRE),
        line(flange_foot, (end[0], hub[1] - rim), Pen(width_mm=0.9, stroke=ACCENT)),
        dimension((end[0] - offset, hub[1] + 2.0), (end[0], hub[1] + 2.0), "", offset=7.0, part="offset"),
        text((end[0] - offset / 2, hub[1] + 14.0), f"{write_number(offset_mm)} mm"),
    )
    if crossings:
        shapes += (arc(hub, 0.55 * flange, -90.0, -90.0 + turn, Pen(width_mm=0.7, stroke=ACCENT), "angle"),)
    bottom = hub[1] + max(flange + 3.0, 17.0)
    middle = ((at_rim[0] + at_flange[0]) / 2, (at_rim[1] + at_flange[1]) / 2)
    crossed = (
        ()
        if not crossings
        else (
            (
                f"turn of the hub for {crossings} crossings: {write_number(turn)} degrees",
                (hub[0] + 18.0, bottom - 4.0),
                round_at(hub, 0.55 * flange, -90 + turn / 2),
            ),
        )
    )
    numbers, legend = call_outs(
        (
            (f"spoke, {write_number(length_mm)} mm", (middle[0] + 15.0, middle[1]), middle),
            (
                f"rim at the spoke ends, {write_number(2 * rim_mm)} mm in diameter",
                (6.0, hub[1] - 0.55 * rim),
                (hub[0], hub[1] - 0.5 * rim),
            ),
            (
                f"hole circle of the flange, {write_number(2 * flange_mm)} mm in diameter",
                (6.0, bottom - 6.0),
                round_at(hub, flange, 160),
            ),
            *crossed,
            (
                f"middle of the wheel to the flange, {write_number(offset_mm)} mm",
                (84.0, hub[1] - 0.4 * rim),
                (end[0] - offset, hub[1] - 2.0),
            ),
        )
    )
    return Drawing(
        name=_NAME,
        title=f"Spoke of {write_number(length_mm)} mm",
        description=(
            "Drawn to scale. Left, from the side: the spoke closes a triangle with the radius of the rim and the "
            "radius "
            "of the flange. Right, from the end of the axle's plane: the flange stands beside the middle of the wheel."
        ),
        width_mm=PAGE_MM,
        height_mm=bottom,
        body="".join(
            (*shapes, heading((hub[0], 3.4), "from the side"), heading((end[0] - 2.0, 3.4), "from the rear"), numbers)
        ),
        legend=legend,
    )


def _length(name: str, words: str, low: float, high: float, default: float | None = None) -> Parameter:
    return Parameter(name=name, words=words, unit=Unit.MILLIMETRE, low=low, high=high, default=default)


DRAWING = DrawingKind(
    name=_NAME,
    words="what decides the length of a spoke",
    make=_make,
    things=("spoke",),
    parameters=(
        _length("rim-diameter", "at the spoke ends", 200, 700),
        _length("flange-diameter", "hole circle", 20, 130),
        _length("flange-offset", "middle of the wheel to the flange", 0, 70),
        Parameter(name="spokes", words="of the whole wheel", whole=True, low=12, high=48),
        Parameter(name="crossings", words="of each spoke", whole=True, low=0, high=4),
        _length("hole", "in the flange", 2, 4, 2.6),
    ),
)
