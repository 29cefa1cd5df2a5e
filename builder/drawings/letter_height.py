"""The letter height that a reading distance calls for, with the letter at full size."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CENTRE,
    INK,
    PAGE_MM,
    TINT,
    Drawing,
    Pen,
    Shape,
    arc,
    bend,
    box,
    line,
    move,
    path,
    polygon,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import call_outs, dimension, heading
from builder.model.units import Unit, write_number

_NAME = "letter-height"
_Y = 22.0
_EYE_X, _CARD_X = 13.0, 74.0


def _eye() -> Shape:
    """An eye from its side, looking right."""
    x, y = _EYE_X, _Y
    lids = (
        move((x - 8.0, y - 1.0)),
        bend((x - 5.0, y - 7.0), (x + 2.0, y - 8.0), (x + 4.0, y - 3.6)),
    )
    low = (move((x - 8.0, y - 1.0)), bend((x - 5.0, y + 4.6), (x + 1.0, y + 6.0), (x + 3.4, y + 3.8)))
    ball = (move((x + 3.8, y - 3.8)), bend((x + 5.4, y - 1.4), (x + 5.4, y + 1.6), (x + 3.4, y + 4.0)))
    return (
        path(lids, Pen(width_mm=0.7))
        + path(low, Pen(width_mm=0.7))
        + path(ball, Pen(width_mm=0.7))
        + path(
            (move((x + 4.4, y - 2.4)), bend((x + 2.0, y - 1.4), (x + 2.0, y + 1.4), (x + 4.3, y + 2.4))), Pen(fill=INK)
        )
    )


def _make(arguments: Arguments) -> Drawing:
    distance, angle = arguments.number("distance"), arguments.number("angle")
    height = 2 * distance * math.tan(math.radians(angle / 60) / 2)
    half = 7.0
    letter_y = 44.0
    stem = height / 6
    letter = (
        box((8.0, letter_y), stem, height, Pen(stroke="none", width_mm=0, fill=INK), part="letter"),
        box((8.0 + 0.75 * height - stem, letter_y), stem, height, Pen(stroke="none", width_mm=0, fill=INK)),
        box((8.0, letter_y + height / 2 - stem / 2), 0.75 * height, stem, Pen(stroke="none", width_mm=0, fill=INK)),
    )
    right = 8.0 + 0.75 * height
    apex = (_EYE_X + 5.0, _Y)
    shapes = (
        polygon((apex, (_CARD_X, _Y - half), (_CARD_X, _Y + half)), Pen(stroke="none", width_mm=0, fill=TINT)),
        line(apex, (_CARD_X, _Y - half)),
        line(apex, (_CARD_X, _Y + half)),
        line(apex, (_CARD_X, _Y), CENTRE),
        arc(apex, 22.0, -6.8, 6.8, Pen(width_mm=0.7, stroke=ACCENT)),
        _eye(),
        box((_CARD_X, _Y - 17.0), 3.0, 30.0, BODY),
        line((_CARD_X, _Y - half), (_CARD_X, _Y + half), Pen(width_mm=1.8)),
        heading((46.0, _Y - 12.0), f"{write_number(angle, 0)} arc minutes"),
        dimension(apex, (_CARD_X, _Y), f"{write_number(distance, 0)} mm", offset=13.5, part="distance"),
        *letter,
        line((right + 1.0, letter_y), (right + 8.0, letter_y)),
        line((right + 1.0, letter_y + height), (right + 8.0, letter_y + height)),
        dimension((right + 6.0, letter_y), (right + 6.0, letter_y + height), "", part="height"),
        heading((right + 10.0, letter_y + height / 2), f"{write_number(height, 2)} mm", anchor="start"),
        text((right + 10.0, letter_y + height / 2 + 5.4), "capital letter, at full size", anchor="start"),
    )
    numbers, legend = call_outs(
        (
            ("eye of the reader", (6.0, 8.0), (_EYE_X - 1.0, _Y - 5.8)),
            ("letter on the card; the angle is drawn larger than it is", (84.0, 8.0), (_CARD_X, _Y - 4.0)),
        )
    )
    return Drawing(
        name=_NAME,
        title=f"Letters of {write_number(height, 2)} mm for a reading distance of {write_number(distance, 0)} mm",
        description=(
            f"At {write_number(distance, 0)} mm a letter must be {write_number(height, 2)} mm high to stand under "
            f"{write_number(angle, 0)} arc minutes. The letter below is drawn at full size."
        ),
        width_mm=PAGE_MM,
        height_mm=letter_y + max(height, 9.0) + 4.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how high letters must be for a reading distance",
    make=_make,
    parameters=(
        Parameter(name="distance", words="eye to card", unit=Unit.MILLIMETRE, low=200, high=3000),
        Parameter(name="angle", words="that the letter fills", unit=Unit.ARC_MINUTE, default=15, low=5, high=40),
    ),
)
