"""Rules of legibility, held against printed sides: sizes, distances, lines, contrast, place on the side.

    layout (`laid_out`), or a PDF read back ─► sides, letter by letter (`sheet`) ─► what breaks a rule

House rules after published ones; each constant names the text that it is made after. Numbers marked "restated" were
read as restated by others. Line length, faces and fields to write in are judged on the stylesheet too: `stylesheet`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise
from statistics import median

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.position import Position
from builder.printing.repairs import REPAIRS
from builder.printing.sheet import Colour, Ground, Letter, Sheet, forget_sheets, ink_lines, lines, places_of

MM_PER_PT = 25.4 / 72
# Layout works in CSS pixels; sizes come back rounded.
HAIR_PT = 0.05

FLOOR_PT = 10.0  # L01: never below 10 pt at 600 mm (CAP 676, issue 3, chapter 7, restated)
STEP_PT = 12.0  # L01: 12 pt for the body of steps (CAP 676, restated)
STEP_MM = 500.0  # and in proportion where it is read from nearer than on the stand; a house number
HEADING_PT = 12.0  # L02: headings never below 12 pt (CAP 676, restated)
X_HEIGHT_MM = 2.54  # L03: lower-case letters 0.10 in high (Degani 1992, NASA CR-177605, restated)
LETTER_FACTOR = 0.004  # L04: height at least 0.004 of the distance (NUREG-0700 rev. 3, 11.4.1.5-1)
SAFETY_PT = 12.0  # L06: safety text 12 pt (ISO/IEC Guide 37:2012, read in an identical adoption)
EXTRA_LEADING = 0.25  # L07: a quarter of the size between lines (Degani 1992, recommendation 9, restated)
LINE_LETTERS = 80  # L10: at most 80 letters a line (WCAG 2.x, 1.4.8)
CONTRAST, LARGE_CONTRAST = 4.5, 3.0  # L17: WCAG 2.2, 1.4.3
LARGE_PT, LARGE_BOLD_PT = 18.0, 14.0
TICK_MM = 5.0  # L24: house number
ROW_LINES = 6  # a ruled row of a table may have as many lines
TEXT_SHARE = 0.3  # what stands in a column of its own and is longer is no value but running text; a house number
GAP_SHARE = 0.4  # N09: after Degani 1992, section 3.7; the share is a house number
# L19: ISO 3864-4 colours as publicly listed; they are for safety only.
SAFETY_COLOURS: tuple[Colour, ...] = tuple(
    (red / 255, green / 255, blue / 255)
    for red, green, blue in ((0xF9, 0xA9, 0x00), (0xD0, 0x5D, 0x29), (0x9B, 0x24, 0x23), (0x00, 0x53, 0x87))
)
MOST_ACCENTS = 1
# What is nearer to the edge of the paper runs out over it.
_AT_EDGE_PT = 1.0
MARGIN_SLACK_PT = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """L23: what stays free of text on a side [mm]; house numbers, after CAP 676's room for binding and thumb.

    The bands at head and foot, which name card and side, may stand nearer to the edge. The binding edge changes over
    on backs where it is mirrored.
    """

    binding_mm: float = 20.0
    other_mm: float = 10.0
    band_mm: float = 4.0
    above_mm: float = 0.0
    mirrored: bool = True

    def room_pt(self, side: int, width_pt: float, height_pt: float) -> tuple[float, float, float, float]:
        """Between what text stands on a side of this number: left, top, right, bottom [pt]."""
        odd = side % 2 == 1 or not self.mirrored
        left = (self.binding_mm if odd else self.other_mm) / MM_PER_PT
        right = width_pt - (self.other_mm if odd else self.binding_mm) / MM_PER_PT
        return left, max(self.band_mm, self.above_mm) / MM_PER_PT, right, height_pt - self.band_mm / MM_PER_PT


@dataclass(frozen=True, slots=True, kw_only=True)
class CardTexts:
    """What a card must show, to be looked for on its sides.

    `guarded` pairs a caution with the step that it stands before; `torques` are the figures as they are printed;
    `marks` are the texts that every side must carry; `x_height` is that of the face, as a share of its size;
    `small_letters_mm` is how high the small letters of steps must be at the distance that the card is read from.
    """

    steps: tuple[str, ...] = ()
    headings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    guarded: tuple[tuple[str, str], ...] = ()
    torques: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    x_height: float = 0.5
    cap_height: float = 0.7
    distance_mm: float = 600.0
    small_letters_mm: float = X_HEIGHT_MM
    margins: Margins = field(default_factory=Margins)

    @property
    def step_pt(self) -> float:
        """The least size of steps [pt]."""
        return min(STEP_PT, max(FLOOR_PT, STEP_PT * self.distance_mm / STEP_MM))

    def read_from(self, distance_mm: float) -> CardTexts:
        """The same, to be read from so far: 15 minutes of arc on small letters."""
        return replace(self, distance_mm=distance_mm, small_letters_mm=LETTER_FACTOR * distance_mm)


def check_card(
    sheets: tuple[Sheet, ...], texts: CardTexts, name: str = "card.pdf", *, parts: tuple[Sheet, ...] = ()
) -> tuple[Diagnostic, ...]:
    """Everything on the sides of a card that breaks a rule; `at` names the side as the line of the file.

    `parts` are the blocks that stand side by side on a composed card, each with the number of its side: a gap between
    a label and its value is looked for within a block.
    """
    found = [
        *smallest_letters(sheets),
        *check_sizes(sheets, texts),
        *check_lines(sheets, texts),
        *contrasts(sheets),
        *accents(sheets),
        *within_margins(sheets, texts.margins),
        *tick_boxes(sheets),
        *label_gaps(parts or sheets),
        *cautions_with_steps(texts.guarded, sheets),
        *torques_twice(texts.torques, sheets),
        *marks_on_every_side(texts.marks, sheets),
    ]
    # Who checks a card is about to write it, and both take memory.
    forget_sheets()
    return tuple(replace(one, at=Position(name, one.at.line, 0)) for one in found)


def check_sizes(sheets: tuple[Sheet, ...], texts: CardTexts) -> Iterator[Diagnostic]:
    """What breaks the rules on how large the texts of a card are: each is so somewhere."""
    yield from text_sizes("L01", texts.steps, texts.step_pt, sheets, "a step")
    yield from text_sizes("L02", texts.headings, HEADING_PT, sheets, "a heading")
    yield from text_sizes("L06", texts.cautions, SAFETY_PT, sheets, "a safety message")
    yield from letter_heights(texts, sheets)


def check_lines(sheets: tuple[Sheet, ...], texts: CardTexts) -> Iterator[Diagnostic]:
    """What breaks the rules on the lines of the texts of a card, wherever they stand."""
    yield from leading((*texts.steps, *texts.cautions), sheets)
    yield from line_lengths((*texts.steps, *texts.cautions), sheets)


def _finding(rule: str, side: int, message: str, allowed: str, gravity: Gravity = Gravity.ERROR) -> Diagnostic:
    return Diagnostic(
        rule=rule,
        message=message,
        at=Position("", side, 0),
        gravity=gravity,
        label=f"allowed: {allowed}",
        hints=REPAIRS[rule].hints(rule),
    )


def _text(letters: Iterable[Letter], most: int = 50) -> str:
    text = "".join(letter.text for letter in letters).strip()
    return f"“{text}”" if len(text) <= most else f"“{text[: most - 1]}…”"


def smallest_letters(sheets: Iterable[Sheet]) -> Iterator[Diagnostic]:
    """L01: lines with a letter under 10 pt."""
    for sheet in sheets:
        for line in ink_lines(sheet):
            least = min(letter.size_pt for letter in line)
            if least < FLOOR_PT - HAIR_PT:
                yield _finding("L01", sheet.number, f"{least:.1f} pt: {_text(line)}", f"{FLOOR_PT:g} pt or more")


def text_sizes(
    rule: str, wanted: Iterable[str], least_pt: float, sheets: tuple[Sheet, ...], what: str
) -> Iterator[Diagnostic]:
    """L01, L02, L06: a text that stands nowhere in a size of at least `least_pt`, or nowhere at all."""
    for text in dict.fromkeys(wanted):
        places = list(places_of(text, sheets))
        if not places:
            yield _finding(rule, 0, f"{what} is not on the card: “{text}”", "every text of the card on one side whole")
            continue
        sizes = [min(letter.size_pt for letter in letters if letter.text.strip()) for _, letters in places]
        if max(sizes) < least_pt - HAIR_PT:
            side = places[0][0].number
            yield _finding(rule, side, f"{what} in {max(sizes):.1f} pt: “{text}”", f"{least_pt:g} pt or more")


def letter_heights(texts: CardTexts, sheets: tuple[Sheet, ...]) -> Iterator[Diagnostic]:
    """L03 and L04: small letters of steps under 0.10 in, and capitals too low for the reading distance."""
    least_mm = LETTER_FACTOR * texts.distance_mm
    for text in dict.fromkeys(texts.steps):
        sizes = [max(letter.size_pt for letter in letters) for _, letters in places_of(text, sheets)]
        if not sizes:
            continue
        small_mm = max(sizes) * texts.x_height * MM_PER_PT
        capital_mm = max(sizes) * texts.cap_height * MM_PER_PT
        side = next(places_of(text, sheets))[0].number
        if small_mm < texts.small_letters_mm - 0.01:
            message = f"small letters {small_mm:.2f} mm high: “{text}”"
            yield _finding("L03", side, message, f"{texts.small_letters_mm:g} mm or more", Gravity.WARNING)
        if capital_mm < least_mm - 0.01:
            message = f"capitals {capital_mm:.2f} mm high, read at {texts.distance_mm:g} mm: “{text}”"
            yield _finding("L04", side, message, f"{least_mm:.2f} mm or more")


def leading(wanted: Iterable[str], sheets: tuple[Sheet, ...]) -> Iterator[Diagnostic]:
    """L07: lines of one text that stand nearer to each other than 1.25 times their size."""
    for text in dict.fromkeys(wanted):
        for sheet, letters in places_of(text, sheets):
            rows = list(lines(letters))
            for upper, lower in pairwise(rows):
                size = median(letter.size_pt for letter in lower)
                apart = lower[0].bottom - upper[0].bottom
                if 0 < apart < size * (1 + EXTRA_LEADING) - HAIR_PT:
                    message = f"lines {apart / size:.2f} times their size apart: {_text(lower)}"
                    yield _finding("L07", sheet.number, message, f"{1 + EXTRA_LEADING:g} times or more")
                    break


def line_lengths(wanted: Iterable[str], sheets: tuple[Sheet, ...]) -> Iterator[Diagnostic]:
    """L10: lines of more than 80 letters, spaces counted."""
    for text in dict.fromkeys(wanted):
        for sheet, letters in places_of(text, sheets):
            for row in lines(letters):
                if len(row) <= LINE_LETTERS // 2:  # no spaces could make up for so many
                    continue
                first, last = row[0], row[-1]
                inside = [
                    letter
                    for letter in sheet.letters
                    if first.x0 <= letter.x0 <= last.x0 and abs(letter.bottom - first.bottom) < 1.0
                ]
                if len(inside) > LINE_LETTERS:
                    message = f"{len(inside)} letters in a line: {_text(inside)}"
                    yield _finding("L10", sheet.number, message, f"at most {LINE_LETTERS}", Gravity.WARNING)


def _luminance(colour: Colour) -> float:
    """Relative luminance, from 0 to 1. Source: WCAG 2.2, definition of relative luminance."""
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@lru_cache(maxsize=256)
def contrast_ratio(one: Colour, other: Colour) -> float:
    """Contrast of two colours, from 1 to 21. Source: WCAG 2.2, definition of contrast ratio."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _ground_under(letter: Letter, grounds: tuple[Ground, ...]) -> Colour:
    x, y = (letter.x0 + letter.x1) / 2, (letter.top + letter.bottom) / 2
    return next((ground.colour for ground in reversed(grounds) if ground.holds(x, y)), (1.0, 1.0, 1.0))


