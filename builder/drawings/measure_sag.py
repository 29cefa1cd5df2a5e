"""Sag: how far the fork goes in under the rider, of its whole travel, to scale."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CENTRE,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Shape,
    box,
    circle,
    line,
)
from builder.drawings.marks import act_arrow, call_outs, dimension, heading
from builder.drawings.subject import DrawingError, Given, Need, Subject
from builder.model.fields import Fact
from builder.model.units import Unit, write_number

_NAME = "measure-sag"
_TRAVEL = 40.0
_TOP = 16.0


def _leg(x: float, seal_y: float, ring_y: float) -> Shape:
    """One leg: stanchion above, lower leg below, with its seal and the ring."""
    return "".join(
        (
            box((x - 4.0, _TOP - 6.0), 8.0, seal_y - _TOP + 8.0, BODY),
            line((x - 2.0, _TOP), (x - 2.0, seal_y), Pen(stroke=SHADE)),
            box((x - 7.5, _TOP - 10.0), 15.0, 8.0, BODY.filled(SHADE), round_mm=1.5),
            box((x - 6.5, seal_y + 3.0), 13.0, 88.0 - seal_y - 3.0, BODY.filled(TINT), part="lower-leg"),
            box((x - 6.0, seal_y), 12.0, 3.0, BODY.filled(SHADE), part="seal"),
            circle((x, 88.0), 5.0, BODY.filled(TINT)),
            circle((x, 88.0), 2.0, Pen(fill="#ffffff")),
            box(
                (x - 4.7, ring_y - 1.0),
                9.4,
                2.0,
                Pen(width_mm=0.7, stroke=ACCENT, fill=ACCENT),
                round_mm=1.0,
                part="ring",
            ),
        )
    )


def _make(given: Given) -> Drawing:
    travel, sag = given.number("travel"), given.number("sag")
    if sag > travel:
        raise DrawingError(
            f"drawing '{_NAME}': a sag of {sag:g} mm is more than {travel:g} mm of travel; it needs less"
        )
    seal = _TOP + _TRAVEL
    moved = _TRAVEL * (sag / travel if sag else 0.25)
    share = f"{write_number(100 * sag / travel, 0)} %" if sag else ""
    left, right = 20.0, 71.0
    shapes: list[Shape] = [
        heading((left, 3.4), "rider off again"),
        heading((right, 3.4), "rider on"),
        _leg(left, seal, seal - moved),
        _leg(right, seal - moved, seal - moved - 1.4),
        line((left + 7.0, seal), (left + 16.0, seal)),
        line((left + 5.4, seal - moved), (left + 16.0, seal - moved)),
        dimension((left + 14.0, seal - moved), (left + 14.0, seal), "", part="sag"),
        heading((left + 16.5, seal - moved - 4.0), f"sag {write_number(sag)} mm" if sag else "sag", anchor="start"),
        act_arrow((right + 14.0, 9.0), (right + 14.0, 22.0)),
        line((3.5, _TOP), (left - 4.4, _TOP), CENTRE),
        dimension((6.0, seal), (6.0, _TOP), "", part="travel"),
        line((3.5, seal), (left - 6.5, seal)),
    ]
    if share:
        shapes.append(heading((left + 16.5, seal - moved + 1.6), share, anchor="start"))
    numbers, legend = call_outs(
        (
            (
                "ring, pushed down to the seal before the rider gets on",
                (left + 27.0, seal - moved + 14.0),
                (left + 4.6, seal - moved),
            ),
            ("seal", (45.0, 78.0), (left + 5.4, seal + 1.6)),
            (f"whole travel, {write_number(travel)} mm", (6.0, _TOP + 15.0), (6.0, _TOP + 11.0)),
        )
    )
    return Drawing(
        name=_NAME,
        title="Where sag is measured",
        description=(
            "Right, the rider's weight has pushed the fork in, and the seal has moved the ring. Left, the rider "
            "has got "
            "off without a bounce: the sag is the way from the seal to the ring"
            + (f", {write_number(sag)} mm, {share} of {write_number(travel)} mm of travel." if sag else ".")
            + " Drawn to scale."
        ),
        width_mm=PAGE_MM,
        height_mm=94.5,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


SUBJECT = Subject(
    name=_NAME,
    words="where sag is measured",
    make=_make,
    needs=(
        Need(
            name="travel",
            words="whole travel",
            unit=Unit.MILLIMETRE,
            low=20,
            high=260,
            fact=Fact("fork.travel"),
            usual=100.0,
        ),
        Need(name="sag", words="if already measured", unit=Unit.MILLIMETRE, default=0, low=0, high=260),
    ),
)
