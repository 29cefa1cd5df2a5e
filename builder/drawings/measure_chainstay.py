"""Where the chainstay is measured: from the centre of the bottom bracket to the centre of the rear axle."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    DETAIL,
    PAGE_MM,
    SOLID,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc,
    circle,
)
from builder.drawings.cycle import tube
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import along, call_outs, dimension
from builder.model.units import Unit, write_number

_NAME = "measure-chainstay"
_AXLE: Point = (14.0, 36.0)
_BRACKET: Point = (72.0, 41.0)


def _make(arguments: Arguments) -> Drawing:
    length = arguments.number("chainstay")
    words = f"{write_number(length)} mm" if length else "measure"
    seat_top = (60.0, 3.0)
    shapes: tuple[Shape, ...] = (
        arc(_AXLE, 50.5, -40.0, 18.0, Pen(dash_mm=(1.6, 1.0))),
        arc(_AXLE, 44.5, -40.0, 18.0, Pen(dash_mm=(1.6, 1.0))),
        tube(_AXLE, (58.5, 9.0), 3.0),
        tube(_BRACKET, seat_top, 5.5, open_end=True),
        tube(_BRACKET, (PAGE_MM - 3.0, 20.0), 6.5, open_end=True),
        tube(_AXLE, _BRACKET, 4.0),
        circle(_BRACKET, 7.0, BODY.filled(TINT)),
        circle(_BRACKET, 4.6, DETAIL),
        circle(_AXLE, 6.2, BODY.filled(TINT)),
        circle(_AXLE, 3.2, DETAIL),
        circle(_AXLE, 0.8, SOLID),
        circle(_BRACKET, 0.8, SOLID),
        dimension(_AXLE, _BRACKET, words, offset=14.0, bold=True, part="chainstay"),
    )
    numbers, legend = call_outs(
        (
            ("centre of the rear axle", (5.0, 22.0), _AXLE),
            ("centre of the bottom bracket", (84.0, 41.0), _BRACKET),
            ("chainstay", (36.0, 28.0), along(_AXLE, _BRACKET, 24.0)),
        )
    )
    return Drawing(
        name=_NAME,
        title="Where the chainstay is measured",
        description=(
            "From the drive side, with the wheel dashed: the distance along the chainstay from the centre of the "
            "bottom "
            "bracket to the centre of the rear axle" + (f", {words}." if length else ".")
        ),
        width_mm=PAGE_MM,
        height_mm=62.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="where the chainstay is measured",
    make=_make,
    act=ShownAct.LOOKING,
    things=("frame",),
    parameters=(
        Parameter(name="chainstay", words="if already measured", unit=Unit.MILLIMETRE, default=0, low=0, high=900),
    ),
)
