"""Steps as blocks of a card: each by itself, or beside a drawing at whose left the next steps have room too.

How high a block stands is known when it is laid out; how many steps have room beside a drawing is reckoned here from
their letters. Where that is wrong, a block is higher than its drawing, and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from builder.pages.card_block import CardBlock
from builder.pages.figures import FigureView, smaller
from builder.pages.guide_view import StepView
from builder.pages.leaf import Leaf

# White before the first step of a section, and before each other one [mm].
FIRST_MM, STEP_MM = 1.2, 1.2
# On the stand a drawing is at 0.6 of its size, at most 55 mm wide, with letters of 8.2 pt: 15 minutes of arc at
# 0.47 m. It grows and shrinks with the distance.
_DRAWN, _LETTERED = 0.6, 1.365
_STAND_PT = 12.0
# Beside a drawing, white and the column of the numbers, and the least measure of the text [mm]: 26 letters at 10.5 pt.
_WHITE_MM, _NUMBERS_MM, _NARROW_NUMBERS_MM, _LEAST_MEASURE_MM = 3.0, 14.6, 9.6, 44.0
# A letter is so wide and a line so high, as shares of the size; and what a point is [mm].
_LETTER, _LINE, _PT_MM = 0.44, 1.26, 25.4 / 72
_SMALL_PT = 10.0
# By so much the steps may be higher than the drawing: less than they would be below it [mm].
_OVER_MM = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StepGroup:
    """Steps in one block, by their labels. `beside` is the drawing at the right of all of them, None where none is."""

    steps: tuple[tuple[str, StepView], ...]
    beside: FigureView | None = None


def step_blocks(
    steps: Sequence[StepView], labels: Mapping[int, str], cautions: Mapping[int, str], leaf: Leaf
) -> Iterator[CardBlock]:
    """The blocks of a section's steps on a leaf; `cautions` names those of each step."""
    shown = [(labels[step.number], for_stand(step, leaf)) for step in steps]
    at = 0
    while at < len(shown):
        group = _group(shown[at:], leaf)
        first, last = group.steps[0], group.steps[-1]
        block = CardBlock(
            kind="step",
            shown=group,
            gap_mm=FIRST_MM if not at else STEP_MM,
            ends="pause" if last[1].pause else "",
            tells=cautions[first[1].number],
            step=first[0],
            last_step=last[0],
        )
        yield block
        if first[1].strips:
            yield replace(block, kind="step-again", short=True)
        at += len(group.steps)


def for_stand(step: StepView, leaf: Leaf) -> StepView:
    """The step without its reason, its drawing small; a bar to stop at stays where it names what to look for."""
    share = _DRAWN * leaf.act_pt / _STAND_PT
    figure = None if step.figure is None else smaller(step.figure, share, _LETTERED)
    return replace(step, why=Markup(""), figure=figure, pause=step.pause and bool(step.pause_end))


def _group(rest: Sequence[tuple[str, StepView]], leaf: Leaf) -> StepGroup:
    """The next step, with its drawing beside it where there is room, and the steps after it that have room there."""
    label, first = rest[0]
    figure = first.figure
    if figure is None:
        return StepGroup(steps=((label, first),))
    numbers_mm = _NUMBERS_MM if leaf.columns == 1 else _NARROW_NUMBERS_MM
    measure_mm = leaf.column_mm - figure.width_mm - _WHITE_MM - numbers_mm
    if measure_mm < _LEAST_MEASURE_MM:
        return StepGroup(steps=((label, first),))
    found = [(label, replace(first, figure=None))]
    used_mm = _step_high(first, leaf, measure_mm) + _high("   ".join(figure.legend), _SMALL_PT, measure_mm)
    for name, step in rest[1:]:
        used_mm += STEP_MM + _step_high(step, leaf, measure_mm)
        if found[-1][1].pause or not _plain(step) or used_mm > figure.height_mm + _OVER_MM:
            break
        found.append((name, step))
    return StepGroup(steps=tuple(found), beside=figure)


def _plain(step: StepView) -> bool:
    """Whether a step is its act and what stands in a run with it."""
    return not (
        step.figure or step.strips or step.choices or step.until or step.torque or step.measure or step.wait
    )


def _step_high(step: StepView, leaf: Leaf, measure_mm: float) -> float:
    act = f"{step.condition} {step.do}"
    more = f"{step.turning} {step.limit} {step.prove} {step.until}".strip()
    return _high(act, leaf.act_pt, measure_mm) + _high(more, _SMALL_PT, measure_mm)


def _high(text: str, size_pt: float, measure_mm: float) -> float:
    """About how high a text stands [mm]."""
    letters = len(Markup(text).striptags())
    lines = -(-letters * size_pt * _PT_MM * _LETTER // measure_mm)
    return lines * size_pt * _PT_MM * _LINE
