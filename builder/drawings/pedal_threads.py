"""Pedals: the right one has a right-hand thread, the left one a left-hand thread."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CENTRE,
    CLOSE,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Shape,
    box,
    circle,
    line,
    move,
    path,
    sweep,
    text,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, act_of_the_step
from builder.drawings.fasteners import hexagon, thread
from builder.drawings.marks import act_arrow, call_outs, heading, seen_from, turn_arrow
from builder.drawings.smaller import reduced

_NAME = "pedal-threads"
_EYE_Y = 76.0


def _pedal(inner: float, way: int, y: float, *, left_hand: bool) -> Shape:
    """A pedal from above, its thread towards the crank; `way` is 1 when it lies to the right of its crank."""
    start = inner if way > 0 else inner - 9.0
    body_left = inner + 13.0 if way > 0 else inner - 13.0 - 17.0
    collar = inner + 9.0 if way > 0 else inner - 13.0
    return "".join(
        (
            thread((start, y), 9.0, 3.0, left_hand=left_hand, pitch=1.4),
            box((collar, y - 3.8), 4.0, 7.6, BODY.filled(SHADE)),
            box((body_left, y - 9.0), 17.0, 18.0, BODY.filled(TINT), round_mm=2.0),
            box((body_left + 3.0, y - 6.4), 11.0, 4.2, Pen(fill="#ffffff"), round_mm=1.0),
            box((body_left + 3.0, y + 2.2), 11.0, 4.2, Pen(fill="#ffffff"), round_mm=1.0),
        )
    )


def _eye(x: float, *, clockwise: bool, part: str) -> Shape:
    """The end of a crank from outside, with the pedal's flats and the way it tightens."""
    begin, end = (-150.0, 40.0) if clockwise else (-30.0, -220.0)
    y = _EYE_Y
    arm = (
        move((x - 5.5, y)),
        to((x - 4.6, y + 22.0)),
        to((x + 4.6, y + 22.0)),
        to((x + 5.5, y)),
        sweep(5.5, (x - 5.5, y), clockwise=False),
        CLOSE,
    )
    return "".join(
        (
            path(arm, BODY.filled(TINT)),
            circle((x, y), 3.9, BODY.filled(SHADE)),
            hexagon((x, y), 2.4, Pen(fill="#ffffff"), turn_deg=30),
            turn_arrow((x, y), 10.5, begin, end, part=part),
        )
    )


def _make(arguments: Arguments) -> Drawing:
    act = arguments.word("act")
    tighten = act == "tighten"
    right, left = ("clockwise", "anticlockwise") if tighten else ("anticlockwise", "clockwise")
    ways = (left, right)
    y = 27.0
    shapes = (
        heading((2.0, 4.0), "left", anchor="start"),
        heading((88.0, 4.0), "right", anchor="end"),
        box((40.0, y - 2.6), 10.0, 5.2, BODY.filled(SHADE)),
        box((33.5, y - 5.4), 6.5, 10.8, BODY, round_mm=1.5),
        box((50.0, y - 5.4), 6.5, 10.8, BODY, round_mm=1.5),
        _pedal(32.5, -1, y, left_hand=True),
        _pedal(57.5, 1, y, left_hand=False),
        seen_from((PAGE_MM / 2, 4.0), "from above"),
        text((PAGE_MM / 2, 12.0), "front"),
        act_arrow((PAGE_MM / 2, 23.0), (PAGE_MM / 2, 15.0)),
        line((PAGE_MM / 2, 60.0), (PAGE_MM / 2, _EYE_Y + 22.0), CENTRE),
        _eye(20.0, clockwise=not tighten, part="turn-left-pedal"),
        _eye(70.0, clockwise=tighten, part="turn-right-pedal"),
        heading((PAGE_MM / 2, 48.0), f"to {act}"),
        seen_from((PAGE_MM / 2, 55.5), "seen from outside each crank"),
        *(text((x, _EYE_Y + 27.5), words) for x, words in ((20.0, ways[0]), (70.0, ways[1]))),
    )
    numbers, legend = call_outs(
        (
            ("left-hand thread, marked L", (22.0, 40.5), (28.0, y + 2.2)),
            ("right-hand thread, marked R", (68.0, 40.5), (62.0, y + 2.2)),
            ("left crank", (37.0, 91.0), (22.0, 92.0)),
            ("right crank", (53.0, 91.0), (68.0, 92.0)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title=f"Pedals: which way to turn to {act}",
        description=(
            "Above, both pedals from above with the front of the bike at the top: the left pedal has a left-hand "
            "thread, "
            f"the right pedal a right-hand thread. Below, from outside: to {act}, the right pedal turns {right} "
            "and the "
            f"left pedal {left}."
        ),
        width_mm=PAGE_MM,
        height_mm=_EYE_Y + 32.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="which way each pedal turns",
    make=_make,
    things=("pedal", "right-pedal", "left-pedal", "crank"),
    width_mm=60.0,
    parameters=(act_of_the_step("tighten"),),
)
