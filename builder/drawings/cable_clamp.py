"""A cable under its clamping bolt: in the groove, pulled hand-tight, and capped."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    DETAIL,
    INK,
    PAGE_MM,
    SHADE,
    TINT,
    WHITE,
    Drawing,
    Pen,
    Shape,
    box,
    circle,
    group,
    line,
    path,
    smooth,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, ShownAct
from builder.drawings.fasteners import socket_head
from builder.drawings.marks import HEADED_MM, act_arrow, call_outs, cross_mark, headed, heading, tick_mark, turn_arrow
from builder.drawings.smaller import reduced

_NAME = "cable-clamp"
_BOLT = (36.0, 24.0)


def _cable(points: tuple[tuple[float, float], ...]) -> Shape:
    """A twisted cable: a dark line with a light core, broken into strands."""
    return (
        path(smooth(points), Pen(width_mm=1.9))
        + path(smooth(points), Pen(width_mm=1.1, stroke="#ffffff"))
        + path(smooth(points), Pen(width_mm=0.9, stroke=INK, dash_mm=(0.2, 1.5)))
    )


def _section(x: float, *, in_groove: bool) -> Shape:
    """Bolt, washer, cable and arm cut across the cable; beside its groove the cable tilts the washer."""
    y = 68.0
    groove = x - 5.6
    cable = (groove, y) if in_groove else (groove - 4.4, y - 1.2)
    clamp = group(
        (
            box((-8.5, -3.0), 17.0, 2.6, BODY.filled(SHADE), round_mm=0.5),
            box((-5.0, -8.0), 10.0, 5.0, BODY, round_mm=0.8),
        ),
        shift=(x, y - 0.9 if in_groove else y - 1.6),
        turn_deg=0.0 if in_groove else 7.0,
    )
    return "".join(
        (
            box((x - 13.0, y), 26.0, 7.0, BODY.filled(TINT)),
            box((x - 3.0, y - 2.6), 6.0, 9.6, DETAIL),
            *(line((x - 3.0, y - 1.5 + 1.5 * turn), (x + 3.0, y - 2.1 + 1.5 * turn)) for turn in range(1, 6)),
            circle((groove, y), 1.2, DETAIL)
            + box((groove - 1.1, y - 1.6), 2.2, 1.25, Pen(stroke="none", width_mm=0, fill=WHITE)),
            clamp,
            circle(cable, 1.1, Pen(width_mm=0.35, fill=INK)),
        )
    )


def _make(_: Arguments) -> Drawing:
    y = _BOLT[1]
    shapes = (
        box((8.0, y - 12.0), 50.0, 24.0, BODY.filled(TINT), round_mm=6.0),
        line((8.4, y - 8.0), (58.0, y - 8.0), Pen(stroke=SHADE)),
        line((8.4, y - 5.2), (58.0, y - 5.2), Pen(stroke=SHADE)),
        _cable(((3.0, y - 6.6), (20.0, y - 6.6), (52.0, y - 6.6), (62.0, y - 4.0), (72.0, y + 1.0))),
        circle(_BOLT, 9.0, BODY.filled(SHADE)),
        socket_head(_BOLT, 6.4, turn_deg=30),
        turn_arrow(_BOLT, 12.4, 60.0, 160.0, part="turn-bolt"),
        act_arrow((68.0, y - 8.0), (82.0, y - 1.5)),
        line((71.2, y + 0.6), (76.6, y + 3.3), Pen(width_mm=3.2)),
        line((71.2, y + 0.6), (76.6, y + 3.3), Pen(width_mm=2.0, stroke="#ffffff")),
        heading((6.5, 52.0), "in the groove", anchor="start"),
        tick_mark((3.0, 52.0)),
        heading((66.0, 52.0), "beside", anchor="start"),
        cross_mark((61.5, 52.0)),
        _section(22.0, in_groove=True),
        _section(70.0, in_groove=False),
    )
    numbers, legend = call_outs(
        (
            ("clamping bolt", (36.0, 44.0), (38.0, y + 5.0)),
            ("washer", (22.0, 44.0), (29.5, y + 4.5)),
            ("cable, in the groove on the side that the maker shows", (14.0, 5.0), (20.0, y - 6.6)),
            ("pull by hand here until the slack is gone", (75.0, 8.0), (72.0, y - 6.5)),
            ("end cap", (78.0, y + 13.0), (75.0, y + 2.6)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="A cable under its clamping bolt",
        description=(
            "Above, from the bolt's head: the cable lies in the groove under the washer, is pulled by hand while the "
            "bolt is tightened, and ends in a cap. Below, cut across: in the groove is right, beside it is wrong."
        ),
        width_mm=PAGE_MM,
        height_mm=77.0 + HEADED_MM,
        body=headed("above: from the bolt head", (*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="how a cable lies under its clamping bolt",
    make=_make,
    act=ShownAct.TIGHTENING,
    things=(
        "brake-cable",
        "brake-cable-clamp",
        "gear-cable",
        "gear-cable-clamp",
        "front-cable",
        "front-cable-clamp",
        "dropper-cable",
        "dropper-cable-clamp",
    ),
    width_mm=60.0,
)
