"""How deep a seat post stands in the frame, to scale, against its least insertion."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CENTRE,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    box,
    line,
    path,
    polygon,
    smooth,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, ShownAct
from builder.drawings.fasteners import socket_head
from builder.drawings.marks import call_outs, dimension, hatch, heading
from builder.model.fields import Fact
from builder.model.units import Unit, write_number

_NAME = "measure-post-insertion"
_X = 40.0
_COLLAR_Y = 34.0
_DEEP = 46.0


def _make(arguments: Arguments) -> Drawing:
    inserted, least = arguments.number("inserted"), arguments.number("least")
    scale = min(_DEEP / max(inserted, least, 60.0), (_COLLAR_Y - 15.0) / max(least - inserted, 1.0))
    end_y = _COLLAR_Y + inserted * scale
    mark_y = end_y - least * scale
    frame_end = _COLLAR_Y + _DEEP + 10.0
    shapes: list[Shape] = []
    for way in (-1, 1):
        outline: tuple[Point, ...] = tuple(
            (_X + way * across, y)
            for across, y in ((6.6, _COLLAR_Y), (9.0, _COLLAR_Y), (9.0, frame_end), (6.6, frame_end))
        )
        shapes.append(polygon(outline, BODY) + hatch(outline, spacing=1.7, angle_deg=45.0 * way))
    shapes += [
        box((_X - 6.4, 12.0), 12.8, end_y - 12.0, BODY.filled(TINT), part="post"),
        box((_X - 11.0, _COLLAR_Y - 1.0), 4.4, 8.0, BODY.filled(SHADE)),
        box((_X + 6.6, _COLLAR_Y - 1.0), 6.0, 8.0, BODY.filled(SHADE)),
        socket_head((_X + 13.0, _COLLAR_Y + 3.0), 2.6),
        path(smooth(((12.0, 4.5), (24.0, 8.0), (42.0, 7.5), (58.0, 4.0), (66.0, 5.5))), Pen(width_mm=3.0)),
        box((_X - 8.0, 9.0), 16.0, 4.0, BODY.filled(SHADE)),
        line((_X, 15.0), (_X, frame_end), CENTRE),
        *(
            line((_X - 5.0 + 1.25 * index, mark_y), (_X - 5.0 + 1.25 * index, mark_y + 2.4), Pen(width_mm=0.7))
            for index in range(9)
        ),
        line((_X - 5.6, mark_y), (_X + 5.6, mark_y), Pen(width_mm=0.9, stroke=ACCENT), "least-mark"),
        line((_X + 9.0, _COLLAR_Y), (64.0, _COLLAR_Y)),
        line((_X + 6.4, end_y), (64.0, end_y)),
        dimension((62.0, _COLLAR_Y), (62.0, end_y), "", part="inserted"),
        heading((64.0, _COLLAR_Y + 12.0), f"{write_number(inserted)} mm", anchor="start"),
    ]
    if least:
        shapes.append(heading((64.0, _COLLAR_Y + 18.0), f"least {write_number(least)}", anchor="start"))
    numbers, legend = call_outs(
        (
            (
                "mark of least insertion: inside the frame",
                (12.0, min(max(mark_y, 20.0), 60.0) - 7.0),
                (_X - 4.0, mark_y),
            ),
            (
                "upper edge of the frame, where the measure begins",
                (18.0, _COLLAR_Y + 14.0),
                (_X - 8.0, _COLLAR_Y + 0.6),
            ),
            ("end of the post", (14.0, end_y + 5.0), (_X - 5.0, end_y - 0.6)),
            ("clamping bolt", (62.0, _COLLAR_Y - 12.0), (_X + 14.0, _COLLAR_Y + 2.0)),
        )
    )
    enough = (
        ""
        if not least
        else " That is deep enough."
        if inserted >= least
        else " That is not deep enough: the mark shows."
    )
    return Drawing(
        name=_NAME,
        title=f"Seat post {write_number(inserted)} mm in the frame",
        description=(
            f"The seat tube cut through, heights to scale. The post stands {write_number(inserted)} mm in the frame"
            + (f", and must stand at least {write_number(least)} mm in it." if least else ".")
            + enough
        ),
        width_mm=PAGE_MM,
        height_mm=frame_end + 1.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how deep a seat post stands in the frame",
    make=_make,
    act=ShownAct.LOOKING,
    things=("seat-post",),
    parameters=(
        Parameter(
            name="inserted",
            words="edge of the frame to the end of the post",
            unit=Unit.MILLIMETRE,
            low=5,
            high=400,
            fact=Fact("worked-out.post-depth-shown"),
            usual=100.0,
        ),
        Parameter(
            name="least",
            words="least insertion, 0 if not known",
            unit=Unit.MILLIMETRE,
            default=0,
            low=0,
            high=250,
            fact=Fact("seat-post.least-insertion"),
        ),
    ),
)
