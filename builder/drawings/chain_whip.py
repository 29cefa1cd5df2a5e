"""Chain whip and lockring tool on the sprockets: each hand pushes down, and the lockring comes loose."""

from __future__ import annotations

from builder.drawings.canvas import BODY, DETAIL, SHADE, TINT, Drawing, Pen, Point, circle, polygon, round_at
from builder.drawings.drawing_kind import Arguments, DrawingKind, ShownAct
from builder.drawings.fasteners import hexagon
from builder.drawings.marks import act_arrow, beside, call_outs, plus, seen_from, turn_arrow
from builder.drawings.transmission import chain, pitch_radius, sprocket

_NAME = "chain-whip"
_WIDTH = 60.0
_CENTRE: Point = (30.0, 36.0)
_TEETH = 21
_PITCH = 4.0


def _bar(start: Point, end: Point, width: float) -> tuple[Point, ...]:
    aside = beside(start, end, width / 2)
    back = (-aside[0], -aside[1])
    return plus(start, aside), plus(end, aside), plus(end, back), plus(start, back)


def _make(_: Arguments) -> Drawing:
    x, y = _CENTRE
    radius = pitch_radius(_TEETH, _PITCH)
    step = 360.0 / _TEETH
    # From the handle over the top: pushed down, the handle pulls the sprocket clockwise against the lockring.
    fixed: Point = (x + radius + 0.6, y + _PITCH)
    pins = [fixed, *(round_at(_CENTRE, radius, -step * index) for index in range(13))]
    whip_end, spanner_end = (_WIDTH - 1.5, y - 1.0), (3.0, y - 3.0)
    shapes = (
        seen_from((_WIDTH / 2, 3.4), "seen from the drive side"),
        circle(_CENTRE, radius + 5.0, Pen(fill=TINT)),
        sprocket(_CENTRE, _TEETH, _PITCH, pen=BODY),
        circle(_CENTRE, 9.6, DETAIL),
        circle(_CENTRE, 7.4, BODY.filled(SHADE), "lockring"),
        polygon(_bar((fixed[0] - 1.0, fixed[1] + 0.1), whip_end, 4.6), BODY.filled(TINT), "whip"),
        chain(pins),
        polygon(_bar((x, y), spanner_end, 4.0), BODY.filled(TINT), "spanner"),
        circle(_CENTRE, 6.0, BODY.filled(TINT)),
        hexagon(_CENTRE, 4.0, BODY),
        circle(_CENTRE, 1.4, Pen(fill=SHADE)),
        turn_arrow(_CENTRE, 10.0, -10.0, -130.0, part="turn-lockring"),
        act_arrow((4.4, y - 18.0), (4.4, y - 6.2), part="push-spanner"),
        act_arrow((_WIDTH - 4.0, y - 16.0), (_WIDTH - 4.0, y - 4.2), part="push-whip"),
    )
    numbers, legend = call_outs(
        (
            ("chain whip: it keeps the sprockets from turning", (54.0, y + 11.0), (51.0, y + 1.0)),
            ("its chain, over the top of a middle sprocket", (50.0, 11.5), round_at(_CENTRE, radius, -63.0)),
            ("spanner on the lockring tool", (6.0, y + 10.0), (11.0, y - 1.8)),
            ("lockring: anticlockwise comes loose", (17.0, y + 22.0), (x - 2.6, y + 6.7)),
        )
    )
    return Drawing(
        name=_NAME,
        title="Chain whip and lockring tool: both are pushed down",
        description=(
            "Seen from the drive side. The chain of the whip lies over the top of a sprocket, its handle at the right. "
            "The spanner on the lockring tool stands at the left. Both are pushed down: the lockring turns "
            "anticlockwise, and the whip holds the sprockets."
        ),
        width_mm=_WIDTH,
        height_mm=y + 26.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how a chain whip holds the sprockets while the lockring comes loose",
    make=_make,
    act=ShownAct.LOOSENING,
    things=("lockring", "cassette", "cassette-lockring"),
    width_mm=60.0,
)
