"""A hand on a spanner: torque is force times the distance square to it."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CENTRE,
    CLOSE,
    PAGE_MM,
    SHADE,
    SOLID,
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
    text,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, ShownAct
from builder.drawings.fasteners import hexagon
from builder.drawings.marks import act_arrow, dimension, heading, seen_from, turn_arrow
from builder.model.units import Unit, write_number

_NAME = "lever"
_BOLT: Point = (14.0, 24.0)
_HAND: Point = (76.0, 24.0)


def spanner(bolt: Point, hand: Point) -> Shape:
    """A level spanner from the bolt to a little past the hand."""
    x, y = bolt
    end = hand[0] + 9.0
    outline = (
        move((x - 5.6, y + 7.6)),
        sweep(9.4, (x + 8.8, y + 3.4), clockwise=False),
        bend((x + 14.0, y + 2.4), (x + 16.0, y + 2.6), (x + 22.0, y + 2.6)),
        to((end - 3.0, y + 3.4)),
        sweep(3.4, (end - 3.0, y - 3.4), clockwise=False),
        to((x + 22.0, y - 2.6)),
        bend((x + 16.0, y - 2.6), (x + 14.0, y - 2.4), (x + 8.8, y - 3.4)),
        sweep(9.4, (x - 5.6, y - 7.6), clockwise=False),
        CLOSE,
    )
    jaw = path(
        (
            move((x - 6.2, y - 5.0)),
            to((x + 2.9, y - 5.0)),
            to((x + 5.8, y)),
            to((x + 2.9, y + 5.0)),
            to((x - 6.2, y + 5.0)),
        ),
        Pen(stroke="none", width_mm=0, fill="#ffffff"),
    )
    edges = path(
        (
            move((x - 5.6, y - 5.0)),
            to((x + 2.9, y - 5.0)),
            to((x + 5.8, y)),
            to((x + 2.9, y + 5.0)),
            to((x - 5.6, y + 5.0)),
        ),
        Pen(width_mm=0.7),
    )
    return path(outline, BODY.filled(TINT), "spanner") + jaw + edges


def _make(arguments: Arguments) -> Drawing:
    torque, length = arguments.number("torque"), arguments.number("lever")
    force = torque / (length / 1000)
    shapes = (
        spanner(_BOLT, _HAND),
        hexagon(_BOLT, 5.6, BODY.filled(SHADE)),
        circle(_BOLT, 0.8, SOLID),
        line(_BOLT, _HAND, CENTRE),
        turn_arrow(_BOLT, 13.0, -150.0, -60.0, part="turn-bolt"),
        seen_from((PAGE_MM / 2, 52.5), "seen from the head of the bolt"),
        act_arrow((_HAND[0], 6.0), (_HAND[0], 20.4), part="force"),
        heading((_HAND[0] - 3.0, 5.0), f"{write_number(force, 0)} N", anchor="end"),
        heading((_BOLT[0] + 13.5, 5.0), f"{write_number(torque)} N·m", anchor="start"),
        dimension(_BOLT, _HAND, f"{write_number(length, 0)} mm", offset=14.0, bold=True, part="lever"),
        text(
            (PAGE_MM / 2, 46.0), f"force of the hand = {write_number(torque)} N·m ÷ {write_number(length / 1000, 3)} m"
        ),
    )
    return Drawing(
        name=_NAME,
        title=f"{write_number(force, 0)} N on a lever of {write_number(length, 0)} mm",
        description=(
            f"A spanner is pulled square to its length, {write_number(length, 0)} mm from the middle of the bolt. "
            f"{write_number(torque)} N·m needs {write_number(force, 0)} N, about the weight of "
            f"{write_number(force / 9.80665)} kg."
        ),
        width_mm=PAGE_MM,
        height_mm=56.0,
        body="".join(shapes),
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="the hand force at the end of a lever",
    make=_make,
    act=ShownAct.TIGHTENING,
    parameters=(
        Parameter(name="torque", words="at the bolt", unit=Unit.NEWTON_METRE, low=0.1, high=200),
        Parameter(
            name="lever", words="middle of the bolt to middle of the hand", unit=Unit.MILLIMETRE, low=20, high=1500
        ),
    ),
)
