"""Rim, tyre and brake pad cut across, as shapes that several drawings share."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    BODY,
    CLOSE,
    SHADE,
    TINT,
    Pen,
    Point,
    Shape,
    bend,
    circle,
    move,
    path,
    sweep,
    to,
)


def rim_section(seat: Point, inner: float, scale: float = 1.0) -> Shape:
    """A rim cut across, tyre side up; `seat` is the middle between its bead seats, `inner` the width inside.

    Walls, hooks and well are a plain shape of 1.6 mm walls, made larger or smaller by `scale`.
    """
    x, y = seat
    half, wall, hook, well, deep = inner / 2, 1.7 * scale, 5.6 * scale, 2.6 * scale, 11.0 * scale
    nose = 0.9 * scale

    def at(across: float, down: float, way: int) -> Point:
        return (x + way * across, y + down)

    outer = half + wall
    floor = max(half - 3.6 * scale, 0.35 * half)
    right = (
        at(half - nose, -hook, 1),
        at(half - nose, -hook + 1.4 * scale, 1),
        at(half, -hook + 2.2 * scale, 1),
        at(half, 0.0, 1),
        at(floor + 1.2 * scale, 0.0, 1),
        at(floor, well, 1),
    )
    left = tuple(at(point[0] - x, point[1] - y, -1) for point in reversed(right))
    outline = (
        move(at(half + 0.4 * scale, -hook, 1)),
        sweep(0.9 * scale, at(outer, -hook + 1.0 * scale, 1)),
        to(at(outer, 1.5 * scale, 1)),
        bend(at(outer, 6.0 * scale, 1), at(0.35 * half + 3.0 * scale, deep, 1), at(0.0, deep, 1)),
        bend(at(0.35 * half + 3.0 * scale, deep, -1), at(outer, 6.0 * scale, -1), at(outer, 1.5 * scale, -1)),
        to(at(outer, -hook + 1.0 * scale, -1)),
        sweep(0.9 * scale, at(half + 0.4 * scale, -hook, -1)),
        *(to(point) for point in reversed(left)),
        *(to(point) for point in reversed(right)),
        CLOSE,
    )
    hollow_top = well + 1.9 * scale
    hollow = (
        move(at(floor, hollow_top, 1)),
        to(at(half - 0.3 * scale, hollow_top - 1.2 * scale, 1)),
        bend(
            at(half - 0.6 * scale, 6.0 * scale, 1),
            at(0.3 * half + 2.0 * scale, deep - 1.9 * scale, 1),
            at(0.0, deep - 1.9 * scale, 1),
        ),
        bend(
            at(0.3 * half + 2.0 * scale, deep - 1.9 * scale, -1),
            at(half - 0.6 * scale, 6.0 * scale, -1),
            at(half - 0.3 * scale, hollow_top - 1.2 * scale, -1),
        ),
        to(at(floor, hollow_top, -1)),
        CLOSE,
    )
    return path(outline, BODY.filled(SHADE), "rim") + path(hollow, Pen(width_mm=0.5, fill="#ffffff"))


def tyre_section(seat: Point, inner: float, width: float, scale: float = 1.0) -> tuple[Shape, Point, float]:
    """A tyre on a rim cut across, with the centre and radius of its outside circle.

    A tyre is drawn as a circle of its width that stands on its two beads; one narrower than the rim is widened to it.
    """
    x, y = seat
    bead = 1.9 * scale
    thick = 1.6 * scale
    foot = inner / 2 - bead * 0.75
    radius = max(width / 2, 1.02 * (inner / 2))
    centre = (x, y - bead - math.sqrt(max(radius**2 - foot**2, 0.0)))
    inside = radius - thick
    low = y - bead

    def foot_at(way: int, across: float) -> Point:
        return (x + way * across, low)

    outline = (
        move(foot_at(-1, foot + thick / 2)),
        sweep(radius, foot_at(1, foot + thick / 2), long=radius > foot, clockwise=True),
        to(foot_at(1, foot - thick / 2)),
        sweep(inside, foot_at(-1, foot - thick / 2), long=inside > foot, clockwise=False),
        CLOSE,
    )
    beads = "".join(circle((x + way * foot, y - bead), bead, Pen(width_mm=0.7, fill=SHADE), "bead") for way in (-1, 1))
    return path(outline, BODY.filled(TINT), "tyre") + beads, centre, radius
