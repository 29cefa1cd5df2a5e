"""Sprockets and chain as shapes: true pitch circles and pitches (ISO 9633), teeth of a plain workshop outline."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from builder.drawings.canvas import (
    BODY,
    CLOSE,
    INK,
    SOLID,
    THIN,
    WHITE,
    Pen,
    Point,
    Shape,
    arc_commands,
    bend,
    circle,
    move,
    path,
    round_at,
    sweep,
    to,
)
from builder.drawings.marks import along, beside, plus

PITCH_MM = 12.7  # ISO 9633
ROLLER_RADIUS_IN_PITCHES = 7.75 / 12.7 / 2  # ISO 9633: roller of 7.75 mm at most


def pitch_radius(teeth: int, pitch: float = PITCH_MM) -> float:
    """Radius of the pitch circle, `p / (2 sin(π/z))`, in the unit of `pitch`."""
    return pitch / (2 * math.sin(math.pi / teeth))


def teeth_path(centre: Point, teeth: int, pitch: float, *, phase_deg: float = 0.0, cut: float = 0.0) -> list[str]:
    """Path commands of a toothed outline; a roller sits at `phase_deg`. `cut` shortens the teeth, in pitches."""
    radius = pitch_radius(teeth, pitch)
    seat = ROLLER_RADIUS_IN_PITCHES * pitch
    tip_radius = radius + (0.27 - cut) * pitch
    half_tip = math.degrees(0.10 * pitch / tip_radius)
    step = 360.0 / teeth
    commands: list[str] = []
    for tooth in range(teeth):
        angle = phase_deg + tooth * step
        roller = round_at(centre, radius, angle)
        start = round_at(roller, seat, angle + 180 + 78)
        end = round_at(roller, seat, angle + 180 - 78)
        commands.append(to(start) if commands else move(start))
        commands.append(sweep(seat, end, clockwise=False))
        commands.append(to(round_at(centre, tip_radius, angle + step / 2 - half_tip)))
        commands.append(to(round_at(centre, tip_radius, angle + step / 2 + half_tip)))
    return [*commands, CLOSE]


def sprocket(
    centre: Point, teeth: int, pitch: float, *, phase_deg: float = 0.0, pen: Pen = BODY, bore: float = 0.0
) -> Shape:
    """A sprocket from its side, with an open centre of radius `bore` if there is one."""
    commands = teeth_path(centre, teeth, pitch, phase_deg=phase_deg)
    if bore:
        commands += [*arc_commands(centre, bore, 0, 180), *arc_commands(centre, bore, 180, 360, joined=True), CLOSE]
    return path(commands, pen, "sprocket", holes=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenLoop:
    """A loop laid tightly round two circles: its straight runs, the arcs round each, and its length.

    `lean_deg` is how far the upper run turns from the line of centres, counted towards the larger circle's outside.
    """

    left: Point
    right: Point
    left_radius: float
    right_radius: float
    lean_deg: float
    run: float
    length: float

    def point(self, distance: float) -> Point:
        """The point `distance` along the loop, clockwise from where the upper run leaves the left circle."""
        lean = math.radians(self.lean_deg)
        right_arc = self.right_radius * (math.pi + 2 * lean)
        rest = distance % self.length
        top_left = round_at(self.left, self.left_radius, -90 - self.lean_deg)
        top_right = round_at(self.right, self.right_radius, -90 - self.lean_deg)
        if rest <= self.run:
            return along(top_left, top_right, rest)
        rest -= self.run
        if rest <= right_arc:
            return round_at(self.right, self.right_radius, -90 - self.lean_deg + math.degrees(rest / self.right_radius))
        rest -= right_arc
        if rest <= self.run:
            low_right = round_at(self.right, self.right_radius, 90 + self.lean_deg)
            low_left = round_at(self.left, self.left_radius, 90 + self.lean_deg)
            return along(low_right, low_left, rest)
        rest -= self.run
        return round_at(self.left, self.left_radius, 90 + self.lean_deg + math.degrees(rest / self.left_radius))


def open_loop(left: Point, right: Point, left_radius: float, right_radius: float) -> OpenLoop:
    """The open loop round two level circles, `2 C cos α + π (R + r) + 2 α (R − r)` with `sin α = (R − r) / C`."""
    centres = math.dist(left, right)
    lean = math.asin((right_radius - left_radius) / centres)
    run = centres * math.cos(lean)
    length = 2 * run + right_radius * (math.pi + 2 * lean) + left_radius * (math.pi - 2 * lean)
    return OpenLoop(
        left=left,
        right=right,
        left_radius=left_radius,
        right_radius=right_radius,
        lean_deg=math.degrees(lean),
        run=run,
        length=length,
    )


def chain(
    pins: Sequence[Point], *, colour: str = INK, fill: str = WHITE, part: str = "chain", first_outer: bool = True
) -> Shape:
    """A chain seen from its side and small: a pin at each point, outer and inner links in turn."""
    pitch = math.dist(pins[0], pins[1])

    def pairs(odd: int) -> Iterator[str]:
        for index in range(odd, len(pins) - 1, 2):
            yield move(pins[index])
            yield to(pins[index + 1])

    outer, inner = list(pairs(0 if first_outer else 1)), list(pairs(1 if first_outer else 0))
    shapes = []
    for commands, width in ((inner, 0.62 * pitch), (outer, 0.82 * pitch)):
        if commands:
            shapes.append(path(commands, Pen(width_mm=width, stroke=colour)))
            shapes.append(path(commands, Pen(width_mm=width - 0.4, stroke=fill)))
    radius = 0.14 * pitch
    dots = [
        command
        for pin in pins
        for command in (
            *arc_commands(pin, radius, 0, 180),
            *arc_commands(pin, radius, 180, 360, joined=True),
            CLOSE,
        )
    ]
    shapes.append(path(dots, SOLID.filled(colour if fill == WHITE else WHITE), part))
    return "".join(shapes)


def link_plate(start: Point, end: Point, radius: float, pen: Pen = BODY, part: str = "") -> Shape:
    """One side plate of a link, large: two round ends with a waist between."""
    angle = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
    pitch = math.dist(start, end)
    aside = beside(start, end, 0.62 * radius)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    lower, upper = plus(middle, aside), plus(middle, (-aside[0], -aside[1]))
    open_deg = 48.0
    a1, a2 = round_at(start, radius, angle + open_deg), round_at(start, radius, angle - open_deg)
    b1, b2 = round_at(end, radius, angle + 180 + open_deg), round_at(end, radius, angle + 180 - open_deg)
    lead = 0.16 * pitch
    commands = [
        move(a1),
        sweep(radius, a2, long=True),
        bend(_ahead(a2, angle, lead), _ahead(upper, angle, -lead), upper),
        bend(_ahead(upper, angle, lead), _ahead(b1, angle, -lead), b1),
        sweep(radius, b2, long=True),
        bend(_ahead(b2, angle, -lead), _ahead(lower, angle, lead), lower),
        bend(_ahead(lower, angle, -lead), _ahead(a1, angle, lead), a1),
        CLOSE,
    ]
    return path(commands, pen, part)


def _ahead(point: Point, angle_deg: float, distance: float) -> Point:
    return round_at(point, distance, angle_deg)


def roller(centre: Point, radius: float) -> Shape:
    """A roller on its bush, seen from its end."""
    return circle(centre, radius, Pen(fill=WHITE)) + circle(centre, 0.62 * radius, THIN)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """A wheel that a chain runs round, clockwise as seen or the other way."""

    centre: Point
    radius: float
    clockwise: bool = True


def route(start: Point, turns: Sequence[Turn], end: Point, pitch: float) -> list[Point]:
    """Pins of a chain from `start` round each wheel in turn to `end`, tight, one each `pitch`.

    Between two wheels runs their common tangent: outer where both turn the same way, crossing where they do not.
    """
    stops = [Turn(centre=start, radius=0.0), *turns, Turn(centre=end, radius=0.0)]
    lines = [_tangent(one, other) for one, other in pairwise(stops)]
    fine: list[Point] = [lines[0][0]]
    for index, turn in enumerate(turns):
        arrive, leave = lines[index][1], lines[index + 1][0]
        begin, finish = _angle(turn.centre, arrive), _angle(turn.centre, leave)
        swept = (finish - begin) % 360 if turn.clockwise else -((begin - finish) % 360)
        steps = max(2, round(abs(swept) / 2))
        fine += [round_at(turn.centre, turn.radius, begin + swept * step / steps) for step in range(steps + 1)]
    fine.append(lines[-1][1])
    return _every(fine, pitch)


def _angle(centre: Point, point: Point) -> float:
    return math.degrees(math.atan2(point[1] - centre[1], point[0] - centre[0]))


def _tangent(one: Turn, other: Turn) -> tuple[Point, Point]:
    """Where the straight run leaves one wheel and meets the next; a wheel that turns clockwise lies to its right."""
    signed_one = one.radius if one.clockwise else -one.radius
    signed_other = other.radius if other.clockwise else -other.radius
    centres = math.dist(one.centre, other.centre)
    aside = signed_other - signed_one
    way = _angle(one.centre, other.centre) - math.degrees(math.asin(aside / centres))
    square = way - 90
    return round_at(one.centre, signed_one, square), round_at(other.centre, signed_other, square)


def _every(points: Sequence[Point], pitch: float) -> list[Point]:
    """Points one `pitch` apart along a polyline."""
    found = [points[0]]
    left = pitch
    for a, b in pairwise(points):
        length, done = math.dist(a, b), 0.0
        while length - done >= left:
            done += left
            found.append(along(a, b, done))
            left = pitch
        left -= length - done
    return found