def contrasts(sheets: Iterable[Sheet]) -> Iterator[Diagnostic]:
    """L17: lines whose letters stand out too little from their ground; large type may stand out less."""
    for sheet in sheets:
        under = {(1.0, 1.0, 1.0), *(ground.colour for ground in sheet.grounds)}
        safe: dict[tuple[Colour, float], bool] = {}
        for line in ink_lines(sheet):
            for letter in line:
                large = letter.size_pt >= LARGE_PT or (letter.bold and letter.size_pt >= LARGE_BOLD_PT)
                least = LARGE_CONTRAST if large else CONTRAST
                key = (letter.colour, least)
                if key not in safe:  # what stands out from every ground of the side need not be looked for on it
                    safe[key] = all(contrast_ratio(letter.colour, one) >= least for one in under)
                if safe[key]:
                    continue
                ratio = contrast_ratio(letter.colour, _ground_under(letter, sheet.grounds))
                if ratio < least - 0.05:
                    message = f"contrast {ratio:.1f}:1: {_text(line)}"
                    yield _finding("L17", sheet.number, message, f"{least:g}:1 or more")
                    break


def accents(sheets: Iterable[Sheet]) -> Iterator[Diagnostic]:
    """L19: more than one colour besides black, greys, white and the safety colours."""
    seen: dict[Colour, int] = {}
    for sheet in sheets:
        for colour in coloured(sheet, is_side=True):
            seen.setdefault(colour, sheet.number)
    distinct = told_apart(seen)
    if len(distinct) > MOST_ACCENTS:
        written = ", ".join("#" + "".join(f"{round(part * 255):02x}" for part in colour) for colour in distinct)
        message = f"{len(distinct)} colours besides black and the safety colours: {written}"
        yield _finding("L19", seen[distinct[-1]], message, f"at most {MOST_ACCENTS}", Gravity.WARNING)


