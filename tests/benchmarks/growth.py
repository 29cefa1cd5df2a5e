"""The growth of the cost with the number of cards, drawn on two logarithmic scales."""

from __future__ import annotations

import math

_WIDE, _HIGH, _EDGE = 480, 320, 48
FAR = 10_000


def extrapolated(points: list[dict[str, float]], cards: float) -> float:
    """The CPU seconds of so many cards if each more costs what it cost between the last two points.

    Where noise hides that, since the last took no longer, each costs the mean of the last point.
    """
    before, last = points[-2:]
    each = (last["cpu_s"] - before["cpu_s"]) / (last["cards"] - before["cards"])
    if each <= 0:
        each = last["cpu_s"] / last["cards"]
    return last["cpu_s"] + each * (cards - last["cards"])


def growth_svg(points: list[dict[str, float]]) -> str:
    """Measured points, joined, and in dashes what is extrapolated; ten times the cards are as far apart everywhere."""
    far = {"cards": float(FAR), "cpu_s": extrapolated(points, FAR)}
    cards = [math.log10(point["cards"]) for point in (*points, far)]
    spent = [math.log10(point["cpu_s"]) for point in (*points, far)]
    low_x, high_x = math.floor(min(cards)), math.ceil(max(cards))
    low_y, high_y = math.floor(min(spent)), math.ceil(max(spent))

    def at(x: float, y: float) -> tuple[float, float]:
        across = _EDGE + (x - low_x) / max(high_x - low_x, 1) * (_WIDE - 2 * _EDGE)
        down = _HIGH - _EDGE - (y - low_y) / max(high_y - low_y, 1) * (_HIGH - 2 * _EDGE)
        return round(across, 1), round(down, 1)

    def text(x: float, y: float, words: str, anchor: str) -> str:
        return f'<text x="{x}" y="{y}" text-anchor="{anchor}" font-family="sans-serif" font-size="12">{words}</text>'

    parts = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDE} {_HIGH}">']
    parts.append("<title>CPU seconds of a cold build by the number of its cards</title>")
    for power in range(low_x, high_x + 1):
        x, bottom = at(power, low_y)
        parts.append(f'<path d="M{x} {bottom}V{at(power, high_y)[1]}" stroke="#ccc"/>')
        parts.append(text(x, bottom + 16, f"{10**power} cards", "middle"))
    for power in range(low_y, high_y + 1):
        left, y = at(low_x, power)
        parts.append(f'<path d="M{left} {y}H{at(high_x, power)[0]}" stroke="#ccc"/>')
        parts.append(text(left - 4, y + 4, f"{10.0**power:g} s", "end"))
    places = list(map(at, cards, spent))
    for joined, dashes in ((places[:-1], ""), (places[-2:], ' stroke-dasharray="6 4"')):
        line = " ".join(f"{x},{y}" for x, y in joined)
        parts.append(f'<polyline points="{line}" fill="none" stroke="black" stroke-width="2"{dashes}/>')
    parts += [f'<circle cx="{x}" cy="{y}" r="4"/>' for x, y in places[:-1]]
    parts.append(text(places[-1][0], places[-1][1] + 16, "extrapolated", "end"))
    return "\n".join([*parts, "</svg>", ""])
