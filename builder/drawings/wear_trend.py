"""Wear measured on several days against its limit: the line through the points, and how sure it is."""

from __future__ import annotations

import math
from datetime import date, timedelta

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
from builder.drawings.marks import heading
from builder.drawings.subject import DrawingError, Given, Need, Subject
from builder.drawings.trend import Trend, fit
from builder.model.units import write_number

_NAME = "wear-trend"
_LEFT, _RIGHT, _TOP, _BOTTOM = 14.0, PAGE_MM - 3.0, 9.0, 58.0
_STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)


def _step(span: float, most: int) -> float:
    return next((step for step in _STEPS if span / step <= most), _STEPS[-1] * math.ceil(span / _STEPS[-1] / most))


def _reach(trend: Trend, limit: float, last: float, furthest: float) -> tuple[float | None, float | None, float | None]:
    """The day on which the line meets the limit, and the earliest and latest day of its band up to `furthest`."""
    day = trend.reaches(limit)
    if day is None or day <= last:
        return day, None, None
    rising = trend.slope > 0
    early = late = None
    for index in range(401):
        x = last + (furthest - last) * index / 400
        near = trend.at(x) + (trend.half_band(x) if rising else -trend.half_band(x))
        far = trend.at(x) - (trend.half_band(x) if rising else -trend.half_band(x))
        if early is None and (near >= limit) == rising and (near - limit) * (1 if rising else -1) >= 0:
            early = x
        if late is None and (far - limit) * (1 if rising else -1) >= 0:
            late = x
    return day, early, late


def _make(given: Given) -> Drawing:
    days, values, limit = given.row("days"), given.row("values"), given.number("limit")
    unit, first = given.word("unit"), given.word("first")
    if len(days) != len(values):
        raise DrawingError(
            f"drawing '{_NAME}': {len(days)} days and {len(values)} values; it needs a value for each day"
        )
    if any(later <= earlier for earlier, later in zip(days, days[1:], strict=False)):
        raise DrawingError(
            f"drawing '{_NAME}': the days are not in rising order; it needs each later than the one before"
        )
    trend = fit(days, values)
    last, begin = days[-1], days[0]
    span = max(last - begin, 1.0)
    meets = trend.reaches(limit)
    ahead = meets is not None and last < meets <= last + 4 * span
    furthest = (meets + 0.25 * (meets - begin)) if ahead and meets is not None else last + 0.4 * span
    meets, early, late = _reach(trend, limit, last, furthest)
    low, high = min((*values, limit)), max((*values, limit))
    margin = 0.12 * (high - low or abs(high) or 1.0)
    low, high = low - margin, high + margin
    if low < 0 <= min((*values, limit)):
        low = 0.0

    def place(day: float, value: float) -> Point:
        x = _LEFT + (_RIGHT - _LEFT) * (day - begin) / (furthest - begin)
        return x, _BOTTOM - (_BOTTOM - _TOP) * (min(max(value, low), high) - low) / (high - low)

    shapes: list[Shape] = []
    marks = [begin + (furthest - begin) * index / 40 for index in range(41)]
    if trend.has_band:
        upper = [place(day, trend.at(day) + trend.half_band(day)) for day in marks]
        lower = [place(day, trend.at(day) - trend.half_band(day)) for day in reversed(marks)]
        shapes.append(polygon((*upper, *lower), Pen(stroke="none", width_mm=0, fill=TINT), "band"))
    shapes += _axes(
        low,
        high,
        begin,
        furthest,
        first,
        unit,
        place_x=lambda day: place(day, low)[0],
        place_y=lambda value: place(begin, value)[1],
    )
    fitted = [day for day in marks if low <= trend.at(day) <= high]
    shapes.append(line(place(begin, limit), place(furthest, limit), Pen(width_mm=0.7, dash_mm=(2.4, 1.2)), "limit"))
    if len(fitted) > 1:
        ends = place(fitted[0], trend.at(fitted[0])), place(fitted[-1], trend.at(fitted[-1]))
        shapes.append(line(*ends, Pen(width_mm=0.7, stroke=ACCENT), "fitted"))
    shapes += [circle(place(day, value), 1.3, Pen(fill=INK), "point") for day, value in zip(days, values, strict=True)]
    label = f"limit {write_number(limit, 2)} {unit}".strip()
    above = place(begin, limit)[1] - 3.0
    shapes.append(
        text((_LEFT + 1.5, above if above > _TOP - 2 else above + 6.0), label, anchor="start", bold=True, plate=True)
    )
    words = _answer(trend, limit, values[-1], meets if ahead else None, early, late, first, begin, beyond=bool(ahead))
    shapes.append(heading((PAGE_MM / 2, 3.6), words[0]))
    shapes.append(text((PAGE_MM / 2, _BOTTOM + 12.6), words[1]))
    return Drawing(
        name=_NAME,
        title=f"Wear against the limit of {write_number(limit, 2)} {unit}".strip(),
        description=(
            f"{len(days)} measured points over {write_number(span, 0)} days, the straight line through them, its 95 % "
            f"band and the limit. {words[0].capitalize()}; {words[1]}."
        ),
        width_mm=PAGE_MM,
        height_mm=_BOTTOM + 15.5,
        body="".join(shapes),
    )