def coloured(sheet: Sheet, *, is_side: bool = False) -> tuple[Colour, ...]:
    """The colours of a sheet besides black, greys, white and the safety colours.

    Of a whole side, the mark at its outer edge by which cards are sorted is not among what is read.
    """
    over_pt = _AT_EDGE_PT if is_side else -math.inf
    grounds = (one for one in sheet.grounds if one.x0 > over_pt and one.x1 < sheet.width_pt - over_pt)
    shown = (*(one.colour for one in sheet.ink), *(one.colour for one in (*grounds, *sheet.frames)))
    return tuple(
        colour
        for colour in dict.fromkeys(shown)
        if max(colour) - min(colour) > 0.08 and not any(_near(colour, known) for known in SAFETY_COLOURS)
    )


def told_apart(colours: Iterable[Colour]) -> list[Colour]:
    """The colours of some that an eye tells apart."""
    distinct: list[Colour] = []
    for colour in colours:
        if not any(_near(colour, other) for other in distinct):
            distinct.append(colour)
    return distinct


def _near(one: Colour, other: Colour) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) < 0.06


def within_margins(sheets: Iterable[Sheet], margins: Margins) -> Iterator[Diagnostic]:
    """L23: lines in the margin. The binding edge is on the left of odd sides, and on the right of even ones."""
    for sheet in sheets:
        left, top, right, bottom = margins.room_pt(sheet.number, sheet.width_pt, sheet.height_pt)
        for line in ink_lines(sheet):
            over = max(
                left - min(letter.x0 for letter in line),
                max(letter.x1 for letter in line) - right,
                top - min(letter.top for letter in line),
                max(letter.bottom for letter in line) - bottom,
            )
            if over > MARGIN_SLACK_PT:
                message = f"{over * MM_PER_PT:.1f} mm into the margin: {_text(line)}"
                allowed = f"{margins.binding_mm:g} mm at the binding, {margins.other_mm:g} mm elsewhere"
                yield _finding("L23", sheet.number, message, allowed, Gravity.WARNING)


