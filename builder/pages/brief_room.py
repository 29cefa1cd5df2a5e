"""How high the blocks of a brief card stand, reckoned from their letters before anything is laid out.

    blocks and their markup ─► about how high each is ─► how many sides they take

So the size of the type is chosen with the card's words, and no block is laid out twice. The figures are those of the
shipped theme's `blocks.css`; another theme's card may come out less full, or with a side more than it could.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from markupsafe import Markup

from builder.composing import Block, End, TooHigh, fewest
from builder.pages.draft import Draft, filled_sides
from builder.pages.leaf import Leaf, larger, narrowed
from builder.pages.letter_widths import PT_MM, lines_of

# A field to write in is as wide as so many letters; a sign before a signal word as two.
_FIELD = re.compile(r'<span class="line short"></span>')
# What is not broken over lines: a reading with its field and unit, a figure, a step's name and its first word.
_WHOLE = re.compile(r'<(?:span|b) class="(?:reading|value|with)">([^<]*)</(?:span|b)>')
_NAME = re.compile(r'(<b class="see">\w+)</b>\s*(?:&#160;)?\s*')
_NO_BREAK = "f"
# Bold words in a text are wider by so many letters a letter.
_BOLD_TEXT, _WIDER_BOLD = re.compile(r"<b>([^<]*)</b>"), 0.05
# A figure and its fastener, larger and bold, are wider than their letters by so much.
_FIELD_LETTERS, _SIGN_LETTERS, _BOLDER = "nnnnnnnn", "mm ", " nnnn"
# Boxes and what stands beside them [mm]: before a line, before a heading, beside the title; the code of the page.
_BOX_MM, _BOX_DENSE_MM, _LETTER_MM, _HOW_MM, _CODE_MM = 6.6, 6.0, 15.2, 62.0, 27.0
_SAFETY_PT, _HEADING_PT, _BOLD = 12.0, 12.0, 1.1
# A figure is set larger than its line; a field to write in is higher, two to a line; what reaches below the last line;
# the names at the end [mm].
_FIGURE_MM, _WRITTEN_MM, _BELOW_MM, _NAMES_MM = 0.85, 0.46, 0.45, 15.6
# So many lines may have one tick, where that saves a side.
_RUNS = (2, 3, 4, 6, 8)
# By how much a card that leaves room is enlarged, the most first, as long as a column has some 40 letters.
_LARGER, _LEAST_COLUMN_MM = (1.4, 1.35, 1.3, 1.25, 1.2, 1.15, 1.1, 1.05), 66.0
# What is reckoned is a little less than what is laid out: so much of a side is counted, less of one that is enlarged,
# and more of a dense one with columns, whose many short lines are reckoned best.
_SURE, _SURE_DENSE, _SURE_ENLARGED = 0.985, 0.995, 0.965


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How the lines of a brief card are set: their size [pt], and from one line to the next as a share of it."""

    size_pt: float
    line: float

    @property
    def line_mm(self) -> float:
        """From one line to the next [mm]."""
        return self.size_pt * self.line * PT_MM


# As large as on the stand to the eye, and the least that is printed.
USUAL, DENSE = Setting(size_pt=10.5, line=1.17), Setting(size_pt=10.0, line=1.18)


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefDraft(Draft):
    """A brief card that is not laid out, and how its lines are set."""

    setting: Setting


def sides_of(draft: BriefDraft, leaf: Leaf | None = None) -> float:
    """About how many sides a card takes, on its leaf or on an enlarged one; infinite where something does not fit."""
    usual = _SURE_DENSE if draft.setting is DENSE and draft.leaf.columns > 1 else _SURE
    sure = usual if leaf is None else _SURE_ENLARGED
    leaf = leaf or draft.leaf
    frame = replace(leaf.frame, height_mm=leaf.frame.height_mm * sure)
    try:
        return fewest(_reckoned(draft, leaf), frame)
    except TooHigh:
        return math.inf


def _reckoned(draft: BriefDraft, leaf: Leaf | None = None) -> list[Block]:
    """The blocks of a card with the heights that they have about."""
    room = narrowed(leaf or draft.leaf, draft.letter_width)
    return [
        Block(
            height_mm=height_mm(block.kind, markup, room, draft.setting, wide=block.spans),
            gap_mm=block.gap_mm,
            keeps_next=block.keeps,
            spans=block.spans,
            ends=End(block.ends or "nothing"),
        )
        for block, markup in draft.sections()
    ]


def fitted(draft: Callable[[int], BriefDraft]) -> BriefDraft:
    """The draft with the fewest lines to a tick that saves a side or a leaf; that with one where none does.

    `draft` makes the card with runs of so many lines.
    """
    usual = draft(1)
    sides = sides_of(usual)
    if sides == 1:
        return usual
    densest = draft(_RUNS[-1])
    at_least = math.ceil(filled_sides(_reckoned(densest), densest.leaf.frame))
    if _leaves(at_least, usual.leaf) >= _leaves(sides, usual.leaf):
        return usual
    for run in _RUNS:
        dense = draft(run)
        if _leaves(sides_of(dense), usual.leaf) < _leaves(sides, usual.leaf):
            return dense
    return usual