def _told(day: float, first: str, begin: float) -> str:
    """A day as a date, or as a number of days where no first date is given."""
    if first:
        return (date.fromisoformat(first) + timedelta(days=round(day - begin))).isoformat()
    return f"day {write_number(day, 0)}"


def _answer(
    trend: Trend,
    limit: float,
    latest: float,
    meets: float | None,
    early: float | None,
    late: float | None,
    first: str,
    begin: float,
    *,
    beyond: bool,
) -> tuple[str, str]:
    """The two lines of words: when the limit is met, and how sure that is."""
    rising = trend.slope > 0
    if (latest >= limit) if rising else (trend.slope < 0 and latest <= limit):
        return "the limit is reached", "replace the part now"
    if meets is None:
        return "the limit is not in sight", "measure again later"
    when = f"limit reached about {_told(meets, first, begin)}"
    if not trend.has_band:
        return when, "two points can't tell how sure that is"
    start = _told(early, first, begin) if early is not None else "now"
    end = _told(late, first, begin) if late is not None else "much later"
    return when, f"likely between {start} and {end}"


def _axes(low, high, begin, furthest, first, unit, *, place_x, place_y):  # type: ignore[no-untyped-def]
    shapes: list[Shape] = [
        line((_LEFT, _TOP), (_LEFT, _BOTTOM), THICK),
        line((_LEFT, _BOTTOM), (_RIGHT, _BOTTOM), THICK),
        text((0.8, _TOP - 0.6), unit, anchor="start") if unit else "",
    ]
    step = _step(high - low, 6)
    tick = math.ceil(low / step - 1e-9) * step
    while tick <= high + 1e-9:
        y = place_y(tick)
        shapes.append(line((_LEFT - 1.6, y), (_LEFT, y), THICK))
        if y > _TOP + 2.5:
            shapes.append(text((_LEFT - 2.4, y), write_number(tick, 2), anchor="end"))
        tick += step
    step = _step(furthest - begin, 4)
    day = begin
    while day <= furthest + 1e-9:
        x = place_x(day)
        shapes.append(line((x, _BOTTOM), (x, _BOTTOM + 1.6), THICK))
        words = _told(day, first, begin) if first else write_number(day, 0)
        anchor = "start" if day == begin else "middle"
        wide = 24.0 if first else 12.0
        if x + wide / 2 < PAGE_MM and (day == begin or x - wide / 2 > _LEFT + wide * 0.6):
            shapes.append(text((x if day != begin else max(x - 6, 0.8), _BOTTOM + 5.4), words, anchor=anchor))
        day += step
    return shapes


SUBJECT = Subject(
    name=_NAME,
    words="how fast a part wears, and when its limit is reached",
    make=_make,
    needs=(
        Need(name="days", words="days of the measurements", many=2, most=20, low=0, high=20000),
        Need(name="values", words="what was measured on each", many=2, most=20, low=-1000, high=10000),
        Need(name="limit", words="where the part is replaced", low=-1000, high=10000),
        Need(name="unit", words="of the values", default="%", choices=("%", "mm")),
        Need(name="first", words="date of the first measurement", default="", date=True),
    ),
)
