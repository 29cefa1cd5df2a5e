"""Print: how high letters must be for the distance they are read from, and what fits on a card."""

from __future__ import annotations

import math

from builder.checks.judging import at_least, at_most, named, number, number_or_none, quantity, whole
from builder.checks.result import Check, CheckResult, Input, Inputs, Kind, Provenance, Source, Verdict
from builder.model.units import Unit, write_number, write_quantity

HEIGHT_SOURCE = Source(
    title="NUREG-0700 rev. 3, human-system interface design review guidelines",
    locator="11.4.1.5-1: 15 minutes of arc at least, 20 preferred",
    provenance=Provenance.LOOKED_UP,
)
FIT_SOURCE = Source(
    title="Printers' estimate: a letter is on average half as wide as its type size",
    provenance=Provenance.COMMON_PRACTICE,
)
LEAST_ARCMIN, PREFERRED_ARCMIN = 15.0, 20.0
# Height of a capital as a share of the type size; common practice, 0.66 to 0.74 for sans-serif type.
CAPITAL_SHARE = 0.7
_POINT_MM = 25.4 / 72
# Average width of a letter as a share of the type size; common practice, with its spread.
_USUAL_WIDTH, _WIDE_WIDTH = 0.5, 0.55


def letter_height_mm(distance_mm: float, angle_arcmin: float) -> float:
    """Height that shows under a visual angle [mm]: 2 · distance · tan(angle / 2). Source: definition."""
    return 2 * distance_mm * math.tan(math.radians(angle_arcmin / 60) / 2)


def letter_height(
    *, distance_mm: float, angle_arcmin: float = LEAST_ARCMIN, height_mm: float | None = None
) -> CheckResult:
    """Least height of letters for a reading distance, held against a given height if there is one.

    Args:
        distance_mm: eye to card [mm].
        angle_arcmin: visual angle of the letter's height [minutes of arc], 15 at least, 20 preferred.
        height_mm: height of the letters that are there [mm].

    Source: NUREG-0700 rev. 3, 11.4.1.5-1.
    """
    needed = letter_height_mm(distance_mm, angle_arcmin)
    preferred = letter_height_mm(distance_mm, PREFERRED_ARCMIN)
    size = needed / CAPITAL_SHARE / _POINT_MM
    tangent = math.tan(math.radians(angle_arcmin / 60) / 2)
    n = write_number
    working = [
        f"Half the angle in degrees: {n(angle_arcmin)} ÷ 60 ÷ 2 = {n(angle_arcmin / 120, 4)}°",
        f"Its tangent: {n(tangent, 7)}",
        f"Height: 2 × {n(distance_mm)} mm × {n(tangent, 7)} = {write_quantity(needed, Unit.MILLIMETRE, 2)}",
        f"Type whose capitals are so high: {n(needed, 2)} ÷ 0.7 ÷ 0.3528 = {write_quantity(size, Unit.POINT)}",
    ]
    margin = None if height_mm is None else height_mm - needed
    if height_mm is not None and margin is not None:
        working.append(f"Margin: {n(height_mm, 2)} − {n(needed, 2)} = {n(margin, 2)} mm")
    if margin is not None and not at_least(margin, 0.0):
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Make the letters {write_quantity(needed, Unit.MILLIMETRE, 2)} high, or stand nearer."
    elif height_mm is not None and not at_least(height_mm, preferred):
        verdict = Verdict.WITH_CARE
        advice = f"Readable in good light; {write_quantity(preferred, Unit.MILLIMETRE, 2)} are preferred."
    else:
        verdict = Verdict.FITS
        advice = f"Letters of {write_quantity(needed, Unit.MILLIMETRE, 2)} or more can be read from there."
    return CheckResult(
        check=LETTER_HEIGHT.name,
        verdict=verdict,
        value=needed,
        unit=Unit.MILLIMETRE,
        limit=height_mm,
        margin=margin,
        working=tuple(working),
        source=str(HEIGHT_SOURCE),
        advice=advice,
        values=(named("preferred", preferred, Unit.MILLIMETRE), named("type-size", size, Unit.POINT)),
    )


def characters_a_line(width_mm: float, size_pt: float, letter_share: float = _USUAL_WIDTH) -> int:
    """Characters that stand on a line of a width, at an average letter of so large a share of the type size."""
    return int(round(width_mm / (letter_share * size_pt * _POINT_MM), 9))


def lines_available(height_mm: float, size_pt: float, line_height: float) -> int:
    """Lines that stand under each other in a height."""
    return int(round(height_mm / (line_height * size_pt * _POINT_MM), 9))


