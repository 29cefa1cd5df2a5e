"""Frame tubes, wheels, tyres and measuring tools as shapes."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CLEAR,
    DETAIL,
    SHADE,
    THICK,
    TINT,
    WHITE,
    Pen,
    Point,
    Shape,
    box,
    circle,
    line,
    polygon,
    polyline,
    round_at,
)
from builder.drawings.marks import along, beside, plus

_NO_LINE = Pen(width_mm=0.0, stroke=CLEAR, fill=WHITE)


def tube(
    start: Point, end: Point, width: float, *, open_end: bool = False, closed: bool = False, fill: str = WHITE
) -> Shape:
    """A straight tube; with `open_end` it is cut off at `end` with a break line, `closed` has square ends."""
    aside = beside(start, end, width / 2)
    back = (-aside[0], -aside[1])
    a, b, c, d = plus(start, aside), plus(end, aside), plus(end, back), plus(start, back)
    if closed:
        return polygon((a, b, c, d), BODY.filled(fill))
    shapes = [polygon((a, b, c, d), _NO_LINE.filled(fill)), line(a, b, THICK), line(d, c, THICK)]
    if open_end:
        onward = along(end, start, -0.7)
        shift = (onward[0] - end[0], onward[1] - end[1])
        third = (c[0] + (b[0] - c[0]) / 3, c[1] + (b[1] - c[1]) / 3)
        two_thirds = (c[0] + (b[0] - c[0]) * 2 / 3, c[1] + (b[1] - c[1]) * 2 / 3)
        shapes.append(polyline((c, plus(third, shift), plus(two_thirds, (-shift[0], -shift[1])), b)))
    return "".join(shapes)


def wheel(centre: Point, radius: float, tyre: float, *, spokes: int = 16, hub: float = 2.0) -> Shape:
    """A wheel from its side: tyre, rim, spokes, hub."""
    inner = radius - tyre - 1.2
    shapes = [circle(centre, radius - tyre / 2, Pen(width_mm=tyre, stroke=SHADE)), circle(centre, radius, THICK)]
    shapes += [circle(centre, radius - tyre, THICK), circle(centre, inner)]
    shapes += [
        line(
            round_at(centre, hub, 360 * index / spokes + (25 if index % 2 else -25)),
            round_at(centre, inner, 360 * index / spokes),
        )
        for index in range(spokes)
    ]
    return "".join((*shapes, circle(centre, hub, BODY)))


def caliper(left: float, right: float, tip_y: float, beam_y: float) -> Shape:
    """A vernier caliper whose jaws close from `left` to `right` at `tip_y`, its beam at `beam_y`."""
    down = 1 if tip_y > beam_y else -1
    beam = box((left - 9.0, beam_y - 2.5), right - left + 30.0, 5.0, BODY)
    ticks = "".join(
        line(
            (left + 2.0 + 1.5 * index, beam_y + 2.5), (left + 2.0 + 1.5 * index, beam_y + (0.6 if index % 5 else -0.8))
        )
        for index in range(int((right - left + 16.0) / 1.5))
    )
    fixed = polygon(
        (
            (left - 8.0, beam_y - 2.5 * down),
            (left, beam_y - 2.5 * down),
            (left, tip_y),
            (left - 1.8, tip_y),
            (left - 8.0, beam_y + 6.0 * down),
        ),
        BODY.filled(TINT),
        "jaw-left",
    )
    slide = polygon(
        (
            (right, beam_y - 3.6 * down),
            (right + 12.0, beam_y - 3.6 * down),
            (right + 12.0, beam_y + 3.6 * down),
            (right + 8.0, beam_y + 6.0 * down),
            (right + 1.8, tip_y),
            (right, tip_y),
        ),
        BODY.filled(TINT),
        "jaw-right",
    )
    window = box((right + 2.0, beam_y - 1.6), 8.0, 3.2, DETAIL)
    return beam + ticks + fixed + slide + window
