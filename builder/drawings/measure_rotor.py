"""Where the thickness of a brake rotor is measured, with its least thickness."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CENTRE,
    CLOSE,
    PAGE_MM,
    SHADE,
    TINT,
    WHITE,
    Drawing,
    Pen,
    Point,
    Shape,
    arc_commands,
    box,
    circle,
    line,
    path,
    round_at,
    text,
)
from builder.drawings.cycle import caliper
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import call_outs, dimension, heading
from builder.model.units import Unit, write_number

_NAME = "measure-rotor"
_FACE: Point = (21.0, 42.0)
_EDGE_X = 56.0
_SCALE = 4.0


def _face() -> Shape:
    """The rotor from its side, with four places to measure at."""

    def ring(radius: float) -> list[str]:
        return [*arc_commands(_FACE, radius, 0, 180), *arc_commands(_FACE, radius, 180, 360, joined=True), CLOSE]

    track = path([*ring(19.0), *ring(13.6)], BODY.filled(TINT), holes=True)
    arms = "".join(
        line(round_at(_FACE, 7.0, a), round_at(_FACE, 13.6, a + 24), Pen(width_mm=1.4)) for a in range(0, 360, 60)
    )
    holes = "".join(circle(round_at(_FACE, 16.3, a), 0.8, Pen(fill=WHITE)) for a in range(10, 360, 20))
    return track + arms + circle(_FACE, 7.0, BODY.filled(TINT)) + circle(_FACE, 3.0, BODY) + holes


def _make(arguments: Arguments) -> Drawing:
    thickness, least = arguments.number("thickness"), arguments.number("least")
    wide = (thickness or 1.8) * _SCALE
    left, right = _EDGE_X - wide / 2, _EDGE_X + wide / 2
    tip_y, beam_y = 40.0, 20.0
    worn = 0.4 if thickness else 0.0
    places = [round_at(_FACE, 16.3, angle) for angle in (-90, 0, 90, 180)]
    shapes: list[Shape] = [
        _face(),
        box((left - worn, 33.0), wide + 2 * worn, 1.6, BODY.filled(SHADE)),
        box((left, 34.6), wide, 14.0, BODY.filled(SHADE), part="rotor"),
        box((left - worn, 48.6), wide + 2 * worn, 15.0, BODY.filled(SHADE)),
        line((_EDGE_X, 29.0), (_EDGE_X, 66.0), CENTRE),
        caliper(left, right, tip_y, beam_y),
        *(circle(place, 2.0, Pen(width_mm=0.7, fill=WHITE)) for place in places),
        dimension((left, 44.0), (right, 44.0), "", part="thickness"),
        heading((PAGE_MM - 1.0, 51.0), f"{write_number(thickness, 2)} mm" if thickness else "measure", anchor="end"),
    ]
    if least:
        shapes.append(text((PAGE_MM - 1.0, 57.0), f"least {write_number(least, 2)} mm", anchor="end"))
    numbers, legend = call_outs(
        (
            ("braking track: measure at four places round it", (6.0, 14.0), places[0]),
            ("worn part of the track; not the edge, which stays thicker", (44.5, 56.0), (left, 45.0)),
            ("caliper, square to the rotor", (44.0, 8.0), (_EDGE_X - 8.0, beam_y)),
        )
    )
    said = f", here {write_number(thickness, 2)} mm" if thickness else ""
    limit = f" The least thickness is {write_number(least, 2)} mm." if least else ""
    return Drawing(
        name=_NAME,
        title="Where the thickness of a rotor is measured",
        description=(
            f"Left, four places on the braking track. Right, the edge of the rotor, {_SCALE:g} times its size: "
            "the jaws "
            f"of a caliper close on the worn part{said}.{limit}"
        ),
        width_mm=PAGE_MM,
        height_mm=67.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


def _length(name: str, words: str) -> Parameter:
    return Parameter(name=name, words=words, unit=Unit.MILLIMETRE, default=0, low=0, high=4)


DRAWING = DrawingKind(
    name=_NAME,
    words="where the thickness of a rotor is measured",
    make=_make,
    act=ShownAct.LOOKING,
    things=("rotor",),
    parameters=(_length("thickness", "if already measured"), _length("least", "from the maker")),
)
