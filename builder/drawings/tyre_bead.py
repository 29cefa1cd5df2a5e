"""A tyre goes over the rim when its bead lies in the well on the far side."""

from __future__ import annotations

from builder.drawings.canvas import (
    CENTRE,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    bend,
    circle,
    line,
    move,
    path,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.marks import act_arrow, call_outs, heading, turn_arrow
from builder.drawings.rims import rim_section
from builder.drawings.smaller import reduced

_NAME = "tyre-bead"
_SEAT_Y = 48.0
_SCALE = 1.35
_INNER = 24.0


def _slack_tyre(x: float, left: Point, right: Point, top: float) -> Shape:
    """A tyre without pressure, its beads at two given places."""
    outline = (
        move(left),
        bend((left[0] - 12.0, left[1] - 14.0), (x - 14.0, top), (x, top)),
        bend((x + 14.0, top), (right[0] + 9.0, right[1] - 13.0), right),
    )
    pen = Pen(width_mm=3.2)
    core = Pen(width_mm=1.8, stroke=TINT)
    beads = "".join(circle(place, 2.3, Pen(width_mm=0.7, fill=SHADE), "bead") for place in (left, right))
    return path(outline, pen) + path(outline, core) + beads


def _make(_: Arguments) -> Drawing:
    left_x, right_x = 22.0, 65.0
    y = _SEAT_Y
    well_y = y + 0.7
    half = _INNER / 2
    shapes = (
        heading((left_x, 3.6), "far side"),
        heading((right_x + 3.0, 3.6), "last part"),
        rim_section((left_x, y), _INNER, _SCALE),
        rim_section((right_x, y), _INNER, _SCALE),
        _slack_tyre(left_x, (left_x - 2.5, well_y), (left_x + 2.5, well_y), 17.0),
        _slack_tyre(right_x - 2.0, (right_x - half + 4.6, y - 2.2), (right_x + half + 4.6, y - 8.6), 17.0),
        turn_arrow((right_x + half + 0.6, y - 8.0), 6.6, -38.0, -172.0),
        act_arrow((left_x - 17.0, y - 3.0), (left_x - 6.0, y - 1.2)),
        act_arrow((left_x + 17.0, y - 3.0), (left_x + 6.0, y - 1.2)),
        line((PAGE_MM / 2, 8.0), (PAGE_MM / 2, y + 18.0), CENTRE),
    )
    numbers, legend = call_outs(
        (
            ("bead of the tyre", (5.0, y + 12.0), (left_x - 3.2, well_y)),
            (
                "well: the rim is smallest here, so the bead gains slack",
                (left_x + 18.0, y + 14.0),
                (left_x + 3.0, y + 3.6),
            ),
            ("last stretch of bead, pushed over the wall by hand", (84.0, y + 2.0), (right_x + half + 5.2, y - 7.6)),
            ("inner tube must not lie under the bead", (right_x - 16.0, y + 16.0), (right_x - half + 4.6, y - 1.0)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="A tyre goes over its rim with the bead in the well",
        description=(
            "Rim and tyre cut across at two places of the same wheel. On the far side both beads lie together in the "
            "well in the middle of the rim; that leaves slack, so that the last stretch of bead goes over the wall."
        ),
        width_mm=PAGE_MM,
        height_mm=y + 21.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="where the bead lies while a tyre is fitted",
    make=_make,
    width_mm=60.0,
    things=(
        "bead",
        "tyre",
        "inner-tube",
    ),
)
