"""A climb: its gradient to scale, the cadence before and after a change, and what the rider's power goes into."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    PAGE_MM,
    SHADE,
    THICK,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    box,
    line,
    polygon,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.model.units import Unit, write_number

_NAME = "hill"
_LEFT, _RIGHT = 3.0, PAGE_MM - 16.0
_BAR_LEFT = 27.0
_BAR_RIGHT = PAGE_MM - 22.0
_BAR = 4.6
_ROW = 6.4
_POWERS = (("gravity", "climbing"), ("rolling", "rolling"), ("air", "air"), ("losses", "losses"))


def _slope(gradient: float) -> tuple[Shape, float]:
    rise = (_RIGHT - _LEFT) * gradient / 100
    ground = max(rise + 3.0, 8.0)
    foot, corner, crest = (_LEFT, ground), (_RIGHT, ground), (_RIGHT, ground - rise)
    shapes = (
        polygon((foot, corner, crest), Pen(width_mm=0.7, fill=TINT), "slope"),
        text(((_LEFT + _RIGHT) / 2, ground + 3.2), f"{write_number(gradient)} up for 100 along"),
        _value((PAGE_MM - 0.6, min(ground - rise / 2, ground - 1.0)), f"{write_number(gradient)} %"),
    )
    return "".join(shapes), ground + 6.0


def _value(at: Point, words: str) -> Shape:
    return text(at, words, size_pt=12, anchor="end", bold=True)


def _make(arguments: Arguments) -> Drawing:
    gradient = arguments.number("gradient")
    cadences = (("before", arguments.number("cadence-before")), ("after", arguments.number("cadence-after")))
    least = arguments.number("cadence-least")
    shown = [(words, value) for words, value in cadences if value > 0]
    powers = [(words, arguments.number(name)) for name, words in _POWERS if arguments.number(name) > 0]
    slope, y = _slope(gradient)
    shapes = [slope]
    if shown:
        longest = 1.15 * max(*(value for _, value in shown), least)

        def cadence_x(value: float) -> float:
            return _BAR_LEFT + (_BAR_RIGHT - _BAR_LEFT) * value / longest

        shapes.append(text((0.6, y + 2.6), "cadence, turns of the crank in a minute", anchor="start", bold=True))
        top = y + 6.0
        for words, value in shown:
            y_bar = top + (_ROW - _BAR) / 2
            fill = ACCENT if words == "after" else SHADE
            shapes.append(text((_BAR_LEFT - 2, top + _ROW / 2), words, anchor="end"))
            length = cadence_x(value) - _BAR_LEFT
            shapes.append(box((_BAR_LEFT, y_bar), length, _BAR, Pen(fill=fill), part=f"cadence-{words}"))
            shapes.append(_value((PAGE_MM - 0.6, top + _ROW / 2), write_number(value, 0)))
            top += _ROW
        if least > 0:
            x = cadence_x(least)
            shapes.append(line((x, y + 5.4), (x, top + 1.2), Pen(width_mm=0.7, dash_mm=(1.6, 1.0)), "cadence-least"))
            shapes.append(text((x, top + 3.6), f"at least {write_number(least, 0)}"))
            top += 6.0
        y = top + 2.0
    if powers:
        total = sum(value for _, value in powers)
        shapes.append(text((0.6, y + 2.6), "where the power goes, watts", anchor="start", bold=True))
        top = y + 6.0
        for words, value in powers:
            y_bar = top + (_ROW - _BAR) / 2
            length = (_BAR_RIGHT - _BAR_LEFT) * value / max(value for _, value in powers)
            shapes.append(text((_BAR_LEFT - 2, top + _ROW / 2), words, anchor="end"))
            shapes.append(box((_BAR_LEFT, y_bar), length, _BAR, Pen(fill=SHADE), part=f"power-{words}"))
            shapes.append(_value((PAGE_MM - 0.6, top + _ROW / 2), write_number(value, 0)))
            top += _ROW
        shapes.append(line((PAGE_MM - 16, top + 0.2), (PAGE_MM - 0.6, top + 0.2), THICK))
        shapes.append(text((_BAR_LEFT - 2, top + _ROW / 2), "in all", anchor="end"))
        shapes.append(_value((PAGE_MM - 0.6, top + _ROW / 2), write_number(total, 0)))
        y = top + _ROW
    told = " and ".join(f"{write_number(value, 0)} {words}" for words, value in shown)
    spent = ", ".join(f"{words} {write_number(value, 0)}" for words, value in powers)
    return Drawing(
        name=_NAME,
        title=f"A climb of {write_number(gradient)} %",
        description=(
            f"The slope is drawn to scale: {write_number(gradient)} of height to 100 of way."
            + (f" Cadence in turns a minute: {told}, at least {write_number(least, 0)} wanted." if shown else "")
            + (f" Power in watts: {spent}." if powers else "")
        ),
        width_mm=PAGE_MM,
        height_mm=y + 1.0,
        body="".join(shapes),
    )


def _watts(name: str, words: str) -> Parameter:
    return Parameter(name=name, words=words, unit=Unit.WATT, default=0, low=0, high=5000)


def _cadence(name: str, words: str, default: float) -> Parameter:
    return Parameter(name=name, words=words, unit=Unit.PER_MINUTE, default=default, low=0, high=250)


DRAWING = DrawingKind(
    name=_NAME,
    words="what a climb asks, before and after a change of gears",
    make=_make,
    parameters=(
        Parameter(name="gradient", words="height gained for 100 of way", unit=Unit.PERCENT, low=0.1, high=45),
        _cadence("cadence-before", "in the lowest gear, before", 0),
        _cadence("cadence-after", "in the lowest gear, after", 0),
        _cadence("cadence-least", "what the rider can turn at least", 60),
        _watts("gravity", "power to climb"),
        _watts("rolling", "power against rolling resistance"),
        _watts("air", "power against the air"),
        _watts("losses", "power lost in bearings and chain"),
    ),
)
