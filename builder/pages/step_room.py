"""How high the blocks of a step card stand, reckoned from their letters before anything is laid out.

As `builder.pages.brief_room`, with what a step has besides words: drawings, torques, fields, frames.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from markupsafe import Markup

from builder.composing import Block, TooHigh, fewest
from builder.pages.draft import Draft, filled_sides
from builder.pages.leaf import Leaf, larger, narrowed
from builder.pages.letter_widths import PT_MM, flow_mm, lines_of

_MORE_PT, _MORE_MM, _TELL_MM = 10.0, 10.0 * 1.25 * PT_MM, 10.0 * 1.18 * PT_MM
_SAFETY_PT, _SAFETY_MM, _SIGN_MM = 12.0, 12.0 * 1.26 * PT_MM, 10.6
# Two wide letters of a safety message and a space.
_TWO_LETTERS_MM = (2 * 0.85 + 0.27) * _SAFETY_PT * PT_MM
_BOLD, _BELOW_MM = 1.08, 0.45
_SVG = re.compile(r"<svg.*?</svg>", re.DOTALL)
_STRIP = re.compile(r'<div class="panel at-step.*?<div class="says">(.*?)</div>\s*</div>', re.DOTALL)
_PARAGRAPH = re.compile(r"<p[^>]*>(.*?)</p>", re.DOTALL)
_HEADED = re.compile(r'<th scope="row">(.*?)</th>', re.DOTALL)
_ITEM = re.compile(r"<li>(.*?)</li>", re.DOTALL)
_BESIDE = re.compile(r'<div class="beside-drawing"[^>]*><figure style="width: ([\d.]+)mm">')
_HEIGHT = re.compile(r'<svg xmlns[^>]*? width="([\d.]+)mm" height="([\d.]+)mm"')
_PART = re.compile(
    r'<(p|ul|div|figure) class="(if|do|choices|more run|more|tight|how|legend|drawn above|drawn)">(.*?)</\1>', re.DOTALL
)


# By how much a card that leaves room is enlarged, the most first, as long as a column has some 35 letters.
_LARGER, _LEAST_COLUMN_MM = (1.25, 1.2, 1.15, 1.1, 1.05), 78.0
_STAND_PT = 12.0
# A set that is fuller than this stays as it is, and one is not filled further than that.
_FULL, _FILLED = 0.86, 0.96
# What is reckoned of a whole card is too low by so much at most, and of an enlarged one more is left over.
_UNDER, _ENLARGED = 0.03, 0.045


def roomiest(draft: Callable[[Leaf], Draft], leaf: Leaf) -> str:
    """The document of a card, set as large as takes no side more where the sides of the set are not full."""
    usual = draft(leaf)
    blocks = _reckoned(usual)
    try:
        sides = fewest(_stretched(blocks, 1 + _UNDER), leaf.frame)
        if fewest(blocks, leaf.frame) != sides:
            return usual.html
    except TooHigh:
        return usual.html
    filled = filled_sides(blocks, leaf.frame) / sides
    if filled > _FULL:
        return usual.html
    least_mm = _LEAST_COLUMN_MM * leaf.act_pt / _STAND_PT
    wider = (larger(leaf, factor) for factor in _LARGER if filled * factor * factor < _FILLED)
    for one in [leaf_ for leaf_ in wider if leaf_.column_mm >= least_mm][:2]:
        enlarged = draft(one)
        try:
            if fewest(_stretched(_reckoned(enlarged), 1 + _ENLARGED), one.frame) <= sides:
                return enlarged.html
        except TooHigh:
            continue
    return usual.html


def _reckoned(draft: Draft) -> list[Block]:
    """The blocks of a card with the heights that they have about, a shorter form with the one that it stands for."""
    room = narrowed(draft.leaf, draft.letter_width)
    found: list[Block] = []
    for block, markup in draft.sections():
        high_mm = height_mm(block.kind, markup, room, wide=block.spans)
        if block.short:
            found[-1] = replace(found[-1], short_mm=high_mm)
            continue
        found.append(
            Block(
                height_mm=high_mm,
                gap_mm=block.gap_mm,
                keeps_next=block.keeps,
                spans=block.spans,
                tells=frozenset(block.tells.split()),
            )
        )
    return found


def _stretched(blocks: Sequence[Block], factor: float) -> list[Block]:
    return [
        replace(
            block,
            height_mm=block.height_mm * factor,
            short_mm=None if block.short_mm is None else block.short_mm * factor,
        )
        for block in blocks
    ]


def height_mm(kind: str, markup: str, leaf: Leaf, *, wide: bool = False) -> float:
    """About how high a block of a step card stands [mm]."""
    measure_mm = leaf.text_mm if wide else leaf.column_mm
    single, act_pt = leaf.columns == 1, leaf.act_pt
    heading_mm = 6.4 if "<h2>" in markup else 0.0
    items = _ITEM.findall(markup)
    match kind:
        case "head":
            return _head_mm(markup, measure_mm, single=single)
        case "torques":
            return 1.0 + heading_mm + _torques_mm(items, measure_mm, single=single)
        case "tools" | "ticks":
            columns = (3 if kind == "tools" else 2) if single else (2 if kind == "tools" else 1)
            room_mm = (measure_mm - 3.0 * (columns - 1)) / columns - 7.0
            rows = [max(5.4, lines_of(_plain(one), _MORE_PT, room_mm) * 4.2) + 0.6 for one in items]
            return heading_mm + max(max(rows, default=0.0), sum(rows) / columns) + (1.5 if columns > 1 else 0.0)
        case "get":
            rows = [max(5.4, lines_of(_plain(one), act_pt * 0.95, measure_mm - 7.0) * 4.9) + 0.7 for one in items]
            return heading_mm + sum(rows)
        case "results" | "lines":
            return heading_mm + sum(
                lines_of("mm " + _plain(one), _MORE_PT, measure_mm) * _MORE_MM + 0.8 for one in items
            )
        case "stop" | "stop-end":
            line_mm = act_pt * 1.24 * PT_MM
            rows = [lines_of(_plain(one), act_pt, measure_mm - 10.1) * line_mm for one in items]
            return heading_mm - 0.4 + sum(rows) + 1.0 + (1.9 if kind == "stop-end" else 0.0)
        case "safety":
            signs = markup.count('class="sign"')
            beside = signs if signs <= 3 or single else 0
            hazards = [_plain(one) for one in _PARAGRAPH.findall(markup) if "word" in one]
            texts = [_beside(beside) + hazards[0], *hazards[1:]]
            rows = [lines_of("mmm " + one, _SAFETY_PT, measure_mm - 4.2) * _SAFETY_MM for one in texts]
            own_mm = 11.4 if signs > 3 and not single else 0.0
            return heading_mm + max(sum(rows) + 0.8 * len(rows), _SIGN_MM if signs else 0.0) + own_mm + 3.2
        case "section":
            heading, _, branch = markup.partition("</h2>")
            count_of = lines_of(_plain(heading), 13.5 * _BOLD, measure_mm - 6.0)
            return count_of * 5.15 + 2.2 + lines_of(_plain(branch), 11.0, measure_mm) * 4.9
        case "step" | "step-again":
            return _steps_mm(markup, leaf)
        case "faults":
            return heading_mm + sum(lines_of(_plain(one), _MORE_PT * 1.03, measure_mm) * 4.45 + 1.0 for one in items)
        case "applied" | "signed":
            fasteners = [lines_of(_plain(one), _MORE_PT, measure_mm - 42.0) for one in _HEADED.findall(markup)]
            table_mm = sum(max(6.8, 4.06 * one + 1.4) for one in fasteners) + (5.6 if fasteners else 0.0)
            names_mm = 0.0 if kind == "applied" else 17.9 + (13.6 if "no-ride" in markup else 0.0)
            return heading_mm + table_mm + names_mm
        case _:
            return heading_mm + lines_of(_plain(markup), _MORE_PT * 1.04, measure_mm) * 4.45 + _BELOW_MM


def _head_mm(markup: str, measure_mm: float, *, single: bool) -> float:
    code_mm = 27.0 if 'class="code"' in markup else 0.0
    room_mm = measure_mm - code_mm
    title_pt = 20.0 if single else 24.0
    title = lines_of(_plain(markup.partition("<h1>")[2].partition("</h1>")[0]), title_pt * _BOLD, room_mm)
    facts = lines_of(_plain(markup.partition('<p class="facts-line">')[2].partition("</p>")[0]), 10.7, measure_mm)
    swaps = sum(lines_of(_plain(one), 11.0, room_mm) for one in _ITEM.findall(markup))
    house_mm = 5.0 if 'class="house"' in markup else 0.0
    used_mm = house_mm + title * title_pt * 1.1 * PT_MM + 0.9 + 6.2 + swaps * 4.75 + facts * 4.52 + 1.0
    return max(used_mm, code_mm - 3.0)


def _torques_mm(items: list[str], measure_mm: float, *, single: bool) -> float:
    few = len(items) < 4
    wide_mm = measure_mm * 0.33 if few else (32.9 if single else 38.4)
    in_a_row = 3 if few else max(1, int(measure_mm / wide_mm))
    high = []
    for item in items:
        name = lines_of(_plain(item.partition("</p>")[0]), _MORE_PT, wide_mm - (2.0 if single else 2.5))
        high.append(name * 4.06 + (14.0 if single else 16.0) * 1.15 * PT_MM + 4.06)
    return sum(max(high[start : start + in_a_row]) + 0.3 for start in range(0, len(high), in_a_row))


def _steps_mm(markup: str, leaf: Leaf) -> float:
    high = 0.0
    for strip in _STRIP.finditer(markup):
        high += _strip_mm(strip[0], leaf) + 0.8
    for again in re.findall(r'<p class="again">(.*?)</p>', markup, re.DOTALL):
        high += lines_of(_plain(again), _SAFETY_PT, leaf.column_mm) * _SAFETY_MM + 0.6
    beside = _BESIDE.search(markup)
    acts = markup.split('<div class="act">')[1:]
    room_mm = leaf.column_mm - (float(beside[1]) + 2.5 if beside else 0.0)
    rows = [_act_mm(act, room_mm, leaf) for act in acts]
    used_mm = sum(rows) + 1.0 * (len(rows) - 1)
    drawn = _HEIGHT.search(markup) if beside else None
    high += max(used_mm, float(drawn[2])) if drawn else used_mm
    for halt in re.findall(r'<div class="halt">(.*?)</div>', markup, re.DOTALL):
        rows_mm = lines_of("mm " + _plain(halt), _MORE_PT, leaf.column_mm - 8.0) * _MORE_MM
        high += 0.6 + 0.7 + 0.4 + max(5.2, rows_mm)
    return high


def _strip_mm(markup: str, leaf: Leaf) -> float:
    signs = markup.count('class="sign"')
    many = signs > 3 and leaf.columns > 1
    frame_mm = 1.1 if "CAUTION" in markup else 2.1
    room_mm = leaf.column_mm - frame_mm - 2.6
    first, *others = map(_plain, _PARAGRAPH.findall(markup.partition('<div class="says">')[2]))
    rows = lines_of(_beside(0 if many else signs) + "mmm " + first, _SAFETY_PT, room_mm)
    rows += sum(lines_of(one, _SAFETY_PT, room_mm) for one in others)
    return max(rows * _SAFETY_MM + 0.6, _SIGN_MM if signs and not many else 0.0) + (11.4 if many else 0.0) + frame_mm


def _beside(signs: int) -> str:
    """So many letters as the signs take from the first two lines beside them."""
    return "mm " * round(2 * (_SIGN_MM * signs + 1.0) / _TWO_LETTERS_MM) if signs else ""


def _act_mm(markup: str, room_mm: float, leaf: Leaf) -> float:
    single = leaf.columns == 1
    measure_mm = room_mm - (15.2 if single else 9.6)
    main_mm = drawn_mm = 0.0
    for part in _parts(markup):
        kind, inside = part
        match kind:
            case "if":
                main_mm += lines_of(_plain(inside), leaf.act_pt * _BOLD, measure_mm) * leaf.act_pt * 1.26 * PT_MM
            case "do":
                deed, _, run = inside.partition('<span class="run">')
                main_mm += flow_mm(((_plain(deed), leaf.act_pt, 1.26), (_plain(run), _MORE_PT, 1.25)), measure_mm)
            case "choices":
                rows = (lines_of(_plain(one), leaf.act_pt, measure_mm - 7.0) for one in _ITEM.findall(inside))
                main_mm += sum(max(5.6, one * leaf.act_pt * 1.26 * PT_MM) + 1.0 for one in rows)
            case "tight":
                texts = _PARAGRAPH.findall(inside)
                figure, _, more = texts[0].partition("</b>")
                runs = ((_plain(figure), 18.0 * _BOLD, 1.1), (_plain(more) + " nnnnnn", _MORE_PT, 1.25))
                main_mm += 0.6 + flow_mm(runs, measure_mm - 3.1) + sum(5.0 for _ in texts[1:])
            case "how":
                main_mm += lines_of(_plain(inside), _MORE_PT, measure_mm) * _MORE_MM + 0.4
            case "legend":
                main_mm += lines_of(_plain(inside), _MORE_PT, measure_mm) * _TELL_MM + 0.4
            case "drawn" | "drawn above":
                size = _HEIGHT.search(inside)
                if size is not None:
                    above = kind == "drawn above"
                    caption_mm = room_mm - (0.0 if above else float(size[1]) + 2.5)
                    told = inside.partition("<figcaption>")[2]
                    run, _, legend = told.partition("</p>") if "<p" in told else ("", "", told)
                    told_mm = lines_of(_plain(run), _MORE_PT, caption_mm) * _MORE_MM + 0.6 * bool(run)
                    told_mm += lines_of(_plain(legend), _MORE_PT, caption_mm) * _TELL_MM
                    drawn_mm = 0.6 + (float(size[2]) + 0.6 + told_mm if above else max(float(size[2]), told_mm))
            case _:
                field_mm = 2.4 if 'class="line' in inside else 0.0
                text = _plain(inside) + " nnnnnnn" * bool(field_mm)
                main_mm += lines_of(text, _MORE_PT, measure_mm) * _MORE_MM + field_mm
    least_mm = 5.2 if single else 10.4
    return max(main_mm + _BELOW_MM, least_mm) + drawn_mm


def _parts(markup: str) -> Iterator[tuple[str, str]]:
    for found in _PART.finditer(markup):
        yield found[2], found[3]


def _plain(markup: str) -> str:
    return Markup(_SVG.sub(" ", markup)).striptags()
