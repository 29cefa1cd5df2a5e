"""The gears before and after a change, on a logarithmic axis of development: equal steps look equal."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    HIDDEN,
    PAGE_MM,
    THICK,
    Drawing,
    Pen,
    Shape,
    circle,
    line,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import dimension
from builder.model.units import Unit, write_number

_NAME = "gear-chart"
_LEFT, _RIGHT = 5.0, PAGE_MM - 5.0
_ROW = 17.5
_TICKS_M = (0.5, 0.7, 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15)


def _make(arguments: Arguments) -> Drawing:
    circumference_m = arguments.number("circumference") / 1000
    before = [(ring, arguments.teeth("sprockets")) for ring in arguments.teeth("rings")]
    new_rings = arguments.teeth("new-rings") or arguments.teeth("rings")
    new_sprockets = arguments.teeth("new-sprockets") or arguments.teeth("sprockets")
    changed = bool(arguments.teeth("new-rings") or arguments.teeth("new-sprockets"))
    rows = [("before" if changed else "", ring, teeth) for ring, teeth in before]
    if changed:
        rows += [("after", ring, new_sprockets) for ring in new_rings]
    every = [circumference_m * ring / teeth for _, ring, sprockets in rows for teeth in sprockets]
    low, high = min(every) / 1.04, max(every) * 1.04

    def across(development_m: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * math.log(development_m / low) / math.log(high / low)

    open_mark, filled_mark = BODY, Pen(width_mm=0.7, stroke=ACCENT, fill=ACCENT)
    shapes: list[Shape] = []
    axis_y = 1.0 + len(rows) * _ROW + 1.5
    floor: dict[str, tuple[float, float, float]] = {}
    for number, (when, ring, sprockets) in enumerate(rows):
        y = 1.0 + (number + 1) * _ROW - 2.6
        after = when == "after"
        words = f"{when} · {ring} teeth" if when else f"chainring {ring} teeth"
        shapes.append(text((0.6, y - 13.4), words, anchor="start", bold=True, plate=True))
        shapes.append(line((_LEFT - 2, y), (_RIGHT + 2, y)))
        gears = sorted((circumference_m * ring / teeth, teeth) for teeth in sprockets)
        for index, (development, teeth) in enumerate(gears):
            x = across(development)
            high_row = index % 2 == 1
            if high_row:
                shapes.append(line((x, y - 1.3), (x, y - 6.4)))
            shapes.append(circle((x, y), 1.3, filled_mark if after else open_mark, f"gear-{when}-{ring}-{teeth}"))
            shapes.append(text((x, y - 8.4 if high_row else y - 4.0), str(teeth), plate=True, part="sprocket"))
        lowest = gears[0][0]
        if when not in floor or lowest < floor[when][0]:
            floor[when] = (lowest, across(lowest), y)
    bottom = axis_y
    if changed and not math.isclose(floor["before"][0], floor["after"][0]):
        (old, old_x, _), (new, new_x, new_y) = floor["before"], floor["after"]
        bottom = axis_y + 7.0
        drops = line((old_x, new_y + 1.6), (old_x, axis_y + 4.5), HIDDEN)
        drops += line((new_x, new_y + 1.6), (new_x, axis_y + 4.5), HIDDEN)
        shapes.insert(0, drops)
        way = "easier" if new < old else "harder"
        shapes.append(dimension((min(old_x, new_x), axis_y + 3.0), (max(old_x, new_x), axis_y + 3.0), ""))
        words = f"lowest gear {write_number(abs(1 - new / old) * 100, 0)} % {way}"
        right = max(old_x, new_x) + (6.5 if abs(old_x - new_x) < 6 else 1.5)
        shapes.append(text((min(right, PAGE_MM - 48.0), axis_y + 3.0), words, anchor="start", bold=True, plate=True))
    shapes.append(line((_LEFT - 2, bottom), (_RIGHT + 2, bottom), THICK, "axis"))
    last = -math.inf
    for tick in _TICKS_M:
        if low <= tick <= high:
            x = across(tick)
            shapes.append(line((x, bottom), (x, bottom + 1.8), THICK, f"tick-{tick:g}"))
            if x - last > 6.5 and x < PAGE_MM - 16.0:
                shapes.append(text((x, bottom + 4.6), f"{tick:g}"))
                last = x
    shapes.append(text((PAGE_MM - 0.6, bottom + 4.6), "metres", anchor="end"))
    reach = f"from {write_number(min(every), 2)} to {write_number(max(every), 2)} m"
    return Drawing(
        name=_NAME,
        title="Gears before and after" if changed else "Gears",
        description=(
            "Each mark is one gear, named by its sprocket, on a logarithmic axis: metres travelled for one turn of the "
            f"cranks, {reach}." + (" Open marks are before, filled marks after the change." if changed else "")
        ),
        width_mm=PAGE_MM,
        height_mm=bottom + 7.6,
        body="".join(shapes),
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="the gears of a bike, before and after a change",
    make=_make,
    parameters=(
        Parameter(name="rings", words="teeth of each chainring", whole=True, many=1, most=3, low=9, high=70),
        Parameter(name="sprockets", words="teeth of each sprocket", whole=True, many=1, most=14, low=9, high=70),
        Parameter(name="new-rings", words="after the change", whole=True, many=1, most=3, default=(), low=9, high=70),
        Parameter(
            name="new-sprockets", words="after the change", whole=True, many=1, most=14, default=(), low=9, high=70
        ),
        Parameter(name="circumference", words="of the rear wheel", unit=Unit.MILLIMETRE, low=700, high=2600),
    ),
)
