"""A full-suspension bike from the drive side, with the parts of its suspension named."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    DETAIL,
    PAGE_MM,
    SHADE,
    THICK,
    TINT,
    Drawing,
    Pen,
    Point,
    circle,
    line,
    path,
    smooth,
)
from builder.drawings.cycle import tube, wheel
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.marks import along, call_outs
from builder.drawings.smaller import reduced

_NAME = "suspension"
_REAR: Point = (20.0, 50.0)
_FRONT: Point = (70.0, 50.0)
_BRACKET: Point = (38.5, 51.0)
_HEAD_TOP: Point = (58.5, 18.5)
_HEAD_LOW: Point = (60.2, 25.0)
_SEAT: Point = (33.5, 24.0)
_PIVOT: Point = (38.0, 44.0)


def _make(_: Arguments) -> Drawing:
    shock_front: Point = (49.0, 30.5)
    shock_rear: Point = (37.5, 31.5)
    rocker_low: Point = (31.5, 37.5)
    crown: Point = (61.0, 27.5)
    shapes = (
        wheel(_REAR, 17.0, 2.6, spokes=18),
        wheel(_FRONT, 17.0, 2.6, spokes=18),
        tube(crown, along(_FRONT, crown, 12.0), 2.2),
        tube(_FRONT, along(_FRONT, crown, 13.5), 4.0, fill=TINT),
        circle(_FRONT, 2.0, BODY),
        tube(_BRACKET, _HEAD_LOW, 4.0),
        tube(_SEAT, _HEAD_TOP, 3.2),
        tube(_BRACKET, (33.0, 20.0), 3.2),
        tube((58.0, 16.5), (60.8, 27.0), 4.6),
        tube(_PIVOT, _REAR, 2.6, fill=TINT),
        tube(_REAR, rocker_low, 2.0, fill=TINT),
        path(smooth((rocker_low, (33.2, 33.4), shock_rear)), Pen(width_mm=2.6)),
        path(smooth((rocker_low, (33.2, 33.4), shock_rear)), Pen(width_mm=1.4, stroke="#ffffff")),
        tube(shock_rear, shock_front, 2.0),
        tube(along(shock_rear, shock_front, 4.5), along(shock_front, shock_rear, 0.6), 4.4, closed=True, fill=SHADE),
        *(circle(place, 1.2, DETAIL) for place in (rocker_low, shock_rear, shock_front, _PIVOT, (34.4, 33.6))),
        circle(_REAR, 2.0, BODY),
        circle(_BRACKET, 4.6, Pen(width_mm=0.7, fill=TINT)),
        circle(_BRACKET, 1.2, DETAIL),
        line(_BRACKET, (46.5, 56.0), Pen(width_mm=1.4)),
        line((44.5, 57.0), (49.0, 56.2), THICK),
        line((33.0, 20.0), (31.6, 12.0), Pen(width_mm=1.6)),
        path(smooth(((25.0, 10.6), (30.0, 11.4), (37.5, 10.4))), Pen(width_mm=2.2)),
        line((57.6, 16.0), (57.0, 13.4), Pen(width_mm=1.6)),
        path(smooth(((57.0, 13.4), (60.0, 11.6), (62.5, 11.8))), Pen(width_mm=1.6)),
    )
    numbers, legend = call_outs(
        (
            ("upper legs of the fork, which slide into the lower legs", (77.0, 24.0), along(crown, _FRONT, 4.0)),
            ("seals of the fork", (84.0, 34.0), along(_FRONT, crown, 13.2)),
            ("lower legs of the fork", (85.0, 69.0), along(_FRONT, crown, 7.0)),
            ("rear shock", (46.0, 9.0), along(shock_rear, shock_front, 7.0)),
            ("linkage", (14.0, 17.0), (33.0, 34.4)),
            ("main pivot, near the bottom bracket", (45.0, 69.0), _PIVOT),
            ("swingarm", (5.0, 27.0), along(_REAR, rocker_low, 7.0)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="The suspension of a bike",
        description="A full-suspension bike from the drive side, front at the right, with the parts of its suspension.",
        width_mm=PAGE_MM,
        height_mm=73.5,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="the parts of a bike's suspension",
    make=_make,
    things=(
        "fork",
        "shock",
    ),
    width_mm=60.0,
)