def text_fit(*, characters: int, width_mm: float, height_mm: float, size_pt: float, line_height: float) -> CheckResult:
    """Lines that a text takes against the lines that the card has room for.

    Args:
        characters: length of the text, spaces included.
        width_mm, height_mm: room for it [mm].
        size_pt: type size [pt].
        line_height: distance of lines as a multiple of the type size.

    Source: printers' estimate, common practice: half the type size a letter, 0.45 to 0.55.
    """
    usual = max(characters_a_line(width_mm, size_pt), 1)
    wide = max(characters_a_line(width_mm, size_pt, _WIDE_WIDTH), 1)
    room = lines_available(height_mm, size_pt, line_height)
    needed, at_worst = math.ceil(characters / usual), math.ceil(characters / wide)
    n = write_number
    letter, line = _USUAL_WIDTH * size_pt * _POINT_MM, line_height * size_pt * _POINT_MM
    if at_most(at_worst, room):
        verdict, advice = Verdict.FITS, f"{room - needed} lines are left."
    elif at_most(needed, room):
        verdict, advice = Verdict.WITH_CARE, "It fits with narrow letters only: look at the printed proof."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Shorten to {usual * room} characters, or give the text another side. Don't make the type smaller."
    return CheckResult(
        check=TEXT_FIT.name,
        verdict=verdict,
        value=float(needed),
        unit=Unit.ONE,
        limit=float(room),
        margin=float(room - needed),
        working=(
            f"Average letter: 0.5 × {n(size_pt)} pt × 0.3528 = {n(letter, 2)} mm",
            f"Letters a line: {n(width_mm)} ÷ {n(letter, 2)} = {usual}, rounded down",
            f"Lines needed: {characters} ÷ {usual} = {needed}, rounded up",
            f"Height of a line: {n(line_height, 2)} × {n(size_pt)} pt × 0.3528 = {n(line, 2)} mm",
            f"Lines there is room for: {n(height_mm)} ÷ {n(line, 2)} = {room}, rounded down",
            f"With wide letters (0.55 of the type size): {at_worst} lines",
        ),
        source=str(FIT_SOURCE),
        advice=advice,
        values=(named("characters-a-line", float(usual)), named("capacity", float(usual * room))),
    )


def _run_height(inputs: Inputs) -> CheckResult:
    return letter_height(
        distance_mm=number(inputs, "distance"),
        angle_arcmin=number(inputs, "angle"),
        height_mm=number_or_none(inputs, "height"),
    )


def _run_fit(inputs: Inputs) -> CheckResult:
    return text_fit(
        characters=whole(inputs, "characters"),
        width_mm=number(inputs, "width"),
        height_mm=number(inputs, "room"),
        size_pt=number(inputs, "size"),
        line_height=number(inputs, "line-height"),
    )


LETTER_HEIGHT = Check(
    name="letter-height",
    family="print",
    title="Letter height for a distance",
    purpose="A card hangs at the stand and is read from half a metre and more. This is how high its letters must be.",
    formula=r"h = 2\,D\,\tan\frac{\alpha}{2}",
    inputs=(
        quantity("distance", "eye to card", Unit.MILLIMETRE, 150, 20000),
        quantity("angle", "visual angle of a letter's height", Unit.ARC_MINUTE, 5, 120, default=LEAST_ARCMIN),
        quantity("height", "height of the letters that are there", Unit.MILLIMETRE, 0.5, 500, optional=True),
    ),
    source=HEIGHT_SOURCE,
    run=_run_height,
    at_verdict={
        Verdict.FITS: "Set the text at this height or higher.",
        Verdict.WITH_CARE: "Readable in good light. Set torque values and cautions larger.",
        Verdict.DOES_NOT_FIT: "Too small from there: larger type, or a card that hangs nearer.",
    },
    example={"distance": "600 mm", "angle": "15 arcmin"},
    drawing="visual-angle",
    notes=(
        "15 minutes of arc are the least and 20 are preferred, for good eyes and good light. Type size is worked out "
        "from capitals of 0.7 of it (common practice, 0.66 to 0.74); small letters are about 0.5."
    ),
)

TEXT_FIT = Check(
    name="text-fit",
    family="print",
    title="What fits on a card",
    purpose="An estimate, before anything is laid out, whether a text has room at the type size that can be read.",
    formula=(
        r"n = \left\lceil \frac{c}{\lfloor w / 0.5\,s \rfloor} \right\rceil \le "
        r"\left\lfloor \frac{h}{l\,s} \right\rfloor"
    ),
    inputs=(
        Input(name="characters", words="length of the text with its spaces", kind=Kind.WHOLE, low=1, high=100_000),
        quantity("width", "width of the column", Unit.MILLIMETRE, 20, 1000),
        quantity("room", "height that is free for the text", Unit.MILLIMETRE, 5, 1500),
        quantity("size", "type size", Unit.POINT, 5, 100),
        quantity("line-height", "distance of lines as a multiple of the type size", Unit.ONE, 1, 3, default=1.35),
    ),
    source=FIT_SOURCE,
    run=_run_fit,
    at_verdict={
        Verdict.FITS: "There is room.",
        Verdict.WITH_CARE: "It depends on the letters: look at the printed proof.",
        Verdict.DOES_NOT_FIT: "Shorten the text or take another side. Never shrink the type below what can be read.",
    },
    example={"characters": "620", "width": "128 mm", "room": "110 mm", "size": "14 pt"},
    notes=(
        "Common practice, no source: an average letter of a sans-serif face is 0.45 to 0.55 of the type size wide. The "
        "laid-out card decides; this only warns early."
    ),
)

CHECKS = (LETTER_HEIGHT, TEXT_FIT)
