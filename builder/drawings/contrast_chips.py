"""Two colours against each other, as they are and in greyscale, and their contrast on its scale."""

from __future__ import annotations

import math

from builder.checks.contrast import contrast_ratio, read_colour, relative_luminance
from builder.drawings.canvas import INK, PAGE_MM, SHADE, THICK, Drawing, Pen, Shape, box, line, text
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import head
from builder.model.units import write_number

_NAME = "contrast-chips"
_LIMITS = (3.0, 4.5, 7.0)  # WCAG 2.2, success criteria 1.4.3 and 1.4.6
_LEFT, _RIGHT, _SCALE_Y = 5.0, PAGE_MM - 5.0, 45.0


def _grey(colour: str) -> str:
    """The grey of the same luminance."""
    light = relative_luminance(read_colour(colour))
    value = 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    level = round(255 * value)
    return f"#{level:02x}{level:02x}{level:02x}"


def _chip(x: float, fore: str, back: str, words: str) -> Shape:
    return "".join(
        (
            box((x, 7.5), 39.0, 20.0, Pen(stroke=INK, fill=back), part=f"chip-{words.split()[-1]}"),
            text((x + 19.5, 14.0), "Tighten", size_pt=14, bold=True, colour=fore),
            text((x + 19.5, 21.8), "35 to 45", size_pt=14, colour=fore),
            text((x + 19.5, 3.4), words),
        )
    )


def _make(arguments: Arguments) -> Drawing:
    fore, back = arguments.word("foreground"), arguments.word("background")
    ratio = contrast_ratio(read_colour(fore), read_colour(back))

    def across(value: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * math.log(value) / math.log(21)

    passed = [limit for limit in _LIMITS if round(ratio, 2) >= limit]
    x = across(ratio)
    shapes: list[Shape] = [
        _chip(3.0, fore, back, "as it is"),
        _chip(48.0, _grey(fore), _grey(back), "in greyscale"),
        box((_LEFT, _SCALE_Y), _RIGHT - _LEFT, 3.0, THICK, part="scale"),
        box((across(4.5), _SCALE_Y), across(7.0) - across(4.5), 3.0, Pen(fill=SHADE)),
        box((across(7.0), _SCALE_Y), _RIGHT - across(7.0), 3.0, Pen(fill="#7a7a7a")),
        head((x, _SCALE_Y - 0.6), (x, _SCALE_Y - 8), length=4.0, half_width=2.2, pen=Pen(fill=INK)),
        text(
            (min(max(x, 12.0), PAGE_MM - 13.0), _SCALE_Y - 8.2), f"{write_number(ratio, 2)} : 1", size_pt=13, bold=True
        ),
    ]
    for value in (1.0, *_LIMITS, 21.0):
        place = across(value)
        shapes.append(line((place, _SCALE_Y), (place, _SCALE_Y + 4.4), THICK, f"limit-{value:g}"))
        shapes.append(text((place, _SCALE_Y + 7.2), f"{value:g}"))
    words = {0: "too little for text", 1: "large text only", 2: "enough for text", 3: "enough for small and worn print"}
    shapes.append(text((PAGE_MM / 2, _SCALE_Y + 13.4), words[len(passed)], bold=True))
    return Drawing(
        name=_NAME,
        title=f"Contrast of {fore} on {back}: {write_number(ratio, 2)} to 1",
        description=(
            f"Letters of {fore} on {back}, as they are and in greyscale. Their contrast is "
            f"{write_number(ratio, 2)} to 1; "
            f"the scale has marks at 3, 4.5 and 7. {words[len(passed)].capitalize()}."
        ),
        width_mm=PAGE_MM,
        height_mm=_SCALE_Y + 16.5,
        body="".join(shapes),
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how strongly two colours stand out from each other",
    make=_make,
    parameters=(
        Parameter(name="foreground", words="of the letters", colour=True, default="#000000"),
        Parameter(name="background", words="behind them", colour=True, default="#ffffff"),
    ),
)
