"""A quick link in the chain: pulled apart it locks, pushed together it opens."""

from __future__ import annotations

from functools import partial

from builder.drawings.canvas import (
    BODY,
    CLOSE,
    DETAIL,
    SHADE,
    SOLID,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    circle,
    move,
    path,
    sweep,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.marks import act_arrow, call_outs, heading, seen_from
from builder.drawings.transmission import link_plate

_WIDTH = 60.0
_X = _WIDTH / 2
_PITCH, _SLIDE = 12.0, 3.4
_ROWS = (21.0, 42.0)


def _slot(x: float, y: float, way: int) -> Shape:
    """A keyhole with its narrow end outward at `x`, its wide end towards the middle of the link."""
    wide = x - way * _SLIDE
    commands = (
        move((x, y - 0.9)),
        to((wide, y - 0.9)),
        sweep(1.6, (wide, y + 0.9), clockwise=way < 0, long=True),
        to((x, y + 0.9)),
        sweep(0.9, (x, y - 0.9), clockwise=way < 0),
        CLOSE,
    )
    return path(commands, DETAIL, "keyhole")


def _row(y: float, *, locked: bool) -> Shape:
    """The link between the ends of the chain; unlocked, its pins stand in the wide ends of the keyholes."""
    shapes: list[Shape] = []
    pins: list[Point] = []
    for way in (-1, 1):
        pin = _X + way * (_PITCH / 2 - (0.0 if locked else _SLIDE / 2))
        inner = pin + way * _PITCH
        shapes.append(link_plate((min(pin, inner), y), (max(pin, inner), y), 4.0, BODY.filled(TINT), "inner-link"))
        shapes.append(circle((inner, y), 1.4, Pen(fill=SHADE)))
        pins.append((pin, y))
    left, right = pins
    # Each half carries one pin and one keyhole; the half in front has its pin at the left.
    hole = (right[0] + (0.0 if locked else _SLIDE), y)
    shapes.append(link_plate(left, hole, 4.6, BODY, "quick-link"))
    shapes.append(_slot(hole[0], y, 1))
    shapes += [circle(left, 1.5, Pen(fill=SHADE)), circle(left, 0.6, SOLID), circle(right, 1.0, Pen(fill=SHADE), "pin")]
    return "".join(shapes)


def _make(_: Arguments, *, opens: bool) -> Drawing:
    first, last = _ROWS
    states = ("locked", "open") if opens else ("put in", "locked")
    out = first if opens else last
    shapes: list[Shape] = [
        seen_from((_X, 3.4), "seen from the side"),
        heading((_X, first - 8.5), states[0]),
        heading((_X, last - 8.5), states[1]),
        _row(first, locked=opens),
        _row(last, locked=not opens),
    ]
    y = last
    if opens:
        shapes += [act_arrow((2.0, y), (9.5, y), part="push-left"), act_arrow((58.0, y), (50.5, y), part="push-right")]
    else:
        shapes += [act_arrow((9.0, y), (1.0, y), part="pull-left"), act_arrow((51.0, y), (59.0, y), part="pull-right")]
    wide = (first if not opens else last, "wide end of the keyhole: the pin passes here")
    numbers, legend = call_outs(
        (
            ("narrow end of the keyhole: the pin is held here", (_X + 13.0, out + 9.5), (_X + _PITCH / 2, out + 0.8)),
            (wide[1], (_X - 17.0, wide[0] + 9.5), (_X + _PITCH / 2 - _SLIDE / 2, wide[0] + 0.8)),
        )
    )
    return Drawing(
        name="quick-link-open" if opens else "quick-link-lock",
        title="Opening a quick link" if opens else "Locking a quick link",
        description=(
            "Seen from the side. The two ends of the quick link are pushed together: each pin moves to the wide end of "
            "its keyhole, and the halves come apart."
            if opens
            else "Seen from the side. The chain is pulled apart at the quick link: each pin moves from the wide end of "
            "its keyhole to the narrow end, and the link is locked."
        ),
        width_mm=_WIDTH,
        height_mm=last + 13.5,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


LOCK = DrawingKind(
    name="quick-link-lock",
    words="how a quick link is locked",
    make=partial(_make, opens=False),
    things=("quick-link", "chain"),
    width_mm=60.0,
)
OPEN = DrawingKind(
    name="quick-link-open",
    words="how a quick link is opened",
    make=partial(_make, opens=True),
    things=("quick-link", "chain"),
    width_mm=60.0,
)
