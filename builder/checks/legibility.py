"""Print: how high letters must be for the distance they are read from, and what fits on a card."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from builder.checks.check import Family, check
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Bounds, In, Meaning
from builder.model.units import Unit, write_number, write_quantity

HEIGHT_SOURCE = Source(
    title="NUREG-0700 rev. 3, human-system interface design review guidelines",
    locator="11.4.1.5-1, labels: 15 minutes of arc, 20 preferred; 1.3.1-4 of rev. 2, text: 16, better 20 to 22",
    provenance=Provenance.LOOKED_UP,
)
FIT_SOURCE = Source(
    title="Printers' estimate: a letter is on average half as wide as its type size",
    provenance=Provenance.COMMON_PRACTICE,
)
# Text to be read asks for a little more than the few words of a label.
TEXT_ARCMIN, LABEL_ARCMIN, PREFERRED_ARCMIN = 16.0, 15.0, 20.0
# Height of a capital as a share of the type size; common practice, 0.66 to 0.74 for sans-serif type.
CAPITAL_SHARE = 0.7
_POINT_MM = 25.4 / 72
# Average width of a letter as a share of the type size; common practice, with its spread.
_USUAL_WIDTH, _WIDE_WIDTH = 0.5, 0.55


def letter_height_mm(distance_mm: float, angle_arcmin: float) -> float:
    """Height that shows under a visual angle [mm]: 2 · distance · tan(angle / 2). Source: definition."""
    return 2 * distance_mm * math.tan(math.radians(angle_arcmin / 60) / 2)


@check(
    family=Family.PRINT,
    title="Letter height for a distance",
    purpose="A card hangs at the stand and is read from half a metre and more. This is how high its letters must be.",
    formula=r"h = 2\,D\,\tan\frac{\alpha}{2}",
    source=HEIGHT_SOURCE,
    at_verdict={
        Verdict.FITS: "Set the text at this height or higher.",
        Verdict.WITH_CARE: "Readable in good light. Set torque values and cautions larger.",
        Verdict.DOES_NOT_FIT: "Too small from there: larger type, or a card that hangs nearer.",
    },
    example={"distance": "600 mm", "angle": "16 arcmin"},
    drawing="visual-angle",
    notes=(
        "Text asks for 16 minutes of arc, a label of a word or two for 15; 20 to 22 are preferred. All for good eyes "
        "and good light. Type size is worked out from capitals of 0.7 of it (common practice, 0.66 to 0.74); small "
        "letters are about 0.5."
    ),
)
def letter_height(
    distance_mm: Annotated[float, In(Unit.MILLIMETRE), Bounds(150, 20000), Meaning("eye to card")],
    angle: Annotated[
        float | None,
        In(Unit.ARC_MINUTE),
        Bounds(5, 120),
        Meaning("visual angle of a letter's height; the least for what is read if left out"),
    ] = None,
    height_mm: Annotated[
        float | None, In(Unit.MILLIMETRE), Bounds(0.5, 500), Meaning("height of the letters that are there")
    ] = None,
    reading: Annotated[Literal["text", "label"], Meaning("what is read: sentences, or a word or two")] = "text",
) -> CheckResult:
    """Least height of letters for a reading distance, held against a given height if there is one.

    Source: NUREG-0700, 11.4.1.5-1 of rev. 3 for labels, 1.3.1-4 of rev. 2 for text.
    """
    if angle is None:
        angle = TEXT_ARCMIN if reading == "text" else LABEL_ARCMIN
    needed = letter_height_mm(distance_mm, angle)
    preferred = letter_height_mm(distance_mm, PREFERRED_ARCMIN)
    size = needed / CAPITAL_SHARE / _POINT_MM
    tangent = math.tan(math.radians(angle / 60) / 2)
    n = write_number
    working = [
        f"Half the angle in degrees: {n(angle)} ÷ 60 ÷ 2 = {n(angle / 120, 4)}°",
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
        verdict=verdict,
        value=needed,
        unit=Unit.MILLIMETRE,
        limit=height_mm,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("preferred", preferred, Unit.MILLIMETRE), named("type-size", size, Unit.POINT)),
    )


def characters_a_line(width_mm: float, size_pt: float, letter_share: float = _USUAL_WIDTH) -> int:
    """Characters that stand on a line of a width, at an average letter of so large a share of the type size."""
    return int(round(width_mm / (letter_share * size_pt * _POINT_MM), 9))


def lines_available(height_mm: float, size_pt: float, line_height: float) -> int:
    """Lines that stand under each other in a height."""
    return int(round(height_mm / (line_height * size_pt * _POINT_MM), 9))


@check(
    family=Family.PRINT,
    title="What fits on a card",
    purpose="An estimate, before anything is laid out, whether a text has room at the type size that can be read.",
    formula=(
        r"n = \left\lceil \frac{c}{\lfloor w / 0.5\,s \rfloor} \right\rceil \le "
        r"\left\lfloor \frac{h}{l\,s} \right\rfloor"
    ),
    source=FIT_SOURCE,
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
def text_fit(
    characters: Annotated[int, Bounds(1, 100_000), Meaning("length of the text with its spaces")],
    width_mm: Annotated[float, In(Unit.MILLIMETRE), Bounds(20, 1000), Meaning("width of the column")],
    room_mm: Annotated[float, In(Unit.MILLIMETRE), Bounds(5, 1500), Meaning("height that is free for the text")],
    size: Annotated[float, In(Unit.POINT), Bounds(5, 100), Meaning("type size")],
    line_height: Annotated[float, Bounds(1, 3), Meaning("distance of lines as a multiple of the type size")] = 1.35,
) -> CheckResult:
    """Lines that a text takes against the lines that the card has room for.

    Source: printers' estimate, common practice: half the type size a letter, 0.45 to 0.55.
    """
    usual = max(characters_a_line(width_mm, size), 1)
    wide = max(characters_a_line(width_mm, size, _WIDE_WIDTH), 1)
    room = lines_available(room_mm, size, line_height)
    needed, at_worst = math.ceil(characters / usual), math.ceil(characters / wide)
    n = write_number
    letter, line = _USUAL_WIDTH * size * _POINT_MM, line_height * size * _POINT_MM
    if at_most(at_worst, room):
        verdict, advice = Verdict.FITS, f"{room - needed} lines are left."
    elif at_most(needed, room):
        verdict, advice = Verdict.WITH_CARE, "It fits with narrow letters only: look at the printed proof."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Shorten to {usual * room} characters, or give the text another side. Don't make the type smaller."
    return CheckResult(
        verdict=verdict,
        value=float(needed),
        unit=Unit.ONE,
        limit=float(room),
        margin=float(room - needed),
        working=(
            f"Average letter: 0.5 × {n(size)} pt × 0.3528 = {n(letter, 2)} mm",
            f"Letters a line: {n(width_mm)} ÷ {n(letter, 2)} = {usual}, rounded down",
            f"Lines needed: {characters} ÷ {usual} = {needed}, rounded up",
            f"Height of a line: {n(line_height, 2)} × {n(size)} pt × 0.3528 = {n(line, 2)} mm",
            f"Lines there is room for: {n(room_mm)} ÷ {n(line, 2)} = {room}, rounded down",
            f"With wide letters (0.55 of the type size): {at_worst} lines",
        ),
        advice=advice,
        values=(named("characters-a-line", float(usual)), named("capacity", float(usual * room))),
    )
