"""The cage of a rear derailleur from the drive side, and how the chain runs round its pulleys."""

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
    bend,
    circle,
    move,
    path,
    sweep,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.fasteners import socket_head
from builder.drawings.marks import HEADED_MM, act_arrow, along, beside, call_outs, headed, plus
from builder.drawings.smaller import reduced
from builder.drawings.transmission import PITCH_MM, Turn, chain, pitch_radius, route, sprocket, teeth_path

_NAME = "cage-and-pulleys"
_SCALE = 0.36
_PITCH = PITCH_MM * _SCALE
_SPROCKET_TEETH, _PULLEY_TEETH = 21, 11
_AXLE: Point = (34.0, 20.0)
_GUIDE: Point = (41.0, 50.5)
_TENSION: Point = (51.0, 76.0)


def cage(guide: Point, tension: Point, pen: Pen = BODY) -> Shape:
    """The outer plate, wide at the pulleys and narrow between."""
    aside = beside(guide, tension, 4.4)
    slim = beside(guide, tension, 2.3)
    far = 25.0
    a, b = along(guide, tension, 9.0), along(guide, tension, far - 7.0)

    def out(point: Point, shift: Point, way: int) -> Point:
        return plus(point, (way * shift[0], way * shift[1]))

    outline = (
        move(out(guide, aside, 1)),
        sweep(4.4, out(guide, aside, -1)),
        bend(out(along(guide, tension, 4.0), aside, -1), out(along(guide, tension, 6.0), slim, -1), out(a, slim, -1)),
        to(out(b, slim, -1)),
        bend(
            out(along(guide, tension, far - 4), slim, -1),
            out(along(guide, tension, far), aside, -1),
            out(tension, aside, -1),
        ),
        sweep(4.4, out(tension, aside, 1)),
        bend(out(along(guide, tension, far), aside, 1), out(along(guide, tension, far - 4), slim, 1), out(b, slim, 1)),
        to(out(a, slim, 1)),
        bend(
            out(along(guide, tension, 6.0), slim, 1),
            out(along(guide, tension, 4.0), aside, 1),
            out(guide, aside, 1),
        ),
        CLOSE,
    )
    return path(outline, pen, "cage")


def body(mount: Point, pen: Pen = BODY) -> Shape:
    """Mounting bolt, the body that swings, and its lower end above the guide pulley."""
    x, y = mount[0] + 0.3, mount[1] - 9.5
    outline = (
        move((x - 5.5, y + 9.5)),
        bend((x - 5.5, y + 14.0), (x - 4.0, y + 17.0), (x + 1.0, y + 22.0)),
        bend((x + 4.0, y + 25.0), (x + 6.0, y + 27.0), (x + 9.0, y + 27.5)),
        bend((x + 12.0, y + 27.5), (x + 12.5, y + 23.5), (x + 10.5, y + 21.0)),
        bend((x + 8.0, y + 17.5), (x + 6.0, y + 13.0), (x + 5.0, y + 9.0)),
        sweep(5.4, (x - 5.5, y + 9.5), clockwise=False),
        CLOSE,
    )
    return path(outline, pen.filled(TINT), "body") + socket_head((x - 0.3, y + 9.5), 4.0, turn_deg=30)


def _make(_: Arguments) -> Drawing:
    small = pitch_radius(_PULLEY_TEETH, _PITCH)
    big = pitch_radius(_SPROCKET_TEETH, _PITCH)
    turns = (
        Turn(centre=_TENSION, radius=small),
        Turn(centre=_GUIDE, radius=small, clockwise=False),
        Turn(centre=_AXLE, radius=big),
    )
    pins = route((PAGE_MM - 4.0, 79.0), turns, (PAGE_MM - 4.0, 10.0), _PITCH)
    pulleys = "".join(
        path(teeth_path(centre, _PULLEY_TEETH, _PITCH), Pen(width_mm=0.35, fill=SHADE), "pulley")
        for centre in (_GUIDE, _TENSION)
    )
    bolts = "".join(socket_head(centre, 2.6, turn_deg=30) for centre in (_GUIDE, _TENSION))
    shapes = (
        sprocket(_AXLE, _SPROCKET_TEETH, _PITCH, pen=Pen(fill=TINT)),
        circle(_AXLE, 6.0, DETAIL),
        circle(_AXLE, 2.2, Pen(fill=SHADE)),
        pulleys,
        chain(pins),
        cage(_GUIDE, _TENSION),
        body((_AXLE[0] - 0.3, _AXLE[1] + 9.5)),
        bolts,
        act_arrow((62.0, 4.0), (74.0, 4.0)),
        act_arrow((82.0, 85.5), (70.0, 85.5)),
    )
    numbers, legend = call_outs(
        (
            ("guide pulley", (24.0, 60.0), (36.0, 53.0)),
            ("tension pulley", (34.0, 82.0), (46.6, 79.0)),
            ("cage", (64.0, 62.0), (47.6, 63.0)),
            ("sprocket", (9.0, 8.0), (26.0, 12.0)),
            ("mounting bolt of the derailleur", (14.0, 42.0), (_AXLE[0] - 3.0, _AXLE[1] + 11.0)),
            ("chain: in front of the guide pulley, behind the tension pulley", (66.0, 45.0), (47.9, 48.0)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="The cage of a rear derailleur and the way of the chain",
        description=(
            "From the drive side, front at the right. The chain comes from the chainring, passes under and behind the "
            "tension pulley, crosses over, passes in front of the guide pulley and runs on to the sprocket."
        ),
        width_mm=PAGE_MM,
        height_mm=89.0 + HEADED_MM,
        body=headed("drive side, front to the right", (*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="the pulleys of a rear derailleur and the way of the chain",
    make=_make,
    things=(
        "chain",
        "guide-pulley",
        "tension-pulley",
        "rear-derailleur",
    ),
    width_mm=60.0,
)
