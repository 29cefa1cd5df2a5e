"""A full-suspension frame: the axle distance with the shock let down, and where the axle is farthest."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    DETAIL,
    HIDDEN,
    PAGE_MM,
    SHADE,
    SOLID,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc,
    circle,
    line,
    round_at,
    text,
)
from builder.drawings.cycle import tube
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import along, call_outs, dimension, turn_arrow
from builder.model.units import Unit, write_number

_NAME = "measure-axle-distance"
_BRACKET: Point = (72.0, 58.0)
_PIVOT: Point = (68.5, 45.0)
_ARM = 52.0


def _make(arguments: Arguments) -> Drawing:
    unladen, longest = arguments.number("unladen"), arguments.number("longest")
    if longest and unladen > longest:
        raise DrawingError(
            f"drawing '{_NAME}': {longest:g} mm is not the longest distance; it needs one over {unladen:g} mm"
        )
    low, high = round_at(_PIVOT, _ARM, 166.0), round_at(_PIVOT, _ARM, 195.0)
    shock_top, shock_low = (60.0, 17.0), along(_PIVOT, low, 16.0)
    first = f"{write_number(unladen)} mm" if unladen else "1st"
    second = f"{write_number(longest)} mm" if longest else "2nd"
    shapes: tuple[Shape, ...] = (
        tube(_BRACKET, (64.0, 4.0), 6.0, open_end=True),
        tube(_BRACKET, (PAGE_MM - 4.0, 26.0), 7.0, open_end=True),
        arc(_PIVOT, _ARM, 160.0, 201.0, Pen(stroke=ACCENT, dash_mm=(1.6, 1.0)), "axle-path"),
        line(_PIVOT, high, HIDDEN),
        circle(high, 5.0, Pen(fill="#ffffff", dash_mm=(1.6, 1.0)), "axle-high"),
        tube(shock_low, shock_top, 3.2),
        tube(along(shock_low, shock_top, 2.0), along(shock_low, shock_top, 17.0), 7.0, closed=True, fill=SHADE),
        tube(_PIVOT, low, 4.6, fill=TINT),
        circle(shock_low, 2.2, DETAIL),
        circle(shock_top, 2.2, DETAIL),
        circle(_PIVOT, 3.4, BODY),
        circle(_BRACKET, 6.0, BODY.filled(TINT)),
        circle(low, 5.0, BODY.filled(TINT), "axle-low"),
        *(circle(place, 0.8, SOLID) for place in (_BRACKET, low, high)),
        dimension(low, _BRACKET, first, offset=13.0, bold=True, part="unladen"),
        line(along(high, _BRACKET, 5.6), along(_BRACKET, high, 6.6), Pen(stroke=ACCENT), "longest"),
        text(along(high, _BRACKET, 21.0), second, bold=True, plate=True),
        turn_arrow(low, 9.0, 200.0, 268.0),
    )
    numbers, legend = call_outs(
        (
            ("shock, all air let out or its spring taken off", (42.0, 8.0), along(shock_low, shock_top, 12.0)),
            ("rear axle, the frame unladen", (7.0, 72.0), (low[0] - 2.0, low[1] + 2.4)),
            (
                "rear axle, the frame pushed in to where the axle is farthest",
                (6.0, 16.0),
                (high[0] - 1.0, high[1] - 1.6),
            ),
            ("centre of the bottom bracket", (84.0, 70.0), (_BRACKET[0] + 1.0, _BRACKET[1] + 1.0)),
            ("pivot", (80.0, 41.0), (_PIVOT[0] + 1.6, _PIVOT[1] - 0.4)),
        )
    )
    growth = write_number(longest - unladen) if unladen and longest else ""
    return Drawing(
        name=_NAME,
        title="Where the axle distance of a full-suspension frame is measured",
        description=(
            "From the drive side, chain off. The distance from the centre of the bottom bracket to the centre of "
            "the rear "
            "axle is taken twice: with the frame unladen, and where the axle is farthest away while the frame is "
            "pushed "
            "in." + (f" It grows by {growth} mm." if growth else "")
        ),
        width_mm=PAGE_MM,
        height_mm=84.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


def _length(name: str, words: str) -> Parameter:
    return Parameter(name=name, words=words, unit=Unit.MILLIMETRE, default=0, low=0, high=1000)


DRAWING = DrawingKind(
    name=_NAME,
    words="how the axle distance of a full-suspension frame is measured",
    make=_make,
    act=ShownAct.LOOKING,
    things=("frame",),
    parameters=(_length("unladen", "if already measured"), _length("longest", "if already measured")),
)
