"""A brake rotor on its hub: six bolts in their order, or one lockring over splines, and the way that it turns."""

from __future__ import annotations

from builder.drawings.bolt_circle import order
from builder.drawings.canvas import (
    BODY,
    CLOSE,
    DETAIL,
    PAGE_MM,
    SHADE,
    TINT,
    WHITE,
    Drawing,
    Pen,
    Point,
    Shape,
    arc_commands,
    circle,
    line,
    path,
    polygon,
    round_at,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import act_arrow, call_outs, seen_from, turn_arrow
from builder.drawings.smaller import reduced

_NAME = "rotor-bolts"
_CENTRE: Point = (PAGE_MM / 2, 57.0)
_OUTER, _TRACK, _HUB = 34.0, 25.5, 16.5
_BOLTS = 11.5


def _ring(radius: float) -> list[str]:
    return [*arc_commands(_CENTRE, radius, 0, 180), *arc_commands(_CENTRE, radius, 180, 360, joined=True), CLOSE]


def _rotor() -> Shape:
    """Braking track with its slots, and the arms; both lean with the turning, which is anticlockwise from the left."""
    track = path([*_ring(_OUTER), *_ring(_TRACK)], BODY.filled(TINT), "track", holes=True)
    slots = [
        line(
            round_at(_CENTRE, _TRACK + 2.4, 15 * index),
            round_at(_CENTRE, _OUTER - 2.4, 15 * index - 6),
            Pen(width_mm=1.5),
        )
        + line(
            round_at(_CENTRE, _TRACK + 2.4, 15 * index),
            round_at(_CENTRE, _OUTER - 2.4, 15 * index - 6),
            Pen(width_mm=0.8, stroke=WHITE),
        )
        for index in range(24)
    ]
    arms = [
        polygon(
            (
                round_at(_CENTRE, _HUB - 2.0, angle + 10),
                round_at(_CENTRE, _TRACK + 0.2, angle - 21),
                round_at(_CENTRE, _TRACK + 0.2, angle - 28),
                round_at(_CENTRE, _HUB - 2.0, angle - 12),
            ),
            Pen(width_mm=0.7, fill=TINT),
        )
        for angle in range(-90, 270, 60)
    ]
    cover = path([*_ring(_TRACK + 1.2), *_ring(_TRACK + 0.1)], Pen(stroke="none", width_mm=0, fill=TINT), holes=True)
    return track + "".join((*slots, *arms)) + cover


def _six_bolts() -> tuple[Shape, list[tuple[str, Point, Point]]]:
    places = [round_at(_CENTRE, _BOLTS, -90 + 60 * index) for index in range(6)]
    numbered = [
        circle(places[position], 3.6, BODY, f"bolt-{number}")
        + text(places[position], str(number), size_pt=12, bold=True)
        for number, position in enumerate(order(6), start=1)
    ]
    shapes = (
        circle(_CENTRE, _HUB, BODY.filled(TINT)),
        circle(_CENTRE, 6.0, BODY),
        circle(_CENTRE, 3.0, Pen(fill=SHADE)),
    )
    rows: list[tuple[str, Point, Point]] = [
        (
            "bolts, tightened crosswise in the order of their numbers, in small passes",
            (6.0, 92.0),
            (places[4][0] - 2.6, places[4][1] + 2.6),
        ),
    ]
    return "".join((*shapes, *numbered)), rows


def _splined() -> tuple[Shape, list[tuple[str, Point, Point]]]:
    teeth: list[Point] = []
    for index in range(36):
        angle = 10.0 * index
        teeth += [
            round_at(_CENTRE, 14.6, angle - 2.6),
            round_at(_CENTRE, 12.6, angle - 1.4),
            round_at(_CENTRE, 12.6, angle + 1.4),
            round_at(_CENTRE, 14.6, angle + 2.6),
        ]
    notches: list[Point] = []
    for index in range(16):
        angle = 22.5 * index
        notches += [
            round_at(_CENTRE, 7.4, angle - 6),
            round_at(_CENTRE, 8.9, angle - 4),
            round_at(_CENTRE, 8.9, angle + 4),
            round_at(_CENTRE, 7.4, angle + 6),
        ]
    shapes = (
        circle(_CENTRE, _HUB + 0.6, BODY.filled(TINT)),
        polygon(teeth, DETAIL, "splines"),
        circle(_CENTRE, 12.0, BODY.filled(SHADE), "lockring"),
        polygon(notches, DETAIL),
        circle(_CENTRE, 4.0, Pen(fill=SHADE)),
        turn_arrow(_CENTRE, 19.5, -60.0, 40.0, part="turn-lockring"),
    )
    rows: list[tuple[str, Point, Point]] = [
        ("lockring; it tightens clockwise, seen from outside", (6.0, 92.0), (_CENTRE[0] - 7.6, _CENTRE[1] + 7.0)),
        ("splines of rotor and hub", (5.0, 79.0), (_CENTRE[0] - 13.0, _CENTRE[1] + 4.5)),
    ]
    return "".join(shapes), rows


def _make(arguments: Arguments) -> Drawing:
    six = arguments.word("mount") == "six-bolt"
    middle, rows = _six_bolts() if six else _splined()
    rows.append(("braking track: no grease, no bare fingers", (84.0, 92.0), round_at(_CENTRE, 30.0, 42.0)))
    rows.append(
        (
            "a wheel that goes forward turns this way, anticlockwise",
            (6.0, 24.0),
            round_at(_CENTRE, _OUTER + 4.4, -140.0),
        )
    )
    numbers, legend = call_outs(rows)
    shapes = (
        _rotor(),
        middle,
        turn_arrow(_CENTRE, _OUTER + 3.6, -112.0, -158.0, part="turn-wheel"),
        seen_from((PAGE_MM / 2, 4.0), "left side of the bike,"),
        seen_from((PAGE_MM / 2, 11.0), "front to the left"),
        act_arrow((14.0, 11.0), (4.0, 11.0), part="front"),
    )
    told = (
        "Six bolts hold it; they are numbered in the order of tightening, crosswise."
        if six
        else "Splines carry it and one lockring holds it, tightened clockwise."
    )
    drawing = Drawing(
        name=_NAME,
        title="A brake rotor on its hub",
        description=f"Left side of the bike, front to the left: a wheel that goes forward turns anticlockwise. {told}",
        width_mm=PAGE_MM,
        height_mm=97.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="how a brake rotor is held on its hub",
    make=_make,
    act=ShownAct.TIGHTENING,
    things=("rotor", "rotor-bolt", "rotor-bolts", "rotor-lockring"),
    width_mm=60.0,
    parameters=(
        Parameter(
            name="mount",
            words="how it is held",
            choices=("six-bolt", "splined"),
            told=(("rotor-bolts", "six-bolt"), ("rotor-lockring", "splined")),
        ),
    ),
)
