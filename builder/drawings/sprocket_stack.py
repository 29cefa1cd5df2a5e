"""A cassette on its freehub body, cut through: what must be wider than what, and where a spacer goes."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CENTRE,
    INK,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    line,
    polygon,
)
from builder.drawings.drawing_kind import Arguments, DrawingError, DrawingKind, Parameter
from builder.drawings.marks import call_outs, dimension, hatch
from builder.model.fields import Fact
from builder.model.units import Unit, write_number

_NAME = "sprocket-stack"
_SHOULDER_X = 20.0
_TOP = 8.0
_TALLEST = 30.0
_BODY_DEPTH = 11.0
_THREAD_DEPTH = 3.0


def _rectangle(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _cut(left: float, top: float, right: float, bottom: float, angle: float, part: str = "") -> Shape:
    outline = _rectangle(left, top, right, bottom)
    return polygon(outline, BODY, part) + hatch(outline, spacing=1.7, angle_deg=angle)


def _make(arguments: Arguments) -> Drawing:
    sprockets = arguments.teeth("sprockets")[::-1]
    body_mm, stack_mm, behind_mm = arguments.number("body"), arguments.number("stack"), arguments.number("spacer")
    count = len(sprockets)
    room_mm = stack_mm / count
    if not 1.5 <= room_mm <= 12:
        raise DrawingError(
            f"drawing '{_NAME}': {count} sprockets in {stack_mm:g} mm leave {room_mm:.1f} mm for each; "
            "it needs a stack of 1.5 to 12 mm a sprocket"
        )
    thick_mm = min(1.8, 0.62 * room_mm)
    step_mm = (stack_mm - thick_mm) / (count - 1) if count > 1 else 0.0
    over_mm = behind_mm + stack_mm - body_mm
    scale = min(2.0, (PAGE_MM - _SHOULDER_X - 14.0) / max(body_mm, behind_mm + stack_mm))
    body_top = _TOP + _TALLEST
    axis = body_top + _BODY_DEPTH
    body_end = _SHOULDER_X + body_mm * scale
    first = _SHOULDER_X + behind_mm * scale
    last = first + stack_mm * scale

    shapes: list[Shape] = [
        _cut(_SHOULDER_X, body_top, body_end, axis - _THREAD_DEPTH, -45, "body"),
        _cut(_SHOULDER_X - 5.0, body_top - 6.5, _SHOULDER_X, axis - _THREAD_DEPTH, -45),
        _flange(_SHOULDER_X - 5.0, body_top, axis),
    ]
    if behind_mm:
        shapes.append(
            polygon(_rectangle(_SHOULDER_X, body_top - 5.0, first, body_top), Pen(width_mm=0.7, fill=ACCENT), "spacer")
        )
    places = []
    top = body_top
    for index, teeth in enumerate(sprockets):
        left = first + index * step_mm * scale
        right = left + thick_mm * scale
        tall = 9.0 + (_TALLEST - 9.0) * (teeth - 8) / (max(sprockets) - 8 or 1)
        top = body_top - tall
        places.append((left + right) / 2)
        if index:
            gap = first + (index - 1) * step_mm * scale + thick_mm * scale
            outline = _rectangle(gap, body_top - 4.0, left, body_top)
            shapes.append(polygon(outline, Pen(fill=SHADE), "between"))
        bevel = min(0.35 * (right - left), 1.0)
        shapes.append(
            polygon(
                (
                    (left, body_top),
                    (left, top + 2.5),
                    (left + bevel, top),
                    (right - bevel, top),
                    (right, top + 2.5),
                    (right, body_top),
                ),
                Pen(fill=INK),
                f"sprocket-{teeth}",
            )
        )
    clamps = over_mm > 0
    face = max(last, body_end)
    shapes.append(_lockring(face, body_top, axis))
    shapes.append(line((2.0, axis), (PAGE_MM - 2.0, axis), CENTRE))
    shapes.append(
        dimension(
            (_SHOULDER_X, axis + 0.5),
            (body_end, axis + 0.5),
            f"body {write_number(body_mm, 2)} mm",
            offset=6.0,
            part="body-length",
        )
    )
    width = write_number(behind_mm + stack_mm, 2)
    words = f"with spacer {width} mm" if behind_mm else f"stack {width} mm"
    shapes.append(
        dimension((_SHOULDER_X, axis + 0.5), (last, axis + 0.5), words, offset=12.5, bold=True, part="stack-width")
    )
    rows: list[tuple[str, Point, Point]] = [
        (f"largest sprocket, {sprockets[0]} teeth", (places[0] + 4.0, 3.6), (places[0], _TOP + 0.4)),
        (
            "lockring; it bears on the smallest sprocket"
            if clamps
            else "lockring; it bears on the body, and the sprockets are loose",
            (PAGE_MM - 4.0, body_top - 9.0),
            (face + 2.9, body_top - 2.5),
        ),
        ("freehub body, cut through", (8.0, axis + 7.5), (_SHOULDER_X + 6.0, body_top + 4.0)),
        ("shoulder of the body", (5.0, body_top - 8.0), (_SHOULDER_X - 2.5, body_top - 4.0)),
    ]
    if count > 1:
        rows.append(
            (
                f"smallest sprocket, {sprockets[-1]} teeth",
                (min(places[-1] + 4.0, PAGE_MM - 10.0), top - 11.0),
                (places[-1], top + 0.4),
            )
        )
    if behind_mm:
        rows.append(
            (
                f"spacer of {write_number(behind_mm, 2)} mm behind the largest sprocket",
                (5.0, body_top - 20.0),
                (_SHOULDER_X + behind_mm * scale / 2, body_top - 3.5),
            )
        )
    numbers, legend = call_outs(rows)
    stand = (
        f"The stack stands {write_number(over_mm, 2)} mm over the end of the body, so that the lockring clamps it."
        if clamps
        else f"The stack ends {write_number(-over_mm, 2)} mm short of the end of the body: the lockring can't clamp it."
    )
    return Drawing(
        name=_NAME,
        title=f"{count} sprockets, {width} mm, on a body of {write_number(body_mm, 2)} mm",
        description=f"Half a section along the axle; lengths along the axle are to scale, heights are not. {stand}",
        width_mm=PAGE_MM,
        height_mm=axis + 16.5,
        body="".join((*shapes, numbers)),
        legend=legend,
    )


def _flange(right: float, body_top: float, axis: float) -> Shape:
    """The hub behind the body, cut off at the left."""
    outline = (
        (2.0, axis - 6.0),
        (right - 5, axis - 6.0),
        (right - 3, body_top - 2.0),
        (right, body_top - 2.0),
        (right, axis - _THREAD_DEPTH),
        (2.0, axis - _THREAD_DEPTH),
    )
    return polygon(outline, Pen(width_mm=0.7, fill=TINT), "hub")


def _lockring(face: float, body_top: float, axis: float) -> Shape:
    """A lockring whose flange bears on `face`, its thread inside the body."""
    inner = axis - _THREAD_DEPTH
    outline = (
        (face, body_top - 5.5),
        (face + 3.2, body_top - 3.8),
        (face + 3.2, inner - 0.5),
        (face - 9.0, inner - 0.5),
        (face - 9.0, inner - 3.2),
        (face, inner - 3.2),
    )
    threads = "".join(
        line((face - 8.0 + 1.3 * turn, inner - 3.2), (face - 8.4 + 1.3 * turn, inner - 1.2)) for turn in range(7)
    )
    return polygon(outline, Pen(width_mm=0.7, fill=TINT), "lockring") + threads


DRAWING = DrawingKind(
    name=_NAME,
    words="how the width of the sprockets stands to the length of the freehub body",
    make=_make,
    things=(
        "cassette",
        "spacer",
        "lockring",
        "cassette-lockring",
        "freehub-body",
    ),
    parameters=(
        Parameter(
            name="body",
            words="length of the body's splines",
            unit=Unit.MILLIMETRE,
            low=10,
            high=80,
            fact=Fact("rear-hub.body-length"),
        ),
        Parameter(
            name="stack",
            words="width of sprockets and the spacers between",
            unit=Unit.MILLIMETRE,
            low=3,
            high=80,
            fact=Fact("cassette.stack"),
        ),
        Parameter(
            name="sprockets",
            words="teeth of each sprocket",
            whole=True,
            many=1,
            most=14,
            low=9,
            high=70,
            fact=Fact("cassette.sprockets"),
        ),
        Parameter(
            name="spacer",
            words="behind the largest sprocket",
            unit=Unit.MILLIMETRE,
            default=0,
            low=0,
            high=15,
            fact=Fact("worked-out.spacers"),
        ),
    ),
)
