"""Contrast of two colours, as WCAG 2.2 defines it."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from builder.checks.check import Family, check
from builder.checks.judging import at_least, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.model.fields import Meaning
from builder.model.units import Unit, write_number

SOURCE = Source(
    title="WCAG 2.2, relative luminance and contrast ratio",
    locator="success criteria 1.4.3 and 1.4.6",
    provenance=Provenance.LOOKED_UP,
)
TEXT_RATIO, LARGE_TEXT_RATIO, ENHANCED_RATIO = 4.5, 3.0, 7.0
_COLOUR = re.compile(r"#?([0-9a-f]{3}|[0-9a-f]{6})", re.IGNORECASE)
_WEIGHTS = (0.2126, 0.7152, 0.0722)

Channels = tuple[int, int, int]


def read_colour(written: str) -> Channels:
    """Red, green and blue, 0 to 255, of `#rrggbb` or `#rgb`.

    Raises:
        InputError: not such a colour.
    """
    found = _COLOUR.fullmatch(written.strip())
    if found is None:
        raise InputError(f"'{written}' is not a colour; write '#' and six hexadecimal digits, such as '#1a1a1a'")
    digits = found[1] if len(found[1]) == 6 else "".join(digit * 2 for digit in found[1])
    return int(digits[0:2], 16), int(digits[2:4], 16), int(digits[4:6], 16)


def linear_channel(value: int) -> float:
    """Light of one sRGB channel, 0 to 1, from its value, 0 to 255. Source: WCAG 2.2, relative luminance."""
    share = value / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


def relative_luminance(colour: Channels) -> float:
    """Relative luminance, 0 for black and 1 for white. Source: WCAG 2.2."""
    return sum(weight * linear_channel(value) for weight, value in zip(_WEIGHTS, colour, strict=True))


def contrast_ratio(first: Channels, second: Channels) -> float:
    """Contrast ratio of two colours, 1 to 21: (lighter + 0.05) / (darker + 0.05). Source: WCAG 2.2."""
    darker, lighter = sorted((relative_luminance(first), relative_luminance(second)))
    return (lighter + 0.05) / (darker + 0.05)


@check(
    family=Family.PRINT,
    title="Contrast of text",
    purpose="A card is read under a workshop lamp, through laminate, with oil on it. Letters must stand out.",
    formula=(
        r"c = \frac{L_1 + 0.05}{L_2 + 0.05} \qquad L = 0.2126\,R + 0.7152\,G + 0.0722\,B \qquad "
        r"R = \left(\frac{r + 0.055}{1.055}\right)^{2.4}"
    ),
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "Readable: at least 4.5 to 1, or 3 to 1 for large text.",
        Verdict.DOES_NOT_FIT: "Make the letters darker, the ground lighter, or, from 3 to 1 on, the letters large.",
    },
    example={"foreground": "#1a1a1a", "background": "#ffffff"},
    drawing="contrast-pair",
    notes=(
        "R, G and B are the linear shares of light; a channel r up to 0.04045 is simply divided by 12.92. The ratio "
        "runs from 1 to 21. It is defined for screens; on paper take it as a guide, and print a proof."
    ),
)
def contrast(
    foreground: Annotated[str, Meaning("colour of the letters, such as #1a1a1a")],
    background: Annotated[str, Meaning("colour behind them, such as #ffffff")],
    size: Annotated[Literal["text", "large"], Meaning("large from 18 pt, or bold from 14 pt")] = "text",
) -> CheckResult:
    """Contrast of letters on their ground against what WCAG asks for: 4.5, or 3 for size text.

    Source: WCAG 2.2, 1.4.3 and 1.4.6.
    """
    colours = read_colour(foreground), read_colour(background)
    ratio = contrast_ratio(*colours)
    front, back = relative_luminance(colours[0]), relative_luminance(colours[1])
    darker, lighter = sorted((front, back))
    n = write_number
    limit = LARGE_TEXT_RATIO if size == "large" else TEXT_RATIO
    if at_least(ratio, limit):
        verdict = Verdict.FITS
        grade = "even for the enhanced grade" if at_least(ratio, ENHANCED_RATIO) else "for this size of text"
        advice = f"Enough contrast {grade}."
    elif at_least(ratio, LARGE_TEXT_RATIO):
        verdict = Verdict.DOES_NOT_FIT
        advice = "Only for size text (18 pt and more, or bold from 14 pt) and for symbols."
    else:
        verdict, advice = Verdict.DOES_NOT_FIT, "Not for text: make the one darker or the other lighter."
    return CheckResult(
        verdict=verdict,
        value=ratio,
        unit=Unit.ONE,
        limit=limit,
        margin=ratio - limit,
        working=(
            *_luminance_working("Foreground", colours[0]),
            *_luminance_working("Background", colours[1]),
            f"Ratio: ({n(lighter, 4)} + 0.05) ÷ ({n(darker, 4)} + 0.05) = {n(ratio, 2)}",
        ),
        advice=advice,
        values=(named("luminance-foreground", front), named("luminance-background", back)),
    )


def _luminance_working(what: str, colour: Channels) -> tuple[str, str]:
    n = write_number
    lights = [linear_channel(value) for value in colour]
    terms = " + ".join(f"{n(weight, 4)} × {n(light, 4)}" for weight, light in zip(_WEIGHTS, lights, strict=True))
    shown = ", ".join(f"{value} gives {n(light, 4)}" for value, light in zip(colour, lights, strict=True))
    return (
        f"{what}, red, green and blue out of 255: {shown}",
        f"{what}, luminance: {terms} = {n(relative_luminance(colour), 4)}",
    )
