"""What the rules of print need to know of a block wherever it stands: read once, when the block is laid out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain

from builder.printing.legibility import coloured, contrasts, label_gaps, smallest_letters, tick_boxes
from builder.printing.sheet import Colour, Letter, Sheet, squeezed, written_on


@dataclass(frozen=True, slots=True)
class Fill:
    """Words that were set in a block after it was laid out: its letters, and how many of the block's stand before.

    `written_at` counts those of them that `written` has.
    """

    at: int
    written_at: int
    letters: tuple[Letter, ...]


@dataclass(frozen=True, slots=True)
class BlockFacts:
    """Facts of a block, in points from the upper left corner of its page.

    Args:
        digest: of all that was laid out in it, letter by letter.
        written: its letters and figures in one piece.
        left_pt, top_pt, right_pt, bottom_pt: how far its letters reach.
        colours: those besides black, greys and the safety colours.
        is_sound: its letters are large enough and stand out, its boxes can be ticked, its labels are near their values.
    """

    digest: bytes
    written: str
    left_pt: float
    top_pt: float
    right_pt: float
    bottom_pt: float
    colours: tuple[Colour, ...]
    is_sound: bool


def facts_of(sheet: Sheet, digest: bytes, *, is_side: bool = False, judged: Sheet | None = None) -> BlockFacts:
    """The facts of a block that stands on a sheet of its own, or of the bands of a whole side.

    `judged` is the same with stand-ins in its open places: it must be as sound as what will stand there.
    """
    ink, judged = sheet.ink, judged or sheet
    one = (judged,)
    rules = (smallest_letters(one), contrasts(one), tick_boxes(one), label_gaps(one))
    return BlockFacts(
        digest=digest,
        written=written_on(sheet),
        left_pt=min((letter.x0 for letter in ink), default=0.0),
        top_pt=min((letter.top for letter in ink), default=0.0),
        right_pt=max((letter.x1 for letter in ink), default=0.0),
        bottom_pt=max((letter.bottom for letter in ink), default=0.0),
        colours=coloured(judged, is_side=is_side),
        is_sound=next(chain.from_iterable(rules), None) is None,
    )


def filled_facts(facts: BlockFacts, fills: Sequence[Fill]) -> BlockFacts:
    """The facts of a block with words in its open places, in the order in which they stand there.

    They are as large and as dark as the stand-ins that the block was judged with.
    """
    ink = [letter for fill in fills for letter in fill.letters if letter.text.strip()]
    if not ink:
        return facts
    written = facts.written
    for fill in reversed(fills):
        text = squeezed("".join(letter.text for letter in fill.letters))
        written = written[: fill.written_at] + text + written[fill.written_at :]
    left, top = min(letter.x0 for letter in ink), min(letter.top for letter in ink)
    right, bottom = max(letter.x1 for letter in ink), max(letter.bottom for letter in ink)
    if facts.written:
        left, top = min(left, facts.left_pt), min(top, facts.top_pt)
        right, bottom = max(right, facts.right_pt), max(bottom, facts.bottom_pt)
    return replace(facts, written=written, left_pt=left, top_pt=top, right_pt=right, bottom_pt=bottom)


def with_fills(sheet: Sheet, fills: Sequence[Fill]) -> Sheet:
    """A block letter by letter, with the words in its open places, in their order."""
    letters = list(sheet.letters)
    for fill in reversed(fills):
        letters[fill.at : fill.at] = fill.letters
    return replace(sheet, letters=tuple(letters))
