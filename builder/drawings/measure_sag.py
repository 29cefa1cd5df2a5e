"""Sag: how far fork or shock goes in under the rider, of the whole way it has, to scale."""

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
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import act_arrow, call_outs, dimension, heading
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


def _shock(x: float, seal_y: float, ring_y: float) -> Shape:
    """A shock upright: the body above goes down over its shaft, whose lower eye stays."""
    return "".join(
        (
            box((x - 2.6, seal_y), 5.2, 82.0 - seal_y, BODY, part="shaft"),
            circle((x, 84.5), 4.4, BODY.filled(TINT)),
            circle((x, 84.5), 1.8, Pen(fill="#ffffff")),
            box((x - 6.5, seal_y - 33.0), 13.0, 30.0, BODY.filled(TINT), part="body"),
            circle((x, seal_y - 36.0), 4.4, BODY.filled(TINT)),
            circle((x, seal_y - 36.0), 1.8, Pen(fill="#ffffff")),
            box((x - 5.5, seal_y - 3.0), 11.0, 3.0, BODY.filled(SHADE), part="seal"),
            box(
                (x - 3.7, ring_y - 1.0),
                7.4,
                2.0,
                Pen(width_mm=0.7, stroke=ACCENT, fill=ACCENT),
                round_mm=1.0,
                part="ring",
            ),
        )
    )


def _make(arguments: Arguments) -> Drawing:
    at_shock = arguments.word("part") == "shock"
    travel, sag = arguments.number("stroke" if at_shock else "travel"), arguments.number("sag")
    if at_shock:
        return _make_shock(travel, sag)
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
        title="Where the sag of the fork is measured",
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


_SHOCK_SEAL_Y, _STROKE = 50.0, 28.0


def _make_shock(stroke: float, sag: float) -> Drawing:
    if stroke and sag > stroke:
        raise DrawingError(
            f"drawing '{_NAME}': a sag of {sag:g} mm is more than {stroke:g} mm of stroke; it needs less"
        )
    left, right, seal = 20.0, 71.0, _SHOCK_SEAL_Y
    moved = _STROKE * (sag / stroke if sag and stroke else 0.25)
    share = f"{write_number(100 * sag / stroke, 0)} %" if sag and stroke else ""
    whole = f"whole stroke, {write_number(stroke)} mm" if stroke else "whole stroke"
    shapes: list[Shape] = [
        heading((left, 3.4), "rider off again"),
        heading((right, 3.4), "rider on"),
        _shock(left, seal, seal + moved),
        _shock(right, seal + moved, seal + moved + 1.2),
        line((left + 6.0, seal), (left + 16.0, seal)),
        line((left + 4.2, seal + moved), (left + 16.0, seal + moved)),
        dimension((left + 14.0, seal), (left + 14.0, seal + moved), "", part="sag"),
        heading((left + 17.0, seal + 0.5), f"sag {write_number(sag)} mm" if sag else "sag", anchor="start"),
        act_arrow((right + 12.0, 10.0), (right + 12.0, 20.0)),
        line((3.5, seal), (left - 6.0, seal)),
        line((3.5, seal + _STROKE), (left - 3.0, seal + _STROKE), CENTRE),
        dimension((6.0, seal), (6.0, seal + _STROKE), "", part="travel"),
    ]
    if share:
        shapes.append(heading((left + 17.0, seal + 6.0), share, anchor="start"))
    numbers, legend = call_outs(
        (
            (
                "ring, pushed to the seal before the rider gets on",
                (left + 24.0, min(seal + moved + 12.0, 85.0)),
                (left + 3.4, seal + moved),
            ),
            ("seal", (left + 24.0, seal - 12.0), (left + 4.6, seal - 1.5)),
            (whole, (6.0, seal - 8.0), (6.0, seal + 4.0)),
        )
    )
    told = f", {write_number(sag)} mm, {share} of {write_number(stroke)} mm of stroke" if share else ""
    return Drawing(
        name=_NAME,
        title="Where the sag of the shock is measured",
        description=(
            "Right, the rider's weight has pushed the shock in, and the seal has moved the ring. Left, the rider has "
            f"got off without a bounce: the sag is the way from the seal to the ring{told}."
        ),
        width_mm=PAGE_MM,
        height_mm=90.5,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="where sag is measured",
    make=_make,
    act=ShownAct.LOOKING,
    things=("fork", "shock"),
    parameters=(
        Parameter(
            name="part",
            words="which one",
            default="fork",
            choices=("fork", "shock"),
            told=(("shock", "shock"), ("fork", "fork")),
        ),
        Parameter(
            name="stroke",
            words="whole stroke of the shock, 0 where it is not known",
            unit=Unit.MILLIMETRE,
            default=0,
            low=0,
            high=120,
            fact=Fact("shock.stroke"),
        ),
        Parameter(
            name="travel",
            words="whole travel",
            unit=Unit.MILLIMETRE,
            low=20,
            high=260,
            fact=Fact("fork.travel"),
            usual=100.0,
            default=100.0,
        ),
        Parameter(name="sag", words="if already measured", unit=Unit.MILLIMETRE, default=0, low=0, high=260),
    ),
)
