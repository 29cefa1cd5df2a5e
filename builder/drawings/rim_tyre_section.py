"""Rim and tyre cut across, to scale: inner width, tyre width, and the bead seat."""

from __future__ import annotations

from builder.drawings.canvas import PAGE_MM, Drawing, Point, line, text
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter
from builder.drawings.marks import call_outs, dimension
from builder.drawings.rims import rim_section, tyre_section
from builder.model.units import Unit, write_number

_NAME = "rim-tyre-section"
_X = PAGE_MM / 2


def _make(arguments: Arguments) -> Drawing:
    inner_mm, tyre_mm, seat_mm = (
        arguments.number("inner-width"),
        arguments.number("tyre-width"),
        arguments.number("bead-seat"),
    )
    if tyre_mm < inner_mm:
        raise DrawingError(
            f"drawing '{_NAME}': a tyre of {tyre_mm:g} mm can't stand on a rim of {inner_mm:g} mm; "
            "it needs a tyre at least as wide as the rim is inside"
        )
    widest = max(tyre_mm, inner_mm + 4.0)
    scale = min(1.7, 52.0 / widest)
    inner, width = inner_mm * scale, tyre_mm * scale
    plain = min(1.25, max(0.75, inner / 20))
    tyre, centre, radius = tyre_section((_X, 0.0), inner, width, plain)
    top = 12.0
    seat: Point = (_X, top + radius - centre[1])
    tyre, centre, radius = tyre_section(seat, inner, width, plain)
    bottom = seat[1] + 11.0 * plain
    label = f"{write_number(inner_mm)} mm"
    shapes = (
        tyre,
        rim_section(seat, inner, plain),
        dimension(
            (_X - radius, centre[1]),
            (_X + radius, centre[1]),
            f"tyre {write_number(tyre_mm)} mm",
            offset=-(centre[1] - 5.0),
            bold=True,
            part="tyre-width",
        ),
        line((_X - inner / 2, seat[1] + 1.0), (_X - inner / 2, bottom + 6.0)),
        line((_X + inner / 2, seat[1] + 1.0), (_X + inner / 2, bottom + 6.0)),
        dimension(
            (_X - inner / 2, bottom + 5.0),
            (_X + inner / 2, bottom + 5.0),
            label if inner > 26 else "",
            bold=True,
            part="inner-width",
        ),
    )
    words = f"inner width {label}"
    under = text((_X, bottom + 10.5), words if inner <= 26 else "inner width of the rim", bold=inner <= 26)
    seat_words = (
        f"bead seat, {write_number(seat_mm, 0)} mm in diameter" if seat_mm else "bead seat; its diameter is on the tyre"
    )
    numbers, legend = call_outs(
        (
            ("tyre", (6.0, centre[1] - radius * 0.6), (_X - radius * 0.8, centre[1] - radius * 0.55)),
            (seat_words, (84.0, seat[1] + 1.0), (_X + inner / 2 - 1.0, seat[1] - 0.3)),
            ("rim", (84.0, bottom), (_X + inner / 2, seat[1] + 5.0 * plain)),
        )
    )
    return Drawing(
        name=_NAME,
        title=f"Tyre of {write_number(tyre_mm)} mm on a rim of {label} inside",
        description=(
            f"Cut across, widths to scale. The tyre is {write_number(tyre_mm)} mm wide; the rim is {label} wide "
            "between "
            "its walls. The beads of the tyre sit on the bead seats"
            + (f", {write_number(seat_mm, 0)} mm in diameter." if seat_mm else ".")
        ),
        width_mm=PAGE_MM,
        height_mm=bottom + 13.5,
        body="".join((*shapes, under, numbers)),
        legend=legend,
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how a tyre sits on its rim, and which widths count",
    make=_make,
    things=(
        "rim",
        "tyre",
    ),
    parameters=(
        Parameter(name="inner-width", words="of the rim between its walls", unit=Unit.MILLIMETRE, low=10, high=80),
        Parameter(name="tyre-width", words="of the tyre", unit=Unit.MILLIMETRE, low=18, high=130),
        Parameter(name="bead-seat", words="diameter, 0 if not known", unit=Unit.MILLIMETRE, default=0, low=0, high=700),
    ),
)
