"""A hand pulls the cage of the rear derailleur to the rear, so that the sprockets pass."""

from __future__ import annotations

from builder.drawings.cage_and_pulleys import body, cage
from builder.drawings.canvas import BODY, DETAIL, HIDDEN, SHADE, TINT, Drawing, Pen, Point, Shape, circle, group, path
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.fasteners import socket_head
from builder.drawings.marks import act_arrow, call_outs, seen_from, turn_arrow
from builder.drawings.transmission import sprocket, teeth_path

_NAME = "cage-back"
_WIDTH = 60.0
_PITCH = 4.0
_AXLE: Point = (34.5, 24.0)
_MOUNT: Point = (37.5, 37.0)
_BACK_DEG = 42.0  # how far the derailleur is swung to the rear
# Both pulleys, from the mounting bolt, where the derailleur hangs.
_GUIDE: Point = (7.3, 21.0)
_TENSION: Point = (13.0, 43.0)


def _derailleur(*, at_rest: bool) -> Shape:
    pen = HIDDEN.filled("#ffffff") if at_rest else BODY
    pulleys = "".join(
        path(teeth_path(place, 11, _PITCH), HIDDEN if at_rest else Pen(fill=SHADE)) for place in (_GUIDE, _TENSION)
    )
    bolts = "" if at_rest else "".join(socket_head(place, 2.2, turn_deg=30) for place in (_GUIDE, _TENSION))
    shapes = (pulleys, cage(_GUIDE, _TENSION, pen), body((0.0, 0.0), pen), bolts)
    return group(shapes, shift=_MOUNT, turn_deg=0.0 if at_rest else _BACK_DEG)


def _make(_: Arguments) -> Drawing:
    shapes = (
        seen_from((_WIDTH / 2, 3.4), "drive side,"),
        seen_from((_WIDTH / 2, 8.0), "front to the right"),
        _derailleur(at_rest=True),
        sprocket(_AXLE, 15, _PITCH, pen=BODY.filled(TINT)),
        circle(_AXLE, 4.0, DETAIL),
        circle(_AXLE, 1.8, Pen(fill=SHADE)),
        _derailleur(at_rest=False),
        turn_arrow(_MOUNT, 49.0, 75.0, 104.0, part="turn-back"),
    )
    numbers, legend = call_outs(
        (
            ("smallest sprocket", (54.0, 18.0), (39.5, 21.0)),
            ("mounting bolt: the derailleur swings about it", (54.0, 32.0), (_MOUNT[0] + 2.0, _MOUNT[1] - 1.0)),
            ("cage, pulled to the rear by hand", (8.0, 50.0), (23.7, 66.0)),
            ("the wheel goes down and out", (12.0, 22.0), (_AXLE[0] - 14.0, 20.0)),
            ("cage at rest", (55.0, 62.0), (47.1, 68.0)),
        )
    )
    return Drawing(
        name=_NAME,
        title="The cage is pulled to the rear",
        description=(
            "Drive side, front to the right. The hand swings the derailleur about its mounting bolt to the rear, "
            "clockwise as seen here, so that sprockets and chain come free of each other."
        ),
        width_mm=_WIDTH,
        height_mm=92.0,
        body="".join((*shapes, act_arrow((_AXLE[0] - 14.0, 16.0), (_AXLE[0] - 14.0, 28.0), part="wheel"), numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="which way the cage is pulled to let the rear wheel pass",
    make=_make,
    things=("rear-derailleur", "rear-wheel"),
    width_mm=60.0,
)
