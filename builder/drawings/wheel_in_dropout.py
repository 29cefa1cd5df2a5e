"""An axle in its dropouts: fully seated, and not."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CENTRE,
    CLOSE,
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
    sweep,
    to,
)
from builder.drawings.cycle import tube
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import HEADED_MM, act_arrow, call_outs, cross_mark, headed, heading, tick_mark
from builder.drawings.smaller import reduced

_NAME = "wheel-in-dropout"
_SEAT_Y = 40.0


def _fork_end(x: float, axle_y: float, axle_x: float) -> Shape:
    """A fork end from its side, its slot open downward."""
    y = _SEAT_Y
    outline = (
        move((x - 4.5, y - 17.0)),
        bend((x - 8.0, y - 12.0), (x - 12.0, y - 8.0), (x - 12.5, y)),
        bend((x - 12.5, y + 8.0), (x - 11.0, y + 14.0), (x - 9.0, y + 18.0)),
        to((x - 4.4, y + 18.0)),
        to((x - 4.4, y)),
        sweep(4.4, (x + 4.4, y)),
        to((x + 4.4, y + 18.0)),
        to((x + 9.0, y + 18.0)),
        bend((x + 11.0, y + 14.0), (x + 12.5, y + 8.0), (x + 12.5, y)),
        bend((x + 12.0, y - 8.0), (x + 8.0, y - 12.0), (x + 4.5, y - 17.0)),
        CLOSE,
    )
    return "".join(
        (
            tube((x, y - 14.0), (x, 9.0), 9.0, open_end=True),
            path(outline, BODY.filled(TINT), "dropout"),
            circle((axle_x, axle_y), 4.1, BODY.filled(SHADE), "axle"),
            circle((axle_x, axle_y), 1.7, Pen(fill="#ffffff")),
        )
    )


def _rear_end(x: float, axle_y: float, axle_x: float) -> Shape:
    """A rear dropout from the drive side, its slot open downward and a little forward."""
    y = _SEAT_Y
    outline = (
        move((x - 10.0, y - 15.0)),
        bend((x - 14.0, y - 8.0), (x - 14.0, y + 2.0), (x - 10.0, y + 12.0)),
        bend((x - 9.0, y + 15.0), (x - 6.0, y + 16.0), (x - 2.4, y + 14.0)),
        to((x - 4.4, y)),
        sweep(4.4, (x + 4.3, y - 0.8)),
        to((x + 6.4, y + 13.0)),
        bend((x + 10.0, y + 13.0), (x + 12.0, y + 9.0), (x + 13.0, y + 3.0)),
        to((x + 12.0, y - 5.0)),
        bend((x + 8.0, y - 8.0), (x + 3.0, y - 12.0), (x + 1.0, y - 17.0)),
        CLOSE,
    )
    return "".join(
        (
            tube((x - 4.0, y - 13.0), (x + 4.0, 9.0), 8.0, open_end=True),
            tube((x + 9.0, y - 1.0), (x + 21.0, y + 1.0), 7.0, open_end=True),
            path(outline, BODY.filled(TINT), "dropout"),
            circle((axle_x, axle_y), 4.1, BODY.filled(SHADE), "axle"),
            circle((axle_x, axle_y), 1.7, Pen(fill="#ffffff")),
        )
    )


def _make(arguments: Arguments) -> Drawing:
    rear = arguments.word("wheel") == "rear"
    end = _rear_end if rear else _fork_end
    right_x, wrong_x = 20.0, 65.0
    low: Point = (wrong_x + (1.3 if rear else 0.0), _SEAT_Y + 9.5)
    shapes = (
        tick_mark((right_x - 13.0, 3.6)),
        heading((right_x - 8.0, 3.6), "fully in", anchor="start"),
        cross_mark((wrong_x - 21.0, 3.6)),
        heading((wrong_x - 16.0, 3.6), "not fully in", anchor="start"),
        end(right_x, _SEAT_Y, right_x),
        end(wrong_x, low[1], low[0]),
        line((wrong_x - 17.0, _SEAT_Y), (wrong_x + 17.0, _SEAT_Y), CENTRE),
        act_arrow((right_x, _SEAT_Y + 21.0), (right_x, _SEAT_Y + 6.0)),
        circle((wrong_x, _SEAT_Y - 1.0), 6.6, Pen(width_mm=0.7, stroke=ACCENT)),
    )
    numbers, legend = call_outs(
        (
            ("dropout", (right_x + 21.0, _SEAT_Y - 13.0), (right_x + 8.0, _SEAT_Y - 6.0)),
            ("axle, against the end of the slot", (right_x + 22.0, _SEAT_Y + 14.0), (right_x + 2.9, _SEAT_Y + 0.6)),
            ("gap: the wheel is not seated", (wrong_x + 20.0, _SEAT_Y - 13.0), (wrong_x + 0.8, _SEAT_Y - 1.6)),
        )
    )
    which = "A rear wheel" if rear else "A front wheel"
    drawing = Drawing(
        name=_NAME,
        title=f"{which} in its dropouts",
        description=(
            "Left, the axle is against the end of the slot, on both sides of the bike. Right, it is not, and the wheel "
            "can come out."
        ),
        width_mm=PAGE_MM,
        height_mm=_SEAT_Y + 24.0 + HEADED_MM,
        body=headed("drive side, front to the right" if rear else "seen from the side", (*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="when a wheel is fully in its dropouts",
    make=_make,
    things=(
        "front-wheel",
        "rear-wheel",
        "axle",
    ),
    width_mm=60.0,
    parameters=(
        Parameter(
            name="wheel",
            words="which one",
            default="rear",
            choices=("rear", "front"),
            told=(("front-wheel", "front"), ("rear-wheel", "rear")),
        ),
    ),
)
