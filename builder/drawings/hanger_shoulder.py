"""The tab of a rear derailleur against the shoulder of the hanger: right and wrong."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CLOSE,
    DETAIL,
    HIDDEN,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Shape,
    bend,
    box,
    circle,
    group,
    line,
    move,
    path,
    polygon,
    sweep,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.fasteners import socket_head
from builder.drawings.marks import HEADED_MM, call_outs, cross_mark, headed, heading, tick_mark
from builder.drawings.smaller import reduced

_NAME = "hanger-shoulder"
_BOLT_Y = 38.0


def _hanger(x: float) -> Shape:
    """Dropout and hanger from the drive side; the shoulder is the step behind and below the bolt."""
    y = _BOLT_Y
    outline = (
        move((x + 5.0, 9.0)),
        bend((x + 11.0, 9.0), (x + 13.0, 12.0), (x + 12.0, 17.0)),
        bend((x + 11.0, 24.0), (x + 9.5, 28.0), (x + 9.5, y)),
        sweep(10.5, (x - 5.0, y + 9.8)),
        to((x - 5.0, y + 4.6)),
        to((x - 10.4, y + 4.6)),
        bend((x - 11.0, y - 4.0), (x - 9.0, y - 9.0), (x - 11.0, y - 15.0)),
        bend((x - 12.5, y - 19.0), (x - 13.0, y - 22.0), (x - 11.0, 11.5)),
        bend((x - 9.5, 9.0), (x - 8.0, 9.0), (x - 5.0, 9.0)),
        to((x - 5.0, 14.0)),
        sweep(5.0, (x + 5.0, 14.0), clockwise=False),
        CLOSE,
    )
    return path(outline, BODY.filled(TINT), "hanger") + circle((x, 14.5), 3.2, BODY)


def _mount(x: float, *, turn_deg: float) -> Shape:
    """The mounting end of the derailleur with its tab and adjusting screw, turned about the bolt."""
    parts = (
        path(
            (
                move((-5.4, 3.0)),
                bend((-7.0, 12.0), (-3.0, 15.0), (0.0, 19.0)),
                to((9.0, 16.0)),
                bend((7.5, 11.0), (7.6, 6.0), (5.9, -1.5)),
            ),
            HIDDEN,
            "derailleur",
        ),
        polygon(((-3.8, 4.8), (-9.0, 3.2), (-15.6, 4.2), (-15.6, 11.0), (-9.0, 11.0), (-9.0, 7.0)), Pen(width_mm=0.7)),
        polygon(((-9.0, 3.4), (-15.6, 3.4), (-15.6, 11.4), (-9.0, 11.4)), BODY.filled(SHADE), "tab"),
        box((-20.0, 5.9), 14.6, 3.0, DETAIL),
        *(line((-19.0 + 1.2 * index, 5.9), (-18.6 + 1.2 * index, 8.9)) for index in range(11)),
        box((-22.4, 4.9), 2.4, 5.0, BODY),
        circle((0.0, 0.0), 6.0, BODY),
        socket_head((0.0, 0.0), 4.2, turn_deg=30),
    )
    return group(parts, shift=(x, _BOLT_Y), turn_deg=turn_deg)


def _make(_: Arguments) -> Drawing:
    right_x, wrong_x = 27.0, 67.0
    shapes = (
        heading((right_x - 4.0, 3.6), "right", anchor="start"),
        heading((wrong_x - 4.0, 3.6), "wrong", anchor="start"),
        _hanger(right_x),
        _hanger(wrong_x),
        _mount(right_x, turn_deg=0.0),
        _mount(wrong_x, turn_deg=-50.0),
        tick_mark((right_x - 11.0, 3.4)),
        cross_mark((wrong_x - 11.0, 3.4)),
        *(circle((x - 5.4, _BOLT_Y + 7.4), 5.4, Pen(width_mm=0.7, stroke=ACCENT)) for x in (right_x, wrong_x)),
    )
    numbers, legend = call_outs(
        (
            ("hanger", (right_x + 15.0, 28.0), (right_x + 6.5, 25.0)),
            ("shoulder of the hanger", (5.0, _BOLT_Y + 18.0), (right_x - 5.0, _BOLT_Y + 5.3)),
            (
                "tab with its adjusting screw; it bears on the shoulder",
                (4.5, _BOLT_Y - 8.0),
                (right_x - 13.0, _BOLT_Y + 4.4),
            ),
            ("mounting bolt", (right_x + 17.0, _BOLT_Y + 6.0), (right_x + 3.2, _BOLT_Y + 1.0)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="The tab of the derailleur bears on the shoulder of the hanger",
        description=(
            "Seen from the drive side. Right: while the mounting bolt is tightened, the end of the adjusting screw in "
            "the tab bears on the shoulder of the hanger. Wrong: the tab stands off the shoulder or lies past it."
        ),
        width_mm=PAGE_MM,
        height_mm=_BOLT_Y + 25.0 + HEADED_MM,
        body=headed("seen from the drive side", (*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="how the tab of a rear derailleur bears on the hanger's shoulder",
    make=_make,
    things=(
        "hanger",
        "adjusting-tab",
        "rear-derailleur",
    ),
    width_mm=60.0,
)