def tick_boxes(sheets: Iterable[Sheet]) -> Iterator[Diagnostic]:
    """L24: square frames that are too small for a marker on laminate."""
    for sheet in sheets:
        for frame in sheet.frames:
            wide_mm, high_mm = (frame.x1 - frame.x0) * MM_PER_PT, (frame.bottom - frame.top) * MM_PER_PT
            if abs(wide_mm - high_mm) < 0.3 and 1.5 < wide_mm < TICK_MM - 0.1:
                message = f"a tick box of {wide_mm:.1f} mm"
                yield _finding("L24", sheet.number, message, f"{TICK_MM:g} mm or more", Gravity.WARNING)


def label_gaps(sheets: Iterable[Sheet]) -> Iterator[Diagnostic]:
    """N09: a label and its value with a wide gap between them, and neither a leader nor a rule to lead the eye."""
    for sheet in sheets:
        letters = sheet.ink
        if not letters:
            continue
        column = max(letter.x1 for letter in letters) - min(letter.x0 for letter in letters)
        # Letters of two sizes on one line end at two heights: the line first, then its letters from the left.
        for line in lines(sorted(letters, key=lambda letter: letter.bottom)):
            for before, after in pairwise(sorted(line, key=lambda letter: letter.x0)):
                gap = after.x0 - before.x1
                if gap <= GAP_SHARE * column or _led(sheet, before, after):
                    continue
                if not _goes_on(after, letters) and not _in_text(after, letters, column):
                    message = f"a gap of {gap / column:.0%} of the column: {_text(line)}"
                    yield _finding("N09", sheet.number, message, f"at most {GAP_SHARE:.0%}", Gravity.WARNING)


