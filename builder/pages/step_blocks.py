"""Steps as blocks of a card: each by itself, or beside a drawing at whose left the next steps have room too.

How high a block stands is known when it is laid out; how many steps have room beside a drawing is reckoned here from
their letters. Where that is wrong, a block is higher than its drawing, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from builder.pages.card_block import CardBlock
from builder.pages.figures import FigureView, named_again, smaller
from builder.pages.guide_view import StepView, StripView, strips_of
from builder.pages.leaf import Leaf
from builder.pages.letter_widths import PT_MM
from builder.tailoring.tailored import ShownCaution

# The least white before a step [mm], and on a small card, of one column; it grows where there is room.
STEP_MM, _SMALL_STEP_MM = 1.0, 0.7
# On the stand a drawing is at 0.62 of its size, at most 57 mm wide, with letters of 8.2 pt: 15 minutes of arc at
# 0.47 m. It grows and shrinks with the distance.
_DRAWN, _LETTERED = 0.62, 1.32
_STAND_PT = 12.0
# Beside a drawing, white and the column of the numbers, and the least measure of the text [mm]: 26 letters at 10.5 pt.
_WHITE_MM, _NUMBERS_MM, _NARROW_NUMBERS_MM, _LEAST_MEASURE_MM = 2.5, 15.2, 9.6, 44.0
# A letter is so wide and a line so high, as shares of the size.
_LETTER, _LINE = 0.44, 1.26
_SMALL_PT = 10.0
# A torque with its tools, and a field to write in, are about so high [mm].
_TORQUE_MM, _FIELD_MM = 18.0, 7.0
# By so much the steps may be higher than the drawing: less than they would be below it [mm].
_OVER_MM = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StepGroup:
    """Steps in one block, by their labels. `beside` is the drawing at the right of all of them, None where none is."""

    steps: tuple[tuple[str, StepView], ...]
    beside: FigureView | None = None


def step_blocks(
    steps: Sequence[StepView], labels: Mapping[int, str], told: Mapping[int, tuple[ShownCaution, ...]], leaf: Leaf
) -> Iterator[CardBlock]:
    """The blocks of a section's steps on a leaf; `told` are the safety messages of each step."""
    shown = [(labels[step.number], for_stand(step, told[step.number], leaf)) for step in steps]
    short = {step.number: step.strips for step in steps}
    at = 0
    while at < len(shown):
        group = _group(shown[at:], leaf)
        first, last = group.steps[0], group.steps[-1]
        block = CardBlock(
            kind="step",
            shown=group,
            gap_mm=STEP_MM if leaf.columns > 1 else _SMALL_STEP_MM,
            ends="pause" if last[1].pause else "",
            tells=" ".join(one.caution.id for one in told[first[1].number]),
            step=first[0],
            last_step=last[0],
        )
        yield block
        if first[1].strips:
            yield replace(block, kind="step-again", shown=_again(group, short[first[1].number]), short=True)
        at += len(group.steps)


def _again(group: StepGroup, strips: tuple[StripView, ...]) -> StepGroup:
    """The same steps where the side has told their safety messages already."""
    (label, first), *others = group.steps
    figure = first.figure and named_again(first.figure)
    beside = group.beside and named_again(group.beside)
    return StepGroup(steps=((label, replace(first, strips=strips, figure=figure)), *others), beside=beside)


def for_stand(step: StepView, told: Iterable[ShownCaution], leaf: Leaf) -> StepView:
    """The step without its reason, with its safety messages and a small drawing.

    A bar to stop at stays where it names what to look for.
    """
    share = _DRAWN * leaf.act_pt / _STAND_PT
    figure = None if step.figure is None else smaller(step.figure, share, _LETTERED)
    pause = step.pause and bool(step.pause_end)
    return replace(step, why=Markup(""), figure=figure, strips=strips_of(told), pause=pause)


def _group(rest: Sequence[tuple[str, StepView]], leaf: Leaf) -> StepGroup:
    """The next step, its drawing beside it or below it, whichever is lower, and the steps that have room beside it."""
    label, first = rest[0]
    below = StepGroup(steps=((label, first),))
    figure = first.figure
    if figure is None:
        return below
    whole_mm = leaf.column_mm - (_NUMBERS_MM if leaf.columns == 1 else _NARROW_NUMBERS_MM)
    measure_mm = whole_mm - figure.width_mm - _WHITE_MM
    if measure_mm < _LEAST_MEASURE_MM:
        return below
    legend = "   ".join(figure.legend)
    found = [(label, replace(first, figure=None))]
    used_mm = _step_high(first, leaf, measure_mm) + _high(legend, _SMALL_PT, measure_mm)
    right_mm = leaf.column_mm - figure.width_mm - _WHITE_MM
    told_mm = _high(f"{_more(first)} {legend}", _SMALL_PT, right_mm)
    below_mm = _high(_act(first), leaf.act_pt, whole_mm) + _block_mm(first) + max(figure.height_mm, told_mm)
    for name, step in rest[1:]:
        more_mm = STEP_MM + _step_high(step, leaf, measure_mm)
        if found[-1][1].pause or not _plain(step) or used_mm + more_mm > figure.height_mm + _OVER_MM:
            break
        used_mm += more_mm
        below_mm += STEP_MM + _step_high(step, leaf, whole_mm)
        found.append((name, step))
    if max(used_mm, figure.height_mm) > below_mm + _OVER_MM:
        return below
    return StepGroup(steps=tuple(found), beside=figure)


def _plain(step: StepView) -> bool:
    """Whether a step is its act and what stands in a run with it."""
    return not (step.figure or step.strips or step.choices or step.until or step.torque or _writes(step) or step.wait)


def _writes(step: StepView) -> bool:
    """Whether a step has a field to write in."""
    return step.measure is not None or bool(step.boxes)


def _act(step: StepView) -> str:
    return f"{step.condition} {step.do}"


def _more(step: StepView) -> str:
    return f"{step.turning} {step.limit} {step.prove} {step.until}".strip()


def _block_mm(step: StepView) -> float:
    """What a step has besides its texts."""
    return _TORQUE_MM * (step.torque is not None) + _FIELD_MM * (_writes(step) or bool(step.wait))


def _step_high(step: StepView, leaf: Leaf, measure_mm: float) -> float:
    texts = _high(_act(step), leaf.act_pt, measure_mm) + _high(_more(step), _SMALL_PT, measure_mm)
    return texts + _block_mm(step)


def _high(text: str, size_pt: float, measure_mm: float) -> float:
    """About how high a text stands [mm]."""
    letters = len(Markup(text).striptags())
    lines = -(-letters * size_pt * PT_MM * _LETTER // measure_mm)
    return lines * size_pt * PT_MM * _LINE
