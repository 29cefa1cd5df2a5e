"""The gap that the body-angle screw sets: from the largest sprocket to the guide pulley, tip to tip."""

from __future__ import annotations

from builder.drawings.canvas import BODY, DETAIL, SHADE, TINT, Drawing, Pen, Point, circle, line
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.fasteners import socket_head
from builder.drawings.marks import call_outs, dimension, heading, seen_from
from builder.drawings.transmission import pitch_radius, sprocket

_NAME = "body-gap"
_WIDTH = 45.0
_TEETH, _PULLEY = 24, 12
_PITCH = 4.0
_TIP = 0.27 * _PITCH  # how far a tooth stands over the pitch circle
_GAP = 4.4  # drawn larger than it is, so that its arrows have room
_X = 19.0
_AXLE_Y = 29.0


def _make(_: Arguments) -> Drawing:
    big, small = pitch_radius(_TEETH, _PITCH), pitch_radius(_PULLEY, _PITCH)
    low = _AXLE_Y + big + _TIP
    high = low + _GAP
    axle: Point = (_X, _AXLE_Y)
    pulley: Point = (_X, high + small + _TIP)
    # A tooth of each stands on the line of centres, so that tip and gap meet.
    shapes = (
        seen_from((_WIDTH / 2, 3.4), "seen from the"),
        seen_from((_WIDTH / 2, 8.0), "drive side"),
        sprocket(axle, _TEETH, _PITCH, phase_deg=90 + 180 / _TEETH, pen=BODY.filled(TINT)),
        circle(axle, 5.0, DETAIL),
        circle(axle, 1.8, Pen(fill=SHADE)),
        sprocket(pulley, _PULLEY, _PITCH, phase_deg=-90 + 180 / _PULLEY, pen=BODY.filled(SHADE)),
        socket_head(pulley, 2.6, turn_deg=30),
        line((_X, low), (_X + 15.5, low)),
        line((_X, high), (_X + 15.5, high)),
        dimension((_X + 13.0, low), (_X + 13.0, high), "", part="gap"),
        heading((_X + 16.5, (low + high) / 2), "gap", anchor="start"),
    )
    numbers, legend = call_outs(
        (
            ("largest sprocket, the chain on it left out here", (41.5, _AXLE_Y), (_X + 11.0, _AXLE_Y + 2.0)),
            ("guide pulley", (37.0, pulley[1] + 6.0), (_X + 5.0, pulley[1] + 2.0)),
        )
    )
    return Drawing(
        name=_NAME,
        title="The gap between guide pulley and largest sprocket",
        description=(
            "Seen from the drive side. The gap is measured from the tip of a tooth of the largest sprocket to the tip "
            "of a tooth of the guide pulley below it. It is drawn larger than it is."
        ),
        width_mm=_WIDTH,
        height_mm=pulley[1] + small + 4.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="the gap that the body-angle screw sets",
    make=_make,
    things=("body-screw", "guide-pulley", "cassette"),
    width_mm=45.0,
)
