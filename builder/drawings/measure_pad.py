"""Where the lining of a disc brake pad is measured."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CLOSE,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Shape,
    bend,
    box,
    circle,
    line,
    move,
    path,
    sweep,
    text,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import call_outs, dimension, hatch, heading
from builder.model.units import Unit, write_number

_NAME = "measure-pad"
_SCALE = 5.0
_PLATE_MM = 2.0


def _face(x: float, y: float) -> Shape:
    """A pad from the side of its lining."""
    plate = path(
        (
            move((x - 14.0, y - 11.0)),
            to((x - 5.0, y - 13.0)),
            to((x - 4.0, y - 19.0)),
            sweep(4.0, (x + 4.0, y - 19.0)),
            to((x + 5.0, y - 13.0)),
            to((x + 14.0, y - 11.0)),
            bend((x + 15.0, y + 2.0), (x + 11.0, y + 11.0), (x, y + 11.5)),
            bend((x - 11.0, y + 11.0), (x - 15.0, y + 2.0), (x - 14.0, y - 11.0)),
            CLOSE,
        ),
        BODY.filled(SHADE),
        "plate",
    )
    lining = path(
        (
            move((x - 11.5, y - 8.5)),
            to((x + 11.5, y - 8.5)),
            bend((x + 12.0, y + 1.0), (x + 9.0, y + 8.0), (x, y + 8.6)),
            bend((x - 9.0, y + 8.0), (x - 12.0, y + 1.0), (x - 11.5, y - 8.5)),
            CLOSE,
        ),
        BODY.filled(TINT),
        "lining-face",
    )
    return plate + lining + circle((x, y - 18.5), 2.0, Pen(fill="#ffffff")) + line((x, y - 8.0), (x, y + 8.2))


def _make(arguments: Arguments) -> Drawing:
    lining, least = arguments.number("lining"), arguments.number("least")
    wide = (lining or 3.0) * _SCALE
    y_top, y_low = 14.0, 42.0
    plate_x = 48.0
    plate_right = plate_x + _PLATE_MM * _SCALE
    lining_right = plate_right + wide
    outline = (
        (plate_right, y_top + 3.0),
        (lining_right, y_top + 3.0),
        (lining_right, y_low - 3.0),
        (plate_right, y_low - 3.0),
    )
    shapes: list[Shape] = [
        _face(20.0, 28.0),
        box((plate_x, y_top - 8.0), _PLATE_MM * _SCALE, y_low - y_top + 8.0, BODY.filled(SHADE), part="plate"),
        path((move(outline[0]), *(to(point) for point in outline[1:]), CLOSE), BODY.filled(TINT), "lining"),
        hatch(outline, spacing=2.4),
        dimension((plate_right, y_low), (lining_right, y_low), "", offset=4.0, part="lining-thickness"),
        heading(
            (min((plate_right + lining_right) / 2, PAGE_MM - 12.0), y_low + 11.0),
            f"{write_number(lining, 2)} mm" if lining else "measure",
        ),
    ]
    if least:
        x = plate_right + least * _SCALE
        shapes.append(line((x, y_top), (x, y_low - 1.0), Pen(width_mm=0.7, dash_mm=(1.6, 1.0)), "least"))
        shapes.append(text((plate_right + 2.0, y_top - 3.4), f"least {write_number(least, 2)} mm", anchor="start"))
    numbers, legend = call_outs(
        (
            ("backing plate, not counted", (40.0, 6.0), (plate_x + 3.0, 12.0)),
            ("lining: measure where it is thinnest", (40.0, 48.0), (plate_right + min(wide, 4.0) / 2, y_low - 5.0)),
            ("lining, from the side that rubs", (4.0, 48.0), (13.0, 32.0)),
        )
    )
    said = f", here {write_number(lining, 2)} mm" if lining else ""
    limit = f" The least is {write_number(least, 2)} mm." if least else ""
    return Drawing(
        name=_NAME,
        title="Where a brake pad is measured",
        description=(
            f"Left, the pad from the side that rubs. Right, its edge, {_SCALE:g} times its size: the lining alone is "
            f"measured, without the backing plate{said}.{limit}"
        ),
        width_mm=PAGE_MM,
        height_mm=y_low + 15.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


def _length(name: str, words: str, high: float) -> Parameter:
    return Parameter(name=name, words=words, unit=Unit.MILLIMETRE, default=0, low=0, high=high)


DRAWING = DrawingKind(
    name=_NAME,
    words="where the lining of a pad is measured",
    make=_make,
    act=ShownAct.LOOKING,
    things=("brake-pad",),
    parameters=(_length("lining", "if already measured", 5), _length("least", "from the maker", 3)),
)