def _goes_on(letter: Letter, letters: tuple[Letter, ...]) -> bool:
    """Whether a letter begins a line that goes on from the one above it, as in a column of running text."""
    place = next(number for number, other in enumerate(letters) if other is letter)
    before = letters[place - 1]
    return place > 0 and 0 < letter.bottom - before.bottom < 2 * letter.size_pt and before.x1 > letter.x0


def _in_text(letter: Letter, letters: tuple[Letter, ...], column: float) -> bool:
    """Whether a letter begins a line not far below running text in its own column, which is longer than a value is."""
    above = [
        other.x1
        for other in letters
        if 0 < letter.bottom - other.bottom < ROW_LINES * letter.size_pt and other.x0 >= letter.x0 - HAIR_PT
    ]
    return bool(above) and max(above) - letter.x0 > TEXT_SHARE * column


def _led(sheet: Sheet, before: Letter, after: Letter) -> bool:
    """Whether something that spans the gap leads the eye: a rule under the row or over it, or the row's own band."""
    middle = (before.x1 + after.x0) / 2
    near = before.size_pt * ROW_LINES
    return any(
        one.x0 < middle < one.x1 and (abs(one.bottom - before.bottom) < near or abs(one.top - before.top) < near)
        for one in (*sheet.rules, *sheet.frames, *sheet.grounds)
        if one.bottom - one.top < sheet.height_pt / 2
    )


def cautions_with_steps(guarded: Iterable[tuple[str, str]], sheets: tuple[Sheet, ...]) -> Iterator[Diagnostic]:
    """H03: a caution that stands on no side together with its step, above it or in a column to the left of it."""
    for caution, step in dict.fromkeys(guarded):
        places = list(places_of(step, sheets))
        ahead = list(places_of(caution, sheets))
        together = any(
            sheet is other and _goes_before(first, letters) for sheet, letters in places for other, first in ahead
        )
        if not together:
            side = places[0][0].number if places else 0
            message = f"the caution “{caution}” does not stand above its step “{step}” on one side"
            yield _finding("H03", side, message, "both on one side, the caution first")


def _goes_before(caution: tuple[Letter, ...], step: tuple[Letter, ...]) -> bool:
    if max(letter.x1 for letter in caution) < min(letter.x0 for letter in step):
        return True
    return max(letter.bottom for letter in caution) <= max(letter.bottom for letter in step)


def torques_twice(torques: Iterable[str], sheets: tuple[Sheet, ...]) -> Iterator[Diagnostic]:
    """N07: a torque that is not printed alike at its step and in the torque table."""
    for torque in dict.fromkeys(torques):
        count = sum(1 for _ in places_of(torque, sheets))
        if count < 2:
            yield _finding("N07", 0, f"“{torque}” is printed {count} times", "at its step and in the torque table")


def marks_on_every_side(marks: Iterable[str], sheets: Iterable[Sheet]) -> Iterator[Diagnostic]:
    """S18: a side without the card's title, its code or the bicycle."""
    wanted = tuple(mark for mark in marks if mark)
    for sheet in sheets:
        missing = [mark for mark in wanted if next(places_of(mark, (sheet,)), None) is None]
        if missing:
            message = f"the side does not say {', '.join(f'“{mark}”' for mark in missing)}"
            yield _finding("S18", sheet.number, message, "title, code and bicycle on every side")
