"""A barrel adjuster: which way it turns, seen from the housing, and what the cable does."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    DETAIL,
    INK,
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
    round_at,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.fasteners import thread
from builder.drawings.marks import call_outs, heading, seen_from, turn_arrow
from builder.drawings.smaller import reduced

_NAME = "barrel-adjuster"
_SIDE_Y = 13.0
_END_Y = 61.0


def _side() -> tuple[Shape, list[tuple[str, Point, Point]]]:
    """From the side: housing, barrel, thread, body, cable."""
    y = _SIDE_Y
    shapes = [
        line((46.0, y), (PAGE_MM - 4.0, y), Pen(width_mm=0.9)),
        box((58.0, y - 9.0), 16.0, 18.0, BODY.filled(TINT), round_mm=2.0),
        thread((46.0, y), 12.0, 3.0, pitch=1.5),
        box((26.0, y - 7.0), 20.0, 14.0, BODY, round_mm=1.5),
        *(line((28.0, y - 7.0 + shift), (44.0, y - 7.0 + shift)) for shift in (1.4, 3.6, 7.0, 10.4, 12.6)),
        box((19.0, y - 3.6), 7.0, 7.2, BODY, round_mm=0.8),
        box((3.0, y - 2.6), 16.0, 5.2, BODY.filled(SHADE)),
    ]
    rows: list[tuple[str, Point, Point]] = [
        ("cable housing", (11.0, y + 13.0), (11.0, y + 1.2)),
        ("barrel; turn this", (36.0, y + 13.0), (36.0, y + 5.0)),
        ("body of the derailleur, the shifter or a frame stop", (66.0, y + 14.0), (66.0, y + 6.0)),
        ("cable", (84.0, y + 8.0), (82.0, y)),
    ]
    return "".join(shapes), rows


def _end(x: float, words: str, result: str, *, clockwise: bool) -> Shape:
    """From the housing's end: the knurled barrel and the way to turn it."""
    y = _END_Y
    teeth: list[Point] = []
    for index in range(48):
        teeth.append(round_at((x, y), 7.6 if index % 2 else 8.6, 7.5 * index))
    begin, end = (-150.0, 60.0) if clockwise else (-30.0, -240.0)
    return "".join(
        (
            polygon(teeth, BODY),
            circle((x, y), 4.2, DETAIL),
            circle((x, y), 2.8, Pen(width_mm=0.7, fill=SHADE)),
            circle((x, y), 0.7, Pen(fill=INK)),
            turn_arrow((x, y), 12.6, begin, end, part=f"turn-{words}"),
            heading((x, y + 19.0), f"{words}:"),
            heading((x, y + 26.0), result),
        )
    )


def _make(arguments: Arguments) -> Drawing:
    way = arguments.word("turn")
    side, rows = _side()
    panels = [panel for panel in (("out", "tighter", False), ("in", "looser", True)) if way in ("both", panel[0])]
    places = (22.5, 67.5) if len(panels) == 2 else (PAGE_MM / 2,)
    shapes = [
        side,
        seen_from((PAGE_MM / 2, _SIDE_Y + 22.0), "below, seen from the end"),
        seen_from((PAGE_MM / 2, _SIDE_Y + 29.0), "where the housing enters"),
    ]
    for x, (words, result, clockwise) in zip(places, panels, strict=True):
        shapes.append(_end(x, words, result, clockwise=clockwise))
    numbers, legend = call_outs(rows)
    told = " ".join(
        f"Turned {'clockwise' if clockwise else 'anticlockwise'} it goes {words}: the cable gets {result}."
        for words, result, clockwise in panels
    )
    drawing = Drawing(
        name=_NAME,
        title="Barrel adjuster: which way to turn",
        description=f"Above from the side, below seen from the end where the housing enters. {told}",
        width_mm=PAGE_MM,
        height_mm=_END_Y + 31.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="which way a barrel adjuster turns, and what the cable does",
    make=_make,
    things=("barrel-adjuster", "brake-barrel", "front-barrel"),
    width_mm=60.0,
    parameters=(Parameter(name="turn", words="which way", default="both", choices=("both", "out", "in")),),
)
