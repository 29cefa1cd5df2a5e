"""The top of a threadless headset cut through at full size: the steerer ends a little below the cap."""

from __future__ import annotations

from builder.drawings.canvas import (
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
    circle,
    line,
    polygon,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.fasteners import upright_thread
from builder.drawings.marks import call_outs, dimension, hatch, heading
from builder.model.units import Unit, write_number

_NAME = "headset-stack"
_X = 44.0
_OUT, _IN = 14.3, 12.3  # a steerer of 28.6 mm, drawn at full size
_STEM_TOP, _STEM_END, _SPACER_END, _BOTTOM = 15.0, 51.0, 61.0, 84.0


def _wall(way: int, near: float, far: float, top: float, end: float, pen: Pen, angle: float, part: str = "") -> Shape:
    outline: tuple[Point, ...] = tuple(
        (_X + way * across, y) for across, y in ((near, top), (far, top), (far, end), (near, end))
    )
    return polygon(outline, pen, part) + hatch(outline, spacing=1.8, angle_deg=angle)


def _make(arguments: Arguments) -> Drawing:
    gap = arguments.number("gap")
    steerer_top = _STEM_TOP + gap
    shapes: list[Shape] = []
    for way in (-1, 1):
        shapes += [
            _wall(way, _IN, _OUT, steerer_top, _BOTTOM, BODY, 45, "steerer"),
            _wall(way, _OUT, _OUT + 5.0, _STEM_TOP, _STEM_END, BODY, -45, "stem"),
            box(
                (_X + (_OUT if way > 0 else -_OUT - 4.0), _STEM_END),
                4.0,
                _SPACER_END - _STEM_END,
                BODY.filled(TINT),
                part="spacer",
            ),
            polygon(
                (
                    (_X + way * _OUT, _SPACER_END),
                    (_X + way * (_OUT + 4.0), _SPACER_END),
                    (_X + way * (_OUT + 7.0), _SPACER_END + 7.0),
                    (_X + way * (_OUT + 1.0), _SPACER_END + 7.0),
                ),
                BODY.filled(SHADE),
            ),
            circle((_X + way * (_OUT + 3.6), _SPACER_END + 10.6), 3.3, BODY),
            _wall(way, _OUT + 7.4, _OUT + 11.4, _SPACER_END + 5.0, _BOTTOM, BODY, -45, "head-tube"),
        ]
    shapes += [
        polygon(
            (
                (_X - 17.5, _STEM_TOP),
                (_X - 15.5, _STEM_TOP - 4.6),
                (_X + 15.5, _STEM_TOP - 4.6),
                (_X + 17.5, _STEM_TOP),
            ),
            BODY.filled(SHADE),
            "cap",
        ),
        box((_X - 5.5, _STEM_TOP - 6.6), 11.0, 4.6, BODY),
        box((_X - 2.6, _STEM_TOP - 6.6), 5.2, 2.6, Pen(fill=SHADE)),
        upright_thread((_X, _STEM_TOP), 28.0, 3.0),
        polygon(((_X - _IN, 33.0), (_X - 3.0, 36.0), (_X - 3.0, 38.4), (_X - _IN, 35.4)), BODY.filled(SHADE)),
        polygon(((_X + _IN, 33.0), (_X + 3.0, 36.0), (_X + 3.0, 38.4), (_X + _IN, 35.4)), BODY.filled(SHADE)),
        box((_X - 5.0, 35.4), 10.0, 5.4, BODY.filled(SHADE), part="star-nut"),
        line((_X, 4.0), (_X, _BOTTOM), CENTRE),
        line((_X + 18.0, _STEM_TOP), (79.0, _STEM_TOP)),
        line((_X + _OUT, steerer_top), (79.0, steerer_top)),
        dimension((77.0, _STEM_TOP), (77.0, steerer_top), "", part="gap"),
        heading((79.0, _STEM_TOP - 8.0), f"{write_number(gap)} mm"),
    ]
    numbers, legend = call_outs(
        (
            ("cap with its bolt: it presses the stack together", (20.0, 5.0), (_X - 12.0, _STEM_TOP - 2.4)),
            ("steerer, which ends below the cap", (12.0, 20.0), (_X - _OUT + 1.0, steerer_top + 4.0)),
            ("stem, its side bolts tightened last", (74.0, 38.0), (_X + _OUT + 3.0, 34.0)),
            ("spacer", (74.0, 56.0), (_X + _OUT + 2.0, 56.0)),
            ("nut inside the steerer", (12.0, 44.0), (_X - 4.0, 39.0)),
            ("upper bearing", (78.0, 71.0), (_X + _OUT + 4.0, _SPACER_END + 10.6)),
            ("head tube", (12.0, 76.0), (_X - _OUT - 9.4, 76.0)),
        )
    )
    told = (
        f"The steerer ends {write_number(gap)} mm below the upper edge of the stem, so that the cap presses "
        "on the stem "
        "and not on the steerer."
        if gap
        else "The steerer ends level with the stem, so that the cap presses on the steerer: a thin spacer is missing."
    )
    return Drawing(
        name=_NAME,
        title="The top of a threadless headset",
        description=f"Cut through, at full size. {told}",
        width_mm=PAGE_MM,
        height_mm=_BOTTOM + 1.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="the gap between steerer and cap",
    make=_make,
    things=(
        "headset",
        "steerer",
        "stem",
        "spacer",
        "top-cap",
        "top-cap-bolt",
    ),
    parameters=(
        Parameter(name="gap", words="steerer below the stem's edge", unit=Unit.MILLIMETRE, default=3, low=0, high=15),
    ),
)
