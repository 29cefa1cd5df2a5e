"""One end of a cup-and-cone hub, cut along its axle."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CENTRE,
    CLOSE,
    DETAIL,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Point,
    Shape,
    bend,
    box,
    circle,
    line,
    move,
    path,
    polygon,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.fasteners import thread
from builder.drawings.marks import call_outs, hatch, seen_from
from builder.drawings.smaller import reduced

_NAME = "hub-cone"
_Y = 31.0


def _half(way: int) -> Shape:
    """Shell, cup, ball and cone on one side of the axle; `way` is -1 above it, 1 below."""

    def at(x: float, out: float) -> Point:
        return (x, _Y + way * out)

    shell = (
        at(3, 9),
        at(16, 9),
        at(24, 14),
        at(26, 24),
        at(31, 24),
        at(33, 17.5),
        at(44, 17.5),
        at(44, 15),
        at(32, 15),
        at(25, 11),
        at(16, 6.5),
        at(3, 6.5),
    )
    cup = path(
        (
            move(at(25.5, 11.3)),
            bend(at(27, 14.4), at(30, 16.4), at(33.5, 16.4)),
            to(at(41.5, 16.4)),
            to(at(41.5, 13.8)),
            to(at(37.5, 13.8)),
            bend(at(33.5, 14.0), at(31.0, 11.8), at(30.6, 8.2)),
            to(at(27, 8.2)),
            CLOSE,
        ),
        BODY.filled(SHADE),
        "cup",
    )
    cone = path(
        (
            move(at(32, 4)),
            to(at(33.5, 5.2)),
            bend(at(35.6, 6.0), at(38.8, 6.8), at(40.4, 10.4)),
            to(at(43, 10.4)),
            to(at(43, 9.2)),
            to(at(50, 9.2)),
            to(at(50, 4)),
            CLOSE,
        ),
        BODY.filled(TINT),
        "cone",
    )
    return "".join(
        (
            polygon(shell, BODY) + hatch(shell, spacing=1.8, angle_deg=-45 * way),
            cup,
            cone,
            circle(at(35.9, 10.0), 3.5, BODY, "ball"),
            box((50.3, min(_Y + way * 4, _Y + way * 8.0)), 2.2, 4.0, BODY.filled(SHADE)),
            box((52.8, min(_Y + way * 4, _Y + way * 9.4)), 7.0, 5.4, BODY),
        )
    )


def _make(_: Arguments) -> Drawing:
    shapes = (
        _half(-1),
        _half(1),
        thread((31.0, _Y), 50.0, 4.0, pitch=1.6),
        box((3.0, _Y - 3.4), 28.0, 6.8, DETAIL),
        line((1.0, _Y), (PAGE_MM - 2.0, _Y), CENTRE),
        seen_from((PAGE_MM / 2, 64.0), "cut along the axle"),
    )
    numbers, legend = call_outs(
        (
            ("hub shell", (10.0, 8.0), (20.0, _Y - 9.5)),
            ("cup, pressed into the shell", (40.0, 5.0), (34.0, _Y - 15.2)),
            ("balls in grease", (53.0, 8.0), (36.6, _Y - 10.6)),
            ("cone; its flats take a cone spanner", (64.0, 13.0), (46.5, _Y - 7.0)),
            ("washer with a key in the axle's groove", (64.0, 50.0), (51.4, _Y + 6.5)),
            ("locknut; it tightens clockwise, seen from this end of the axle", (77.0, 46.0), (56.5, _Y + 7.0)),
            ("axle", (80.0, 17.0), (74.0, _Y - 2.5)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="One end of a cup-and-cone hub",
        description=(
            "Cut along the axle. The cone screws along the axle against the balls in their cup; the locknut holds it "
            "there. Cone and locknut are turned against each other with two spanners."
        ),
        width_mm=PAGE_MM,
        height_mm=69.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="what is inside a cup-and-cone hub",
    make=_make,
    things=("cone", "locknut", "cone-locknut", "axle"),
    width_mm=60.0,
)
