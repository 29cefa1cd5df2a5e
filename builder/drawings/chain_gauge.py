"""Chain wear: where the length is taken, and how far it has grown against the limits."""

from __future__ import annotations

import math

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    PAGE_MM,
    SHADE,
    THICK,
    TINT,
    WHITE,
    Drawing,
    Pen,
    Shape,
    box,
    circle,
    line,
    polyline,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter, ShownAct
from builder.drawings.marks import call_outs, dimension, hatch, head, spread
from builder.drawings.transmission import PITCH_MM, link_plate
from builder.model.fields import Fact
from builder.model.units import Unit, write_number

_NAME = "chain-gauge"
_LEFT, _RIGHT = 8.0, PAGE_MM - 6.0
_PITCH = 9.5
_CHAIN_Y = 17.5
_SCALE_Y = 46.0
# Common practice, no source.
_LIMITS = (
    (0.5, "replace the chain: 11 speeds and more"),
    (0.75, "replace the chain: fewer than 11 speeds"),
    (1.0, "replace the chain and look at the sprockets too"),
)


def _chain() -> Shape:
    """Both ends of the measured stretch, with a break between, on the height of `_CHAIN_Y`."""
    first, last = _LEFT + 3.0, _RIGHT - 3.0
    left = [first + index * _PITCH for index in range(3)]
    right = [last - index * _PITCH for index in range(3)]
    shapes = []
    for pins in (left, right):
        for index in (1, 0):
            a, b = sorted((pins[index], pins[index + 1]))
            outer = index % 2 == 0
            pen = BODY if outer else BODY.filled(TINT)
            shapes.append(link_plate((a, _CHAIN_Y), (b, _CHAIN_Y), 3.6 if outer else 3.1, pen))
        shapes += [circle((pin, _CHAIN_Y), 1.1, Pen(fill=SHADE)) for pin in pins]
    for edge, way in ((left[-1] - 1.5, 1), (right[-1] + 1.5, -1)):
        shapes.append(box((min(edge, edge + way * 6), _CHAIN_Y - 5), 6, 10, Pen(stroke="none", width_mm=0, fill=WHITE)))
        wave = ((0.7, -5.0), (-0.7, -1.7), (0.7, 1.7), (-0.7, 5.0))
        shapes.append(polyline([(edge + shift, _CHAIN_Y + rise) for shift, rise in wave]))
    shapes.append(text((PAGE_MM / 2, _CHAIN_Y), "pin to pin"))
    return "".join(shapes)


def _make(arguments: Arguments) -> Drawing:
    length_mm, links, speeds = arguments.number("length"), arguments.whole("links"), arguments.whole("speeds")
    wear = 100 * (length_mm / (links * PITCH_MM) - 1)
    if not -1.0 <= wear <= 5.0:
        raise DrawingError(
            f"drawing '{_NAME}': {length_mm:g} mm over {links} links is {wear:.1f} % longer than new; "
            "it needs a length and a number of links that are within -1 to 5 %"
        )
    low = -0.25 * math.ceil(max(0.0, -wear) * 4)
    high = max(1.25, 0.25 * math.ceil(wear * 4 + 0.4))

    def across(share: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (share - low) / (high - low)

    limit = 0.0 if not speeds else 0.5 if speeds >= 11 else 0.75
    worn_from = across(limit or 0.5)
    worn = [(worn_from, _SCALE_Y - 3), (_RIGHT, _SCALE_Y - 3), (_RIGHT, _SCALE_Y + 3), (worn_from, _SCALE_Y + 3)]
    shapes: list[Shape] = [
        _chain(),
        dimension(
            (_LEFT + 3.0, _CHAIN_Y),
            (_RIGHT - 3.0, _CHAIN_Y),
            f"{write_number(length_mm, 2)} mm over {links} links",
            offset=-12.0,
            bold=True,
        ),
        hatch(worn, spacing=2.0),
        box((_LEFT, _SCALE_Y - 3), _RIGHT - _LEFT, 6, THICK, part="scale"),
    ]
    labels = []
    for share in _labelled(low, high, limit or 0.5):
        x = across(share)
        bold = bool(limit) and math.isclose(share, limit)
        shapes.append(line((x, _SCALE_Y - 3), (x, _SCALE_Y + 4.2), THICK, f"mark-{write_number(share, 2)}"))
        words = "new" if share == 0 else write_number(share, 2)
        labels.append(text((x, _SCALE_Y + 7.0), words, bold=bold))
    x = across(wear)
    shapes += [
        head((x, _SCALE_Y - 3.4), (x, _SCALE_Y - 10), length=4.2, half_width=2.2, pen=Pen(fill=ACCENT, stroke=ACCENT)),
        line((x, _SCALE_Y - 3), (x, _SCALE_Y + 3), Pen(width_mm=0.9, stroke=ACCENT), "measured"),
        text((min(max(x, 12.0), PAGE_MM - 12.0), _SCALE_Y - 10.2), f"{write_number(wear, 2)} %", size_pt=12, bold=True),
        *labels,
    ]
    places = spread([across(share) for share, _ in _LIMITS], 6.5)
    numbers, legend = call_outs(
        (f"{write_number(share, 2)} %: {words}", (x, _SCALE_Y + 14.4), (across(share), _SCALE_Y + 9.6))
        for (share, words), x in zip(_LIMITS, places, strict=True)
    )
    return Drawing(
        name=_NAME,
        title=f"Chain wear of {write_number(wear, 2)} %",
        description=(
            f"Above, the length of {links} links is taken from pin to pin: {write_number(length_mm, 2)} mm. "
            f"A new chain has {write_number(links * PITCH_MM, 2)} mm. Below, how much longer than new that is, "
            "in per cent, on a scale with the limits."
        ),
        width_mm=PAGE_MM,
        height_mm=_SCALE_Y + 18.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


def _labelled(low: float, high: float, limit: float) -> list[float]:
    """Where the scale has labels: new, the limits, and whole per cents beyond them."""
    below = [low] if low < 0 else []
    limits = [limit, 1.0] if high > 2.0 else [0.5, 0.75, 1.0]
    return [*below, 0.0, *limits, *(float(whole) for whole in range(2, math.floor(high) + 1))]


DRAWING = DrawingKind(
    name=_NAME,
    words="where a chain is measured, and its wear against the limits",
    make=_make,
    act=ShownAct.LOOKING,
    things=("chain",),
    parameters=(
        Parameter(
            name="length",
            words="measured from pin to pin",
            unit=Unit.MILLIMETRE,
            low=50,
            high=2000,
            fact=Fact("measured.chain-length"),
            usual=304.8,
        ),
        Parameter(
            name="links",
            words="links in that length",
            whole=True,
            low=4,
            high=150,
            fact=Fact("worked-out.links-measured"),
            usual=24,
        ),
        Parameter(
            name="speeds", words="sprockets of the cassette; picks the limit", whole=True, default=0, low=0, high=14
        ),
    ),
)
