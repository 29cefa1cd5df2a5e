"""The lever of a quick-release: how the effort grows as it closes."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CLOSE,
    DETAIL,
    INK,
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
    move,
    path,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, ShownAct
from builder.drawings.marks import call_outs, seen_from, turn_arrow

_NAME = "quick-release"
_WIDTH = 45.0
_PIVOT: Point = (25.0, 39.0)
_LEVER_MM = 19.0


def _lever_blade(turn_deg: float, *, pen: Pen = BODY) -> Shape:
    """The lever from its cam pivot; at 0 degrees it points down, closed."""
    length = _LEVER_MM
    outline = (
        move((-3.4, -1.0)),
        bend((-3.4, -4.4), (3.4, -4.4), (3.4, -1.0)),
        bend((3.2, 0.38 * length), (1.2, 0.7 * length), (1.8, length - 1.5)),
        bend((1.4, length + 0.8), (-2.6, length + 0.8), (-2.6, length - 1.5)),
        bend((-2.6, 0.7 * length), (-3.4, 0.4 * length), (-3.4, -1.0)),
        CLOSE,
    )
    return group((path(outline, pen, "lever"),), shift=_PIVOT, turn_deg=turn_deg)


def _make(_: Arguments) -> Drawing:
    x, y = _PIVOT
    ghost = Pen(fill="#ffffff", dash_mm=(1.6, 1.0))
    shapes = (
        seen_from((_WIDTH / 2, 3.4), "seen from above,"),
        seen_from((_WIDTH / 2, 8.2), "front at the top"),
        box((x + 5.0, y - 11.0), 3.2, 22.0, BODY.filled(SHADE), round_mm=1.0),
        box((x + 8.2, y - 5.0), _WIDTH - x - 8.6, 10.0, BODY.filled(TINT)),
        box((x - 2.0, y - 1.1), _WIDTH - x + 1.6, 2.2, DETAIL),
        box((x - 1.0, y - 6.5), 6.0, 13.0, BODY, round_mm=1.0),
        _lever_blade(168.0, pen=ghost),
        _lever_blade(90.0, pen=ghost),
        _lever_blade(0.0),
        circle(_PIVOT, 1.0, Pen(fill=INK)),
        turn_arrow(_PIVOT, _LEVER_MM + 3.0, -112.0, -186.0, part="turn-free"),
        turn_arrow(_PIVOT, _LEVER_MM + 3.0, -194.0, -258.0, part="turn-firm"),
    )
    numbers, legend = call_outs(
        (
            ("open: moves freely", (x + 11.5, y - 19.0), (x - 2.8, y - 14.0)),
            ("in line with the axle: effort begins here", (x - 11.0, y - 10.0), (x - 11.0, y - 1.0)),
            ("closed: the last part needs a firm push of the palm", (x + 13.0, y + 19.0), (x - 0.4, y + 14.0)),
            ("dropout", (x + 13.0, y + 9.5), (x + 6.6, y + 8.0)),
        )
    )
    return Drawing(
        name=_NAME,
        title="Closing the lever of a quick-release",
        description=(
            "Seen from above, front of the bike at the top, lever on the left side. From open to closed it moves "
            "freely at first, meets effort from where it stands in line with the axle, and needs a firm push at the "
            "end."
        ),
        width_mm=_WIDTH,
        height_mm=y + 25.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how the lever of a quick-release closes",
    make=_make,
    act=ShownAct.TIGHTENING,
    things=("quick-release-lever", "skewer", "front-skewer", "rear-skewer"),
    width_mm=45.0,
)
