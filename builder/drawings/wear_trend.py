"""Wear measured on several days against its limit: the line through the points, and how sure it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from builder.checks.trend import AHEAD, Trend, fit
from builder.drawings.canvas import (
    ACCENT,
    INK,
    PAGE_MM,
    THICK,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    circle,
    line,
    polygon,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter
from builder.drawings.marks import heading
from builder.model.units import write_number

_NAME = "wear-trend"
_LEFT, _RIGHT, _TOP, _BOTTOM = 14.0, PAGE_MM - 3.0, 12.0, 60.0
_USUAL_WEAR = {"%": "grows", "mm": "shrinks"}  # a chain grows longer, a pad and a rotor thinner
_LONG_MM, _SHORT_MM = 24.0, 11.0  # room for a date and for a number under the axis


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """The field of the chart: days from left to right, values from bottom to top; `first` is the date of day one."""

    begin: float
    end: float
    low: float
    high: float
    first: str

    def x(self, day: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (day - self.begin) / (self.end - self.begin)

    def at(self, day: float, value: float) -> Point:
        """A place in the field; a value outside it stands on its edge."""
        inside = min(max(value, self.low), self.high)
        return self.x(day), _BOTTOM - (_BOTTOM - _TOP) * (inside - self.low) / (self.high - self.low)

    def told(self, day: float) -> str:
        """A day as a date, or as a number of days where no first date is given."""
        if not self.first:
            return f"day {write_number(day, 0)}"
        try:
            return (date.fromisoformat(self.first) + timedelta(days=round(day - self.begin))).isoformat()
        except OverflowError:
            return "the far future"


def _step(span: float, most: int) -> float:
    """A round step that gives at most `most` of them in `span`."""
    power = 10.0 ** math.floor(math.log10(span / most))
    return next(power * factor for factor in (1, 2, 5, 10) if span / (power * factor) <= most + 1e-9)


def _frame(trend: Trend, days: tuple[float, ...], values: tuple[float, ...], limit: float, first: str) -> _Frame:
    begin, last = days[0], days[-1]
    span = last - begin
    meets = trend.reaches(limit)
    in_sight = meets is not None and last < meets <= last + AHEAD * span
    end = meets + 0.25 * (meets - begin) if in_sight and meets is not None else last + 0.4 * span
    least, most = min((*values, limit)), max((*values, limit))
    level = most - least < 1e-6 * max(1.0, abs(most))
    margin = (0.1 * abs(most) or 1.0) if level else 0.14 * (most - least)
    low = 0.0 if 0 <= least < margin else least - margin
    return _Frame(begin=begin, end=end, low=low, high=most + margin, first=first)


def _axes(frame: _Frame, days: tuple[float, ...], unit: str) -> Shape:
    shapes = [
        line((_LEFT, _TOP), (_LEFT, _BOTTOM), THICK),
        line((_LEFT, _BOTTOM), (_RIGHT, _BOTTOM), THICK, "axis"),
        text((1.0, _TOP - 3.0), unit, anchor="start"),
    ]
    step = _step(frame.high - frame.low, 5)
    first_tick, last_tick = math.ceil(frame.low / step - 1e-9), math.floor(frame.high / step + 1e-9)
    places = max(0, -math.floor(math.log10(step)))
    for index in range(first_tick, last_tick + 1):
        x, y = frame.at(frame.begin, index * step)
        shapes.append(line((x - 1.6, y), (x, y), THICK))
        if _TOP + 2.0 < y < _BOTTOM - 1.0 or y == _BOTTOM:
            shapes.append(text((x - 2.4, y), write_number(index * step, places), anchor="end"))
    if frame.first:
        marks, room = list(days), _LONG_MM
    else:
        step = _step(frame.end - frame.begin, 5)
        steps = range(math.ceil(frame.begin / step), math.floor(frame.end / step) + 1)
        marks, room = [index * step for index in steps], _SHORT_MM
    taken: list[float] = []
    for day in (marks[0], marks[-1], *marks[1:-1]):  # the first and the last are told before any between them
        x = frame.x(day)
        shapes.append(line((x, _BOTTOM), (x, _BOTTOM + 1.6), THICK))
        centre = max(x, room / 2)
        if all(abs(centre - other) >= room for other in taken) and centre + room / 2 <= PAGE_MM:
            words = frame.told(day) if frame.first else write_number(day, 0)
            shapes.append(text((centre, _BOTTOM + 4.8), words))
            taken.append(centre)
    return "".join(shapes)


def _answer(trend: Trend, frame: _Frame, limit: float, latest: float, last: float, *, shrinks: bool) -> tuple[str, str]:
    """Two lines of words: when the limit is met, and how sure that is."""
    if (latest <= limit) if shrinks else (latest >= limit):
        return "the limit is reached", "replace the part now"
    meets = trend.foreseen(limit, frame.begin, last, grows=not shrinks)
    if meets is None:
        return "the limit is not in sight", "measure again later"
    when = f"limit reached about {frame.told(meets)}"
    if not trend.has_band:
        return when, "two points do not show how sure that is"
    early, late = trend.window(limit)
    start = frame.told(early) if early is not None and early > last else "now"
    if late is None:
        return when, f"from {start} on: too few points to say more"
    return when, f"likely between {start} and {frame.told(late)}"


def _make(arguments: Arguments) -> Drawing:
    days, values, limit = arguments.row("days"), arguments.row("values"), arguments.number("limit")
    unit, first = arguments.word("unit"), arguments.word("first")
    if len(days) != len(values):
        raise DrawingError(
            f"drawing '{_NAME}': {len(days)} days and {len(values)} values; it needs one value for each day"
        )
    if any(later <= earlier for earlier, later in pairwise(days)):
        raise DrawingError(f"drawing '{_NAME}': the days do not rise; it needs each day later than the one before")
    trend = fit(days, values, arguments.number("error"))
    frame = _frame(trend, days, values, limit, first)
    marks = [frame.begin + (frame.end - frame.begin) * index / 40 for index in range(41)]
    shapes: list[Shape] = []
    if trend.has_band:
        upper = [frame.at(day, trend.at(day) + trend.half_band(day)) for day in marks]
        lower = [frame.at(day, trend.at(day) - trend.half_band(day)) for day in reversed(marks)]
        shapes.append(polygon((*upper, *lower), Pen(stroke="none", width_mm=0, fill=TINT), "band"))
    shapes.append(_axes(frame, days, unit))
    limit_left = frame.at(frame.begin, limit)
    shapes.append(line(limit_left, frame.at(frame.end, limit), Pen(width_mm=0.7, dash_mm=(2.4, 1.6)), "limit"))
    shown = [day for day in marks if frame.low <= trend.at(day) <= frame.high]
    if len(shown) > 1:
        start, end = (frame.at(day, trend.at(day)) for day in (shown[0], shown[-1]))
        shapes.append(line(start, end, Pen(width_mm=0.9, stroke=ACCENT), "fitted"))
    shapes += [circle(frame.at(*pair), 1.3, Pen(fill=INK), "point") for pair in zip(days, values, strict=True)]
    label = f"limit {write_number(limit, 2)} {unit}"
    shrinks = (arguments.word("wear") or _USUAL_WEAR[unit]) == "shrinks"
    # On the side of sound values the line of the time axis is always farther away than the words are high.
    shapes.append(
        text(
            (limit_left[0] + 2.0, limit_left[1] + (-3.2 if shrinks else 3.2)),
            label,
            anchor="start",
            bold=True,
            part="limit-words",
        )
    )
    when, sure = _answer(trend, frame, limit, values[-1], days[-1], shrinks=shrinks)
    shapes.append(heading((PAGE_MM / 2, 3.6), when))
    shapes.append(text((PAGE_MM / 2, _BOTTOM + 11.0), sure))
    return Drawing(
        name=_NAME,
        title=f"Wear against the limit of {write_number(limit, 2)} {unit}",
        description=(
            f"{len(days)} measured points over {write_number(days[-1] - days[0], 0)} days, the straight line through "
            f"them{', its 95 % band' if trend.has_band else ''} and the limit. In words: {when}; {sure}."
        ),
        width_mm=PAGE_MM,
        height_mm=_BOTTOM + 14.0,
        body="".join(shapes),
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how fast a part wears, and when its limit is reached",
    make=_make,
    parameters=(
        Parameter(name="days", words="days of the measurements", whole=True, many=2, most=20, low=0, high=20000),
        Parameter(name="values", words="what was measured on each", many=2, most=20, low=-1000, high=10000),
        Parameter(name="limit", words="where the part is replaced", low=-1000, high=10000),
        Parameter(name="unit", words="of the values", default="%", choices=("%", "mm")),
        Parameter(
            name="wear",
            words="whether the value grows or shrinks; by the unit if not given",
            default="",
            choices=("", "grows", "shrinks"),
        ),
        Parameter(name="error", words="standard error of one reading", default=0.0, low=0, high=100),
        Parameter(name="first", words="date of the first measurement", default="", date=True),
    ),
)
