"""The limit screws of a rear derailleur, from behind: the guide pulley straight below each end sprocket in turn."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    DETAIL,
    INK,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Shape,
    box,
    circle,
    line,
    polygon,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import call_outs, heading, seen_from
from builder.drawings.smaller import reduced
from builder.model.fields import Fact

_NAME = "limit-screws"
_AXLE_Y = 39.0
_TALLEST = 21.0
_SPAN = 21.0
_PULLEY_Y = 70.0


# The shape of a cassette where the bike's own sprockets are not known.
_ANY = (11, 13, 15, 18, 21, 24, 28, 32)


def _cassette(inner_x: float, sprockets: tuple[int, ...], picked: int) -> tuple[Shape, float]:
    """Sprockets from behind, largest at the left, and where the picked one stands."""
    largest = max(sprockets)
    count = len(sprockets)
    step = _SPAN / max(count - 1, 1)
    shapes = [
        box((inner_x - 5.0, _AXLE_Y - 3.0), _SPAN + 10.0, 6.0, BODY.filled(TINT), round_mm=1.0),
        box((inner_x + _SPAN + 5.0, _AXLE_Y - 1.2), 4.5, 2.4, BODY.filled(SHADE)),
    ]
    place = inner_x
    for index, teeth in enumerate(reversed(sprockets)):
        x = inner_x + index * step
        half = 4.5 + (_TALLEST - 4.5) * (teeth - 8) / max(largest - 8, 1)
        wide = min(1.5, 0.6 * step) if count > 1 else 1.5
        fill = ACCENT if teeth == picked else INK
        shapes.append(
            box(
                (x - wide / 2, _AXLE_Y - half),
                wide,
                2 * half,
                Pen(width_mm=0.35, stroke=fill, fill=fill),
                round_mm=wide / 2,
            )
        )
        if teeth == picked:
            place = x
    return "".join(shapes), place


def _derailleur(x: float, body_x: float) -> Shape:
    """Cage with both pulleys on the line of `x`, and the body that carries it, from behind."""
    low = _PULLEY_Y + 23.0
    knuckle_y = _PULLEY_Y - 1.0
    return "".join(
        (
            polygon(
                (
                    (x + 4.2, knuckle_y - 4.0),
                    (body_x - 1.0, _AXLE_Y + 10.0),
                    (body_x + 5.0, _AXLE_Y + 14.5),
                    (x + 4.2, knuckle_y + 5.0),
                ),
                BODY.filled(TINT),
                "body",
            ),
            box((body_x - 1.5, _AXLE_Y + 4.5), 7.5, 11.5, BODY, round_mm=1.5),
            box((x - 3.1, _PULLEY_Y - 6.5), 1.5, low - _PULLEY_Y + 12.0, DETAIL, round_mm=0.6),
            box((x + 1.6, _PULLEY_Y - 6.5), 2.6, low - _PULLEY_Y + 12.0, DETAIL, round_mm=0.6),
            *(
                box((x - 0.9, y - 5.2), 1.8, 10.4, Pen(width_mm=0.7, fill=SHADE), round_mm=0.8)
                + box((x - 4.4, y - 1.1), 9.4, 2.2, DETAIL, round_mm=0.5)
                for y in (_PULLEY_Y, low)
            ),
        )
    )


def _panel(left: float, sprockets: tuple[int, ...], picked: int, words: str) -> tuple[Shape, float]:
    cassette, x = _cassette(left, sprockets, picked)
    body_x = left + _SPAN + 7.0
    top = _AXLE_Y - _TALLEST
    shapes = (
        heading((left + _SPAN / 2 + 3.0, 11.5), words),
        line((x, top - 3.0), (x, _PULLEY_Y + 30.0), Pen(stroke=ACCENT, dash_mm=(4.0, 1.0, 0.7, 1.0)), "sight-line"),
        cassette,
        _derailleur(x, body_x),
        line((x, _AXLE_Y + _TALLEST + 0.5), (x, _PULLEY_Y - 7.0), Pen(width_mm=0.7, stroke=ACCENT, dash_mm=(1.6, 1.2))),
    )
    return "".join(shapes), x


def _make(arguments: Arguments) -> Drawing:
    known = arguments.teeth("sprockets")
    sprockets = known or _ANY
    small, large = min(sprockets), max(sprockets)
    # A number that is not the bike's own is not shown.
    first, first_x = _panel(8.0, sprockets, small, f"smallest, {small}" if known else "smallest")
    second, _ = _panel(53.0, sprockets, large, f"largest, {large}" if known else "largest")
    small_words, large_words = (f", {small} teeth", f", {large} teeth") if known else ("", "")
    body_x = 8.0 + _SPAN + 7.0
    low = _PULLEY_Y + 23.0
    screws = "".join(
        circle((x, y), 1.5, Pen(fill="#ffffff")) + line((x - 1.0, y - 1.0), (x + 1.0, y + 1.0), Pen(width_mm=0.7))
        for x, y in ((body_x + 2.3, _AXLE_Y + 7.4), (body_x + 47.3, _AXLE_Y + 12.6))
    )
    view = seen_from((PAGE_MM / 2, 3.6), "seen from behind")
    numbers, legend = call_outs(
        (
            (
                "guide pulley, straight below the sprocket",
                (first_x - 12.0, _PULLEY_Y + 9.0),
                (first_x - 0.5, _PULLEY_Y + 3.0),
            ),
            ("tension pulley", (first_x - 12.0, low), (first_x - 0.5, low + 3.0)),
            ("limit screw for the smallest sprocket", (body_x + 4.5, _AXLE_Y + 24.0), (body_x + 2.3, _AXLE_Y + 7.4)),
            ("limit screw for the largest sprocket", (body_x + 47.0, _AXLE_Y + 24.0), (body_x + 47.3, _AXLE_Y + 12.6)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="Limit screws: the guide pulley straight below the end sprockets",
        description=(
            "Seen from behind, largest sprocket at the left. In the left picture the guide pulley is straight "
            "below the "
            f"smallest sprocket{small_words}; in the right one straight below the largest{large_words}. Each place is "
            "set by its own screw."
        ),
        width_mm=PAGE_MM,
        height_mm=_PULLEY_Y + 32.0,
        body=first + second + screws + view + numbers,
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="where the guide pulley stands when the limit screws are right",
    make=_make,
    things=("limit-screw", "guide-pulley", "tension-pulley", "cassette"),
    width_mm=60.0,
    parameters=(
        Parameter(
            name="sprockets",
            words="teeth of each sprocket",
            whole=True,
            many=2,
            most=14,
            low=9,
            high=70,
            default=(),
            fact=Fact("worked-out.several-sprockets"),
        ),
    ),
)
