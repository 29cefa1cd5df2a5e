"""The adjusting marks of a hub gear: in line, and not in line."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    INK,
    PAGE_MM,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc,
    circle,
    line,
    round_at,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.fasteners import nut_head
from builder.drawings.marks import HEADED_MM, call_outs, cross_mark, headed, heading, tick_mark
from builder.drawings.smaller import reduced

_NAME = "hub-gear-marks"
_Y = 30.0


def _hub(x: float, off_deg: float) -> Shape:
    """The end of the hub with a fixed mark and a moving mark, `off_deg` apart."""
    centre: Point = (x, _Y)
    fixed, moving = -90.0, -90.0 + off_deg
    return "".join(
        (
            circle(centre, 19.0, BODY.filled(TINT)),
            circle(centre, 13.4, BODY),
            circle(centre, 8.6, BODY.filled(TINT)),
            nut_head(centre, 5.6, bore=2.4, turn_deg=30),
            line(round_at(centre, 14.4, fixed), round_at(centre, 18.2, fixed), Pen(width_mm=2.0)),
            line(round_at(centre, 9.6, moving), round_at(centre, 12.6, moving), Pen(width_mm=2.0, stroke=ACCENT)),
            *(line(round_at(centre, 9.0, angle), round_at(centre, 13.2, angle)) for angle in range(30, 151, 20)),
        )
    )


def _glass(x: float, off_mm: float) -> Shape:
    """The two marks, enlarged."""
    y = 66.0
    return "".join(
        (
            circle((x, y), 11.5, BODY),
            arc((x, y), 11.5, 0, 180),
            line((x - 11.4, y), (x + 11.4, y)),
            line((x, y - 7.5), (x, y - 1.6), Pen(width_mm=2.6, stroke=INK)),
            line((x + off_mm, y + 1.8), (x + off_mm, y + 7.5), Pen(width_mm=2.6, stroke=ACCENT)),
        )
    )


def _make(_: Arguments) -> Drawing:
    left, right = 22.5, 67.5
    shapes = (
        tick_mark((left - 13.0, 3.6)),
        heading((left - 8.0, 3.6), "in line", anchor="start"),
        cross_mark((right - 19.0, 3.6)),
        heading((right - 14.0, 3.6), "not in line", anchor="start"),
        _hub(left, 0.0),
        _hub(right, 24.0),
        _glass(left, 0.0),
        _glass(right, 5.0),
    )
    numbers, legend = call_outs(
        (
            ("mark on the fixed part", (left + 22.0, 10.0), (left + 0.8, _Y - 16.0)),
            ("mark on the part that the cable turns", (left + 22.5, 57.0), (left + 1.2, 70.5)),
            ("enlarged", (left - 17.0, 57.0), (left - 10.5, 61.5)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="The adjusting marks of a hub gear",
        description=(
            "Seen from the side of the hub where the cable ends. Left, the mark on the moving part stands in line with "
            "the fixed mark; right, it does not, and the barrel adjuster is turned until it does."
        ),
        width_mm=PAGE_MM,
        height_mm=79.0 + HEADED_MM,
        body=headed("seen where the cable ends", (*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="when the cable of a hub gear is set right",
    make=_make,
    things=(
        "gear-hub",
        "hub-adjuster",
    ),
    width_mm=60.0,
)
