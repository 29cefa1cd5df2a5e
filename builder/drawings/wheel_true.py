"""A wheel between the feelers of a stand: which spokes pull the rim which way."""

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
    polygon,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import HEADED_MM, act_arrow, call_outs, headed
from builder.drawings.rims import rim_section
from builder.drawings.smaller import reduced
from builder.model.units import Unit, write_number

_NAME = "wheel-true"
_X = 45.0
_RIM_Y = 21.0
_HUB_Y = 82.0
_OFF = 3.0


def _make(arguments: Arguments) -> Drawing:
    runout = arguments.number("runout")
    x = _X - _OFF
    rim: Point = (x, _RIM_Y)
    nipple = (x, _RIM_Y + 10.5)
    flange_left, flange_right = (_X - 14.0, _HUB_Y - 6.0), (_X + 14.0, _HUB_Y - 6.0)
    shapes: tuple[Shape, ...] = (
        line((_X, 6.0), (_X, _HUB_Y + 7.0), CENTRE),
        line(flange_left, nipple, Pen(width_mm=0.7)),
        line(flange_right, nipple, Pen(width_mm=1.4, stroke=ACCENT)),
        box((x - 1.3, _RIM_Y + 9.6), 2.6, 4.6, BODY.filled(SHADE)),
        rim_section(rim, 15.0, 1.0),
        polygon(
            ((12.0, _RIM_Y - 4.6), (x - 9.5, _RIM_Y - 2.0), (x - 9.5, _RIM_Y + 0.6), (12.0, _RIM_Y + 1.6)),
            BODY.filled(SHADE),
            "feeler-left",
        ),
        polygon(
            ((78.0, _RIM_Y - 4.6), (_X + 13.0, _RIM_Y - 2.0), (_X + 13.0, _RIM_Y + 0.6), (78.0, _RIM_Y + 1.6)),
            BODY.filled(SHADE),
            "feeler-right",
        ),
        polygon(
            (
                (_X - 16.0, _HUB_Y - 9.0),
                (_X - 13.0, _HUB_Y - 9.0),
                (_X - 11.0, _HUB_Y - 4.0),
                (_X + 11.0, _HUB_Y - 4.0),
                (_X + 13.0, _HUB_Y - 9.0),
                (_X + 16.0, _HUB_Y - 9.0),
                (_X + 16.0, _HUB_Y + 4.0),
                (_X - 16.0, _HUB_Y + 4.0),
            ),
            BODY.filled(TINT),
            "hub",
        ),
        box((_X - 28.0, _HUB_Y - 3.4), 56.0, 3.0, BODY.filled(SHADE)),
        act_arrow((x + 3.0, 8.0), (x + 17.0, 8.0), part="rim-moves"),
    )
    if runout:
        shapes += (text((PAGE_MM / 2, _HUB_Y + 11.0), f"run-out at most {write_number(runout)} mm", bold=True),)
    numbers, legend = call_outs(
        (
            ("feeler; the rim touches it here", (6.0, 9.0), (x - 12.0, _RIM_Y - 1.2)),
            ("gap: the same all round when the rim is true", (84.0, 30.0), (_X + 9.6, _RIM_Y - 1.0)),
            ("tighten the spokes to the right flange: they pull the rim to the right", (77.0, 55.0), (_X + 7.6, 56.4)),
            ("loosen the spokes to the left flange: they let it go", (13.0, 55.0), (_X - 9.3, 56.4)),
            ("nipple; a quarter turn or less at a time", (13.0, 38.0), (x - 1.0, _RIM_Y + 12.4)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="Truing a wheel between two feelers",
        description=(
            "Seen from the end of the stand, rim above, hub below. The rim stands too far to the left and touches the "
            "left feeler. The spokes that go to the right flange are tightened and those to the left flange loosened, "
            "a little at a time, and the rim moves to the right."
        ),
        width_mm=PAGE_MM,
        height_mm=_HUB_Y + (15.0 if runout else 8.5) + HEADED_MM,
        body=headed("seen in line with the wheel", (*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="which spokes move the rim which way",
    make=_make,
    things=(
        "wheel",
        "rim",
        "nipple",
        "spoke",
        "front-wheel",
        "rear-wheel",
    ),
    width_mm=60.0,
    parameters=(
        Parameter(name="runout", words="most that is allowed", unit=Unit.MILLIMETRE, default=0, low=0, high=10),
    ),
)
