"""A quick-release skewer: its conical springs, and how the effort at the lever grows as it closes."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CENTRE,
    CLOSE,
    DETAIL,
    INK,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    bend,
    box,
    circle,
    group,
    line,
    move,
    path,
)
from builder.drawings.fasteners import cone_spring
from builder.drawings.marks import call_outs, turn_arrow
from builder.drawings.subject import Given, Subject

_NAME = "quick-release"
_AXLE_Y = 19.0
_PIVOT: Point = (44.0, 71.0)
_LEVER_MM = 24.0


def _dropout(x: float) -> Shape:
    return box((x - 1.6, _AXLE_Y - 11.0), 3.2, 22.0, BODY.filled(SHADE), round_mm=1.0)


def _row() -> tuple[Shape, list[tuple[str, Point, Point]]]:
    """The skewer from above: nut, spring, dropout, hub, dropout, spring, lever."""
    y = _AXLE_Y
    shapes = (
        _dropout(29.0),
        _dropout(65.0),
        box((30.6, y - 7.0), 32.8, 14.0, BODY.filled(TINT), round_mm=2.0),
        box((36.0, y - 9.5), 3.0, 19.0, BODY.filled(TINT)),
        box((55.0, y - 9.5), 3.0, 19.0, BODY.filled(TINT)),
        box((9.0, y - 1.1), 76.0, 2.2, DETAIL),
        cone_spring((26.4, y), (19.5, y), 2.2, 5.6),
        cone_spring((67.6, y), (74.5, y), 2.2, 5.6),
        box((75.5, y - 6.5), 7.0, 13.0, BODY, round_mm=1.2),
        *(line((76.5, y + rise), (81.5, y + rise)) for rise in (-4.0, -1.3, 1.3, 4.0)),
        box((10.5, y - 6.5), 8.0, 13.0, BODY, round_mm=2.0),
        _lever_blade((14.5, y), 0.0, length=22.0),
        line((5.0, y), (PAGE_MM - 3.0, y), CENTRE),
    )
    rows: list[tuple[str, Point, Point]] = [
        ("conical spring, small end inward", (22.0, 3.6), (23.0, y - 4.0)),
        ("conical spring, small end inward", (72.0, 3.6), (71.0, y - 4.0)),
        ("adjusting nut", (84.0, 7.0), (79.0, y - 4.8)),
        ("lever with its cam", (6.0, y + 21.0), (14.0, y + 16.0)),
        ("dropout", (47.0, 3.6), (29.6, y - 9.5)),
    ]
    return "".join(shapes), rows


def _lever_blade(pivot: Point, turn_deg: float, *, length: float, pen: Pen = BODY) -> Shape:
    """A lever from its cam pivot; at 0 degrees it points down, closed."""
    outline = (
        move((-3.6, -1.0)),
        bend((-3.6, -4.6), (3.6, -4.6), (3.6, -1.0)),
        bend((3.4, 0.38 * length), (1.2, 0.7 * length), (1.8, length - 1.5)),
        bend((1.4, length + 0.8), (-2.6, length + 0.8), (-2.6, length - 1.5)),
        bend((-2.6, 0.7 * length), (-3.6, 0.4 * length), (-3.6, -1.0)),
        CLOSE,
    )
    return group((path(outline, pen, "lever"),), shift=pivot, turn_deg=turn_deg)


def _closing() -> tuple[Shape, list[tuple[str, Point, Point]]]:
    """The lever at three angles: open, where the effort begins, closed."""
    x, y = _PIVOT
    ghost = Pen(fill="#ffffff", dash_mm=(1.6, 1.0))
    shapes = (
        box((x + 5.0, y - 11.0), 3.2, 22.0, BODY.filled(SHADE), round_mm=1.0),
        box((x + 8.2, y - 5.0), 20.0, 10.0, BODY.filled(TINT)),
        box((x - 2.0, y - 1.1), 30.0, 2.2, DETAIL),
        box((x - 1.0, y - 6.5), 6.0, 13.0, BODY, round_mm=1.0),
        _lever_blade(_PIVOT, 168.0, length=_LEVER_MM, pen=ghost),
        _lever_blade(_PIVOT, 90.0, length=_LEVER_MM, pen=ghost),
        _lever_blade(_PIVOT, 0.0, length=_LEVER_MM),
        circle(_PIVOT, 1.0, Pen(fill=INK)),
        turn_arrow(_PIVOT, _LEVER_MM + 4.0, -112.0, -186.0),
        turn_arrow(_PIVOT, _LEVER_MM + 4.0, -192.0, -262.0),
    )
    rows: list[tuple[str, Point, Point]] = [
        ("open: moves freely", (x + 12.0, y - 24.0), (x - 3.7, y - 18.0)),
        ("in line with the axle: effort begins here", (x - 16.0, y - 11.0), (x - 16.0, y - 1.0)),
        ("closed: the last part needs a firm push of the palm", (x + 14.0, y + 24.0), (x - 0.5, y + 19.0)),
    ]
    return "".join(shapes), rows


def _make(_: Given) -> Drawing:
    row, row_parts = _row()
    closing, closing_parts = _closing()
    numbers, legend = call_outs((*row_parts, *closing_parts))
    return Drawing(
        name=_NAME,
        title="Quick-release: springs and lever",
        description=(
            "Above, the skewer through hub and dropouts: both conical springs stand small end inward. Below, the lever "
            "from open to closed: it moves freely at first, meets effort from where it stands in line with the axle, "
            "and needs a firm push at the end."
        ),
        width_mm=PAGE_MM,
        height_mm=_PIVOT[1] + 31.0,
        body="".join((row, closing, numbers)),
        legend=legend,
    )


SUBJECT = Subject(name=_NAME, words="which way the springs of a skewer go, and how its lever closes", make=_make)
