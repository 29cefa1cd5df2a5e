"""In which order the bolts of a circle or of a faceplate are tightened: crosswise, in small passes."""

from __future__ import annotations

from itertools import pairwise

from builder.drawings.canvas import (
    ACCENT,
    ACT_SOLID,
    BODY,
    DETAIL,
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
    round_at,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import along, head
from builder.drawings.smaller import reduced
from builder.model.fields import Fact

_NAME = "bolt-circle"
_CENTRE: Point = (PAGE_MM / 2, 33.0)
_BOLTS_MM = 22.0
_BOLT_MM = 5.2
# Position on the circle, clockwise from the top, of the bolt that is tightened first, second, and so on.
_ORDERS = {2: (0, 1), 3: (0, 1, 2), 4: (0, 2, 1, 3), 5: (0, 2, 4, 1, 3), 6: (0, 3, 1, 4, 2, 5)}


def order(bolts: int) -> tuple[int, ...]:
    """Positions, clockwise from the top, in the order of tightening: each bolt as far across as can be."""
    return _ORDERS[bolts]


def _bolt(number: int, centre: Point) -> Shape:
    return circle(centre, _BOLT_MM, BODY, f"bolt-{number}") + text(centre, str(number), size_pt=16, bold=True)


def _flange(bolts: int) -> tuple[Shape, list[Point]]:
    places = [round_at(_CENTRE, _BOLTS_MM, -90 + 360 * index / bolts) for index in range(bolts)]
    shapes = (
        circle(_CENTRE, _BOLTS_MM + 8.5, BODY.filled(TINT)),
        circle(_CENTRE, _BOLTS_MM, Pen(stroke=SHADE)),
        circle(_CENTRE, 7.0, BODY),
        circle(_CENTRE, 4.0, Pen(fill=SHADE)),
    )
    return "".join(shapes), places


def _faceplate(bolts: int) -> tuple[Shape, list[Point]]:
    x, y = _CENTRE
    half_width, half_height = (20.0, 26.0) if bolts == 4 else (12.0, 26.0)
    across = 13.0 if bolts == 4 else 0.0
    shapes = (
        box((3.0, y - 9.0), PAGE_MM - 6.0, 18.0, BODY),
        line((3.0, y), (PAGE_MM - 3.0, y), Pen(stroke=SHADE)),
        box((x - half_width, y - half_height), 2 * half_width, 2 * half_height, BODY.filled(TINT), round_mm=5.0),
        box((x - half_width + 3.5, y - 8.0), 2 * half_width - 7.0, 16.0, DETAIL, round_mm=3.0),
        text((13.0, y - 13.0), "bar"),
    )
    top, bottom = y - 18.5, y + 18.5
    if bolts == 2:
        return "".join(shapes), [(x, top), (x, bottom)]
    return "".join(shapes), [(x - across, top), (x + across, top), (x + across, bottom), (x - across, bottom)]


def _make(arguments: Arguments) -> Drawing:
    bolts, kind, passes = arguments.whole("bolts"), arguments.word("kind"), arguments.whole("passes")
    if kind == "faceplate" and bolts not in (2, 4):
        raise DrawingError(f"drawing '{_NAME}': a faceplate with {bolts} bolts is not known; it needs bolts of 2 or 4")
    ground, places = _flange(bolts) if kind == "circle" else _faceplate(bolts)
    row = [places[position] for position in order(bolts)]
    pen = Pen(width_mm=0.7, stroke=ACCENT, dash_mm=(1.6, 1.2))
    ways = [
        line(along(a, b, _BOLT_MM + 0.6), along(b, a, _BOLT_MM + 3.6), pen)
        + head(along(b, a, _BOLT_MM + 0.5), a, length=3.6, half_width=1.5, pen=ACT_SOLID)
        for a, b in pairwise(row)
    ]
    numbers = [_bolt(number, place) for number, place in enumerate(row, start=1)]
    bottom = _CENTRE[1] + 33.0
    words = f"{passes} small passes in this order" if passes > 1 else "once round, in this order"
    subject = f"{bolts} bolts of a {'faceplate' if kind == 'faceplate' else 'circle'}"
    drawing = Drawing(
        name=_NAME,
        title=f"Order of tightening: {subject}",
        description=(
            f"The {subject} are numbered in the order of tightening, crosswise. Tighten in {passes} passes, "
            "a little more in each, the last one to the full torque."
        ),
        width_mm=PAGE_MM,
        height_mm=bottom + 6.0,
        body="".join((ground, *ways, *numbers, text((PAGE_MM / 2, bottom + 2.4), words, bold=True))),
    )
    return reduced(drawing, 0.66)


_COUNT = Fact(joints=(("chainring-bolt", "crankset.ring-bolts"), ("faceplate", "stem.faceplate-bolts")))
DRAWING = DrawingKind(
    name=_NAME,
    words="the order in which bolts are tightened",
    make=_make,
    width_mm=60.0,
    act=ShownAct.TIGHTENING,
    things=(
        "chainring-bolt",
        "chainring-bolts",
        "faceplate",
        "faceplate-bolts",
    ),
    parameters=(
        Parameter(name="bolts", words="how many", whole=True, low=2, high=6, fact=_COUNT, usual=4),
        Parameter(
            name="kind",
            words="how they stand",
            default="circle",
            choices=("circle", "faceplate"),
            told=(("faceplate", "faceplate"),),
        ),
        Parameter(name="passes", words="passes to the full torque", whole=True, default=3, low=1, high=5),
    ),
)
