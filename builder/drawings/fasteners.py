"""Bolts, nuts, threads and springs as shapes, seen from the head or from the side."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    BODY,
    DETAIL,
    SHADE,
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

THREAD_LEAN = 0.16


def hexagon(centre: Point, radius: float, pen: Pen, *, turn_deg: float = 0.0, part: str = "") -> Shape:
    """A regular hexagon with its corners on `radius`."""
    return polygon([round_at(centre, radius, turn_deg + 60 * corner) for corner in range(6)], pen, part)


def socket_head(centre: Point, radius: float, *, turn_deg: float = 0.0, part: str = "bolt") -> Shape:
    """The head of a bolt with a hexagon socket, from the front."""
    return circle(centre, radius, BODY, part) + hexagon(centre, 0.55 * radius, Pen(fill=SHADE), turn_deg=turn_deg)


def nut_head(centre: Point, radius: float, *, bore: float = 0.0, turn_deg: float = 0.0) -> Shape:
    """A hexagon nut from the front, with its bore."""
    shapes = hexagon(centre, radius, BODY, turn_deg=turn_deg) + circle(centre, 0.84 * radius)
    return shapes + (circle(centre, bore, Pen(fill=SHADE)) if bore else "")


def thread(start: Point, length: float, radius: float, *, left_hand: bool = False, pitch: float = 1.5) -> Shape:
    """A level length of thread from its left end; the lines lean the way that the thread runs.

    A right-hand thread whose axis is level leans from upper left to lower right.
    """
    x, y = start
    lean = THREAD_LEAN * 2 * radius * (-1 if left_hand else 1)
    shapes = [box((x, y - radius), length, 2 * radius, DETAIL)]
    count = math.floor(length / pitch)
    for index in range(1, count + 1):
        middle = x + (index - 0.5) * length / count
        half = min(abs(lean) / 2, middle - x, x + length - middle) * (1 if lean > 0 else -1)
        shapes.append(line((middle - half, y - radius), (middle + half, y + radius), part="thread"))
    return "".join(shapes)


def upright_thread(start: Point, length: float, radius: float, *, pitch: float = 1.5) -> Shape:
    """An upright length of right-hand thread from its upper end."""
    x, y = start
    lean = THREAD_LEAN * 2 * radius
    shapes = [box((x - radius, y), 2 * radius, length, DETAIL)]
    count = math.floor(length / pitch)
    for index in range(1, count + 1):
        middle = y + (index - 0.5) * length / count
        half = min(lean / 2, middle - y, y + length - middle)
        shapes.append(line((x - radius, middle + half), (x + radius, middle - half)))
    return "".join(shapes)


def cone_spring(small: Point, large: Point, small_radius: float, large_radius: float, *, turns: int = 4) -> Shape:
    """A level conical spring from its small end to its large end, from the side."""
    shapes = []
    points = []
    for index in range(2 * turns + 1):
        share = index / (2 * turns)
        radius = small_radius + (large_radius - small_radius) * share
        x = small[0] + (large[0] - small[0]) * share
        points.append((x, small[1] + (radius if index % 2 else -radius)))
    shapes.append(polyline(points, Pen(width_mm=0.7), "spring"))
    return "".join(shapes)
