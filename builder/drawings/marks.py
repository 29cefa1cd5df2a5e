"""What is written over a drawing: arrows, dimension lines, numbered call-outs, hatching and verdict marks."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from builder.drawings.canvas import (
    ACCENT,
    ACT_SOLID,
    CLEAR,
    DETAIL,
    INK,
    LEAST_PT,
    PAGE_MM,
    SOLID,
    THICK_MM,
    THIN,
    WHITE,
    Pen,
    Point,
    Shape,
    arc,
    circle,
    group,
    line,
    polygon,
    round_at,
    text,
)

_CALL_OUT_RADIUS_MM = 2.7


def along(start: Point, end: Point, distance: float) -> Point:
    """The point `distance` from `start` towards `end`."""
    length = math.dist(start, end) or 1.0
    share = distance / length
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)


def beside(start: Point, end: Point, distance: float) -> Point:
    """A step of `distance` square to the way from `start` to `end`, to its right as one goes, as a shift."""
    length = math.dist(start, end) or 1.0
    return (-(end[1] - start[1]) / length * distance, (end[0] - start[0]) / length * distance)


def plus(point: Point, shift: Point) -> Point:
    """`point` moved by `shift`."""
    return (point[0] + shift[0], point[1] + shift[1])


def head(tip: Point, backward: Point, *, length: float, half_width: float, pen: Pen = SOLID) -> Shape:
    """An arrow head with its point at `tip`, its shaft coming from the side of `backward`."""
    base = along(tip, backward, length)
    aside = beside(tip, backward, half_width)
    return polygon((tip, plus(base, aside), plus(base, (-aside[0], -aside[1]))), pen)


def arrow(start: Point, end: Point, pen: Pen = THIN, *, both: bool = False) -> Shape:
    """A thin line with a slender head, as on a dimension line."""
    tip = Pen(width_mm=0.0, stroke=CLEAR, fill=pen.stroke)
    shapes = [line(start, end, pen), head(end, start, length=2.4, half_width=0.6, pen=tip)]
    if both:
        shapes.append(head(start, end, length=2.4, half_width=0.6, pen=tip))
    return "".join(shapes)


def act_arrow(start: Point, end: Point, *, part: str = "") -> Shape:
    """The bold arrow that shows what the hand does: push, pull, move."""
    shaft = line(start, along(end, start, 2.6), Pen(width_mm=1.4, stroke=ACCENT), part)
    return shaft + head(end, start, length=3.6, half_width=2.0, pen=ACT_SOLID)


def turn_arrow(centre: Point, radius: float, begin_deg: float, end_deg: float, *, part: str = "") -> Shape:
    """The bold arrow that shows which way the hand turns; clockwise if the second angle is the greater."""
    way = 1 if end_deg > begin_deg else -1
    neck = end_deg - way * math.degrees(2.6 / radius)
    tip = round_at(centre, radius, end_deg)
    back = round_at(centre, radius, end_deg - way * math.degrees(3.4 / radius))
    shaft = arc(centre, radius, begin_deg, neck, Pen(width_mm=1.4, stroke=ACCENT), part)
    return shaft + head(tip, back, length=3.6, half_width=2.0, pen=ACT_SOLID)


def dimension(
    start: Point, end: Point, words: str, *, offset: float = 0.0, bold: bool = False, plate: bool = True, part: str = ""
) -> Shape:
    """A dimension line between two points, moved aside by `offset`, with extension lines and its words.

    A positive offset lies to the right as one goes from `start` to `end`. The words stand on a cleared plate in the
    middle of the line; where the line is too short for its arrows, they point inward from outside.
    """
    aside = beside(start, end, offset)
    a, b = plus(start, aside), plus(end, aside)
    shapes = []
    if offset:
        over = beside(start, end, math.copysign(1.2, offset))
        gap = beside(start, end, math.copysign(0.8, offset))
        shapes += [line(plus(start, gap), plus(a, over)), line(plus(end, gap), plus(b, over))]
    if math.dist(a, b) >= 6.0:
        shapes.append(arrow(a, b, both=True))
        if part:
            shapes.append(line(a, b, THIN, part))
    else:
        shapes += [arrow(along(a, b, -5.0), a), arrow(along(b, a, -5.0), b), line(a, b, THIN, part)]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    if words:
        shapes.append(text(middle, words, bold=bold, plate=plate))
    return "".join(shapes)


def call_out(number: int, centre: Point, target: Point) -> Shape:
    """A number in a ring, with a line to a dot on the part that it names."""
    edge = along(centre, target, _CALL_OUT_RADIUS_MM)
    return "".join(
        (
            line(edge, target, Pen(width_mm=1.1, stroke=WHITE)),
            line(edge, target),
            circle(target, 0.65, SOLID),
            circle(centre, _CALL_OUT_RADIUS_MM, DETAIL, "call-out-ring"),
            text(centre, str(number), bold=True, part="call-out"),
        )
    )


def call_outs(items: Iterable[tuple[str, Point, Point]]) -> tuple[Shape, tuple[str, ...]]:
    """Numbered call-outs from (words, place of the number, point on the part), and the words as a legend."""
    rows = tuple(items)
    shapes = "".join(call_out(number, centre, target) for number, (_, centre, target) in enumerate(rows, start=1))
    return shapes, tuple(words for words, _, _ in rows)


def hatch(outline: Sequence[Point], *, spacing: float = 1.5, angle_deg: float = -45.0, pen: Pen = THIN) -> Shape:
    """Parallel lines inside a polygon: material that is cut through (ISO 128-50)."""
    turn = math.radians(-angle_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    level = [(x * cos - y * sin, x * sin + y * cos) for x, y in outline]
    low, high = min(y for _, y in level), max(y for _, y in level)
    shapes = []
    row = math.floor(low / spacing) + 1
    while row * spacing < high:
        height = row * spacing
        crossings = sorted(
            x1 + (height - y1) * (x2 - x1) / (y2 - y1)
            for (x1, y1), (x2, y2) in zip(level, (*level[1:], level[0]), strict=True)
            if (y1 <= height) != (y2 <= height)
        )
        for left, right in zip(crossings[::2], crossings[1::2], strict=True):
            a, b = ((x * cos + height * sin, -x * sin + height * cos) for x in (left, right))
            shapes.append(line(a, b, pen))
        row += 1
    return "".join(shapes)


def tick_mark(centre: Point, *, size: float = 2.0) -> Shape:
    """Right: a bold tick."""
    x, y = centre
    points = ((x - size, y + 0.1 * size), (x - 0.3 * size, y + 0.8 * size), (x + size, y - 0.8 * size))
    return _poly(points)


def cross_mark(centre: Point, *, size: float = 1.8) -> Shape:
    """Wrong: a bold cross."""
    x, y = centre
    pen = Pen(width_mm=2 * THICK_MM, stroke=INK)
    return line((x - size, y - size), (x + size, y + size), pen) + line((x - size, y + size), (x + size, y - size), pen)


def _poly(points: Sequence[Point]) -> Shape:
    pen = Pen(width_mm=2 * THICK_MM, stroke=INK)
    return "".join(line(a, b, pen) for a, b in pairwise(points))


def heading(at: Point, words: str, *, anchor: str = "middle") -> Shape:
    """The words over one part of a drawing."""
    return text(at, words, size_pt=LEAST_PT + 1, bold=True, anchor=anchor)


def seen_from(at: Point, words: str, *, anchor: str = "middle") -> Shape:
    """From where a drawing is seen, written in it: without that a turning arrow tells nothing."""
    return text(at, words, anchor=anchor, part="seen-from")


HEADED_MM = 8.0


def headed(words: str, shapes: Iterable[Shape]) -> Shape:
    """`shapes`, `HEADED_MM` lower, under a line that says from where they are seen."""
    return seen_from((PAGE_MM / 2, 4.0), words) + group(shapes, shift=(0.0, HEADED_MM))


def spread(places: Sequence[float], least: float) -> tuple[float, ...]:
    """Places along a line moved apart until neighbours, given in rising order, stand at least `least` apart."""
    if not places:
        return ()
    moved = list(places)
    for index in range(1, len(moved)):
        moved[index] = max(moved[index], moved[index - 1] + least)
    shift = sum(new - old for new, old in zip(moved, places, strict=True)) / len(moved)
    return tuple(place - shift for place in moved)
