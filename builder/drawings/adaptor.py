"""A torque wrench with an adaptor, to scale: what counts is how far the adaptor reaches along the wrench."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CENTRE,
    PAGE_MM,
    SHADE,
    SOLID,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc,
    box,
    circle,
    line,
    text,
)
from builder.drawings.cycle import tube
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter, ShownAct
from builder.drawings.fasteners import hexagon
from builder.drawings.marks import act_arrow, dimension, heading
from builder.model.units import Unit, write_number

_NAME = "adaptor"


def _make(arguments: Arguments) -> Drawing:
    torque, wrench_mm = arguments.number("torque"), arguments.number("wrench")
    adaptor_mm, angle_deg = arguments.number("adaptor"), arguments.number("angle")
    reach_mm = adaptor_mm * math.cos(math.radians(angle_deg))
    if wrench_mm + reach_mm < 0.2 * wrench_mm:
        raise DrawingError(
            f"drawing '{_NAME}': an adaptor of {adaptor_mm:g} mm turned back by {angle_deg:g} degrees leaves no lever; "
            "it needs an adaptor much shorter than the wrench"
        )
    setting = torque * wrench_mm / (wrench_mm + reach_mm)
    rise_mm = adaptor_mm * math.sin(math.radians(angle_deg))
    scale = min((PAGE_MM - 30.0) / (wrench_mm + max(reach_mm, 0.0)), 40.0 / max(abs(rise_mm), 1.0))
    used = wrench_mm * scale + max(reach_mm, 0.0) * scale
    y = 22.0 + max(rise_mm * scale, 0.0)
    hand: Point = ((PAGE_MM + used) / 2, y)
    square: Point = (hand[0] - wrench_mm * scale, y)
    bolt: Point = (square[0] - reach_mm * scale, y - rise_mm * scale)
    low = max(y, bolt[1]) + 9.0
    grip_end = min(hand[0] + 8.0, PAGE_MM - 1.5)
    neck = max(hand[0] - 16.0, square[0] + 6.0)
    shapes: list[Shape] = [
        box((square[0], y - 1.6), neck - square[0], 3.2, BODY.filled(TINT)),
        box((neck, y - 3.25), grip_end - neck, 6.5, BODY.filled(SHADE), round_mm=2.5),
        tube(square, bolt, 5.0),
        circle(square, 5.0, BODY.filled(TINT)),
        box((square[0] - 1.9, y - 1.9), 3.8, 3.8, Pen(fill=SHADE)),
        circle(bolt, 5.0, BODY),
        hexagon(bolt, 3.4, Pen(fill=SHADE)),
        circle(bolt, 0.7, SOLID),
        circle(hand, 0.7, SOLID),
        act_arrow((hand[0], y - 14.0), (hand[0], y - 4.4), part="force"),
        dimension((hand[0], y), (square[0], y), f"{write_number(wrench_mm, 0)} mm", offset=y - low, part="wrench"),
    ]
    if abs(angle_deg) > 0.5:
        shapes.append(line(square, (max(square[0] - 14.0, 1.0), y), CENTRE))
        radius = min(9.0, max(6.5, 0.6 * adaptor_mm * scale))
        shapes.append(arc(square, radius, 180, 180 + angle_deg, Pen(width_mm=0.7, stroke=ACCENT), "angle"))
    shapes.append(line((bolt[0], bolt[1] + 5.6), (bolt[0], low + 8.0)))
    effective = f"{write_number(wrench_mm + reach_mm, 0)} mm"
    shapes.append(dimension((bolt[0], low + 7.0), (hand[0], low + 7.0), effective, bold=True, part="effective"))
    shapes.append(line((hand[0], low), (hand[0], low + 8.0)))
    words = f"at the bolt {write_number(torque)} N·m: set {write_number(setting)} N·m"
    shapes.append(heading((PAGE_MM / 2, 3.8), words))
    line_2 = f"adaptor {write_number(adaptor_mm)} mm, {write_number(angle_deg, 0)}°"
    shapes.append(text((PAGE_MM / 2, low + 14.4), line_2))
    return Drawing(
        name=_NAME,
        title=f"Torque wrench with an adaptor: set {write_number(setting)} N·m",
        description=(
            f"Drawn to scale. From the grip to the square {write_number(wrench_mm, 0)} mm; from the grip to the bolt, "
            f"along the wrench, {write_number(wrench_mm + reach_mm, 0)} mm. For {write_number(torque)} N·m at the bolt "
            f"the wrench is set to {write_number(torque)} × {write_number(wrench_mm, 0)} ÷ "
            f"{write_number(wrench_mm + reach_mm, 0)} = {write_number(setting)} N·m."
        ),
        width_mm=PAGE_MM,
        height_mm=low + 18.0,
        body="".join(shapes),
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="what an adaptor does to a torque wrench",
    make=_make,
    act=ShownAct.TIGHTENING,
    parameters=(
        Parameter(name="torque", words="wanted at the bolt", unit=Unit.NEWTON_METRE, low=0.1, high=300),
        Parameter(name="wrench", words="middle of the grip to the square", unit=Unit.MILLIMETRE, low=80, high=1200),
        Parameter(name="adaptor", words="the square to the bolt", unit=Unit.MILLIMETRE, low=5, high=400),
        Parameter(name="angle", words="between adaptor and wrench", unit=Unit.DEGREE, default=0, low=-180, high=180),
    ),
)
