"""The conical springs of a quick-release skewer: small ends to the hub."""

from __future__ import annotations

from builder.drawings.canvas import BODY, CENTRE, DETAIL, SHADE, TINT, Drawing, box, line, lines_of_text
from builder.drawings.drawing_kind import Arguments, DrawingKind, ShownAct
from builder.drawings.fasteners import cone_spring
from builder.drawings.marks import call_outs

_NAME = "skewer-springs"
_WIDTH = 30.0
_Y = 17.5


def _make(_: Arguments) -> Drawing:
    shapes = (
        box((1.0, _Y - 1.1), _WIDTH - 1.4, 2.2, DETAIL),
        cone_spring((17.6, _Y), (9.4, _Y), 2.2, 6.0),
        box((2.0, _Y - 6.5), 6.4, 13.0, BODY, round_mm=1.2),
        box((18.6, _Y - 10.0), 3.2, 20.0, BODY.filled(SHADE), round_mm=1.0),
        box((21.8, _Y - 6.5), _WIDTH - 22.2, 13.0, BODY.filled(TINT)),
        line((0.4, _Y), (_WIDTH - 0.4, _Y), CENTRE),
        lines_of_text((_WIDTH / 2, 35.5), ("left and right", "ends alike")),
    )
    numbers, legend = call_outs(
        (
            ("small end of the spring, to the hub", (13.5, 3.4), (16.4, _Y - 2.4)),
            ("dropout", (24.5, 3.4), (20.4, _Y - 8.5)),
            ("hub", (26.5, 29.5), (26.0, _Y + 4.0)),
            ("nut or lever, at the large end", (5.0, 29.5), (5.0, _Y + 4.5)),
        )
    )
    return Drawing(
        name=_NAME,
        title="The springs of a skewer: small ends to the hub",
        description=(
            "One end of the skewer, from its side: the conical spring stands between the dropout and the nut or the "
            "lever, with its small end to the hub. The other end is the same the other way round."
        ),
        width_mm=_WIDTH,
        height_mm=42.5,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="which way the springs of a skewer go",
    make=_make,
    act=ShownAct.LOOKING,
    things=("conical-spring", "skewer"),
    width_mm=30.0,
)