def _leaves(sides: float, leaf: Leaf) -> float:
    """How many leaves so many sides take. Of a leaf that is large, one side is worth half: it need not be turned."""
    if sides <= 1 and leaf.columns > 1:
        return 0.5
    return math.inf if math.isinf(sides) else math.ceil(sides / 2)


def roomiest(draft: BriefDraft) -> Leaf:
    """The leaf with the largest type that takes no side more, so that a card that is not full is read from farther."""
    sides = sides_of(draft)
    begin, end = 0, len(_LARGER)
    while begin < end:
        middle = (begin + end) // 2
        wider = larger(draft.leaf, _LARGER[middle])
        if wider.column_mm >= _LEAST_COLUMN_MM and sides_of(draft, wider) <= sides:
            end = middle
        else:
            begin = middle + 1
    return larger(draft.leaf, _LARGER[begin]) if begin < len(_LARGER) else draft.leaf


def height_mm(kind: str, markup: str, leaf: Leaf, setting: Setting, *, wide: bool = False) -> float:
    """About how high a block stands [mm]."""
    measure_mm = leaf.text_mm if wide else leaf.column_mm
    text = _plain(markup)
    match kind:
        case "brief-head":
            return _head_mm(markup, measure_mm, setting)
        case "get":
            items = [_plain(item) for item in markup.split("<li>")[1:]]
            rows = sum(max(5.2, lines_of(item, setting.size_pt * _BOLD, measure_mm - 7) * 4.52) + 0.4 for item in items)
            return rows + (6.1 if "<h2>" in markup else 0.0)
        case "hazards":
            signs = _SIGN_LETTERS * markup.count('class="word ')
            return lines_of(signs + text, _SAFETY_PT, measure_mm) * _SAFETY_PT * 1.26 * PT_MM
        case "brief-part":
            heading, _, branch = markup.partition("</h2>")
            ends = (_plain(end).partition(" ")[2] for end in heading.split('<span class="end">')[1:])
            rows = sum(lines_of(end, _HEADING_PT * _BOLD, measure_mm - _LETTER_MM) for end in ends)
            line_mm, more_mm = (4.74, 1.65) if setting is USUAL else (4.5, 1.3)
            return rows * line_mm + more_mm + lines_of(_plain(branch), 11.0, measure_mm) * 4.9
        case "brief-line":
            figures = markup.count('class="value"')
            text += " n" * markup.count('<b class="with">')
            box_mm = _BOX_MM if setting is USUAL else _BOX_DENSE_MM
            rows = lines_of(text + _BOLDER * figures, setting.size_pt, measure_mm - box_mm)
            fields = len(_FIELD.findall(markup))
            more_mm = _FIGURE_MM * figures + _WRITTEN_MM * ((fields + 1) // 2)
            return max(5.2, rows * setting.line_mm + _BELOW_MM) + more_mm
        case "brief-signed":
            told = _plain(markup.partition('<p class="no-ride">')[2])
            if setting is DENSE:
                rows = lines_of(told, setting.size_pt * _BOLD, measure_mm)
                return _NAMES_MM - 2.0 + (rows * setting.line_mm + 0.6 if rows else 0.0)
            rows = lines_of(told, 11 * _BOLD, measure_mm - 5)
            return _NAMES_MM + (rows * 4.66 + 3.4 if rows else 0.0)
        case _:
            wider = "n" * round(_WIDER_BOLD * sum(map(len, _BOLD_TEXT.findall(markup))))
            return lines_of(f"{text} {wider}", setting.size_pt, measure_mm) * setting.line_mm + _BELOW_MM


def _head_mm(markup: str, measure_mm: float, setting: Setting) -> float:
    code_mm = _CODE_MM if 'class="code"' in markup else 0.0
    title = _plain(markup.partition("<h1>")[2].partition("</h1>")[0])
    whose = markup.partition('<p class="for">')[2].partition("</p>")[0]
    swapped = _plain(markup.partition('<p class="swapped">')[2])
    title_pt, below_mm = (19.0, 7.1) if setting is USUAL else (17.0, 6.4)
    beside = 'class="brief-how"' in markup
    rows = lines_of(title, title_pt * 1.12, measure_mm - (_HOW_MM if beside else 0.0) - code_mm)
    head_mm = rows * title_pt * 1.06 * PT_MM + below_mm
    if beside:
        head_mm = max(head_mm, 3 * setting.line_mm + 1.2)
    else:
        told = lines_of(_plain(whose) + _BOLDER, setting.size_pt, measure_mm - code_mm)
        head_mm += (told - 1) * setting.line_mm
    return max(head_mm + lines_of(swapped, setting.size_pt * _BOLD, measure_mm) * setting.line_mm, code_mm - 3.0)


@lru_cache(maxsize=4096)
def _plain(markup: str) -> str:
    """The letters of a block, with one of the width of a space where a line is not broken."""
    text = _WHOLE.sub(_unbroken, _FIELD.sub(_FIELD_LETTERS, markup))
    return Markup(_NAME.sub(rf"\1</b>{_NO_BREAK}", text)).striptags()


def _unbroken(found: re.Match[str]) -> str:
    return found[1].replace(" ", _NO_BREAK)
