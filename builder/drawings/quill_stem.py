"""A quill stem in a threaded headset, cut through at full size: the wedge, the mark, the race and its locknut."""

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
    Shape,
    box,
    circle,
    line,
    polygon,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.marks import call_outs, hatch
from builder.drawings.smaller import reduced

_NAME = "quill-stem"
_X = 44.0
_OUT, _IN = 12.7, 11.1  # a steerer of 25.4 mm with a quill of 22.2 mm, drawn at full size
_STEERER_TOP, _NUT_TOP, _NUT_END, _RACE_TOP, _RACE_END, _BOTTOM = 33.0, 32.0, 38.0, 40.0, 50.0, 90.0
_MARK, _QUILL_END, _WEDGE_END = 46.0, 72.0, 82.0


def _cut(way: int, near: float, far: float, top: float, end: float, angle: float, part: str) -> Shape:
    """One wall of a tube or a nut, with the hatching of a cut."""
    outline = tuple((_X + way * across, y) for across, y in ((near, top), (far, top), (far, end), (near, end)))
    return polygon(outline, BODY, part) + hatch(outline, spacing=1.8, angle_deg=angle)


def _make(_: Arguments) -> Drawing:
    shapes: list[Shape] = [box((_X, 12.0), 40.0, 12.0, BODY.filled(TINT), round_mm=3.0, part="arm")]
    quill = ((_X - _IN, 10.0), (_X + _IN, 10.0), (_X + _IN, _QUILL_END - 10.0), (_X - _IN, _QUILL_END))
    wedge = ((_X - _IN, _QUILL_END + 1.0), (_X + _IN, _QUILL_END - 9.0), (_X + _IN, _WEDGE_END), (_X - _IN, _WEDGE_END))
    shapes += [
        polygon(quill, BODY.filled(TINT), "quill"),
        polygon(wedge, BODY.filled(SHADE), "wedge"),
        box((_X - 1.6, 10.0), 3.2, _WEDGE_END - 13.0, BODY.filled(SHADE), part="bolt"),
        box((_X - 6.0, 4.0), 12.0, 6.0, BODY.filled(SHADE), round_mm=1.0, part="bolt-head"),
        line((_X - _IN, _MARK), (_X + _IN, _MARK), Pen(width_mm=0.9, stroke=ACCENT), "least-mark"),
    ]
    for way in (-1, 1):
        shapes += [
            _cut(way, _IN, _OUT, _STEERER_TOP, _BOTTOM, 45, "steerer"),
            _cut(way, _OUT, _OUT + 6.5, _NUT_TOP, _NUT_END, -45, "locknut"),
            box((_X + (_OUT if way > 0 else -_OUT - 5.5), _NUT_END), 5.5, _RACE_TOP - _NUT_END, BODY.filled(SHADE)),
            _cut(way, _OUT, _OUT + 6.5, _RACE_TOP, _RACE_END, 45, "upper-race"),
            circle((_X + way * (_OUT + 4.0), _RACE_END + 2.2), 2.2, BODY.filled(TINT)),
            _cut(way, _OUT + 1.4, _OUT + 6.5, _RACE_END + 4.4, _BOTTOM, -45, "head-tube"),
        ]
    shapes.append(line((_X, 2.0), (_X, _BOTTOM), CENTRE))
    numbers, legend = call_outs(
        (
            ("expander bolt", (14.0, 6.0), (_X - 5.0, 7.0)),
            ("locknut", (12.0, 27.0), (_X - _OUT - 4.0, 34.0)),
            ("upper race; the washer with a tab lies on it", (12.0, 45.0), (_X - _OUT - 4.0, 45.0)),
            ("mark of least insertion: below the locknut", (80.0, 42.0), (_X + 7.0, _MARK)),
            ("steerer", (80.0, 58.0), (_X + 11.9, 62.0)),
            ("wedge, pulled up by the bolt", (80.0, 76.0), (_X + 8.0, 76.0)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="A quill stem in a threaded headset",
        description=(
            "The head of a bike cut through: the quill stands in the steerer with its mark of least insertion below "
            "the locknut. A bolt pulls the wedge against the end of the quill. The locknut holds the upper race."
        ),
        width_mm=PAGE_MM,
        height_mm=_BOTTOM + 1.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="how a quill stem and a threaded headset hold",
    make=_make,
    things=(
        "quill-stem",
        "expander-bolt",
        "quill-expander-bolt",
        "locknut",
        "upper-race",
        "threaded-headset-locknut",
    ),
    width_mm=60.0,
)
