"""The brief card: for somebody who knows the job, what must be confirmed, on one leaf.

What is on it is worked out by `builder.tailoring.brief`. How each thing is done stands on the card to work along.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.model.sentences import sentence
from builder.pages.card_block import CardBlock, ended, in_rows
from builder.pages.get_list import get_rows
from builder.pages.guide_view import GuideView, MeasureView, StripView, TorqueView, strips_of, view_torque
from builder.pages.labels import section_letters, step_labels, stretch_letters
from builder.pages.markup import inline
from builder.pages.step_card import head_block, said_once
from builder.pages.strings import Words
from builder.pages.told_once import told_ahead
from builder.tailoring.brief import BriefPart, Confirmed, Why, brief_of
from builder.tailoring.tailored import ShownStep, Tailored

_SURE = "Make sure that "
_PART_MM, _LINE_MM, _LIST_MM = 1.0, 0.4, 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LineView:
    """One line: what must be so, how tight, what to read off. `text` is the proof, or the act where none is told."""

    label: str
    condition: str
    text: Markup
    limit: Markup
    torque: TorqueView | None
    measure: MeasureView | None
    boxes: tuple[tuple[str, str], ...] = ()


def brief_card_blocks(
    tailored: Tailored, g: GuideView, words: Words, workshop: Workshop | None, *, run: int = 1
) -> Iterator[CardBlock]:
    """The brief card of `tailored` as blocks, in the order of reading; so many plain lines in a `run` have one tick."""
    labels = step_labels(tailored)
    yield replace(head_block(tailored), kind="brief-head")
    yield from in_rows(
        "get", words.get, (replace(row, why="") for row in get_rows(tailored, workshop, words)), 4, gap_mm=_LIST_MM
    )
    yield from ended(_safety(tailored, g, words, apart=run == 1))
    sections, finish, test = brief_of(tailored)
    finish_letter, test_letter = stretch_letters(tailored)
    parts: list[tuple[str, BriefPart]] = list(zip(section_letters(tailored), sections, strict=True))
    parts += [(finish_letter, replace(finish, title=words.finish))] if finish is not None else []
    parts += [(test_letter, replace(test, title=words.test))] if test is not None else []
    for letter, part in parts:
        yield from ended(_part(letter, part, labels, words, most=run))
    yield CardBlock(kind="brief-signed", gap_mm=_LIST_MM)


def _safety(tailored: Tailored, g: GuideView, words: Words, *, apart: bool) -> Iterator[CardBlock]:
    """A line for each hazard, in the words that stand at the step; what else stops the work, `apart` or in a run."""
    for number, strip in enumerate(strips_of(told_ahead(tailored))):
        yield CardBlock(kind="hazards", shown=strip, gap_mm=_LIST_MM if not number else 0.8)
    first = Markup("<b>{}</b>").format(words.maker_first)
    reasons = tuple(said_once((*g.not_when, *g.mechanic_when)))
    if reasons:
        said = Markup("<b>{}:</b> {}").format(words.stop_if, Markup(" ").join(reasons))
        first = first if apart else Markup("{} {}").format(said, first)
        if apart:
            yield CardBlock(kind="remark", shown=said, gap_mm=_LIST_MM)
    yield CardBlock(kind="remark", shown=first, gap_mm=1.0)


def _part(letter: str, part: BriefPart, labels: Mapping[int, str], words: Words, *, most: int) -> Iterator[CardBlock]:
    if not part.lines and not part.end:
        return
    title = f"{letter} {part.title}"
    ahead = (letter, inline(part.end or part.title), part.condition)
    gap_mm = _PART_MM if most == 1 else _LINE_MM
    yield CardBlock(kind="brief-part", shown=ahead, title=title, keeps=bool(part.lines), gap_mm=gap_mm)
    for run in _runs(part.lines, most):
        shown = _views(run, labels, words)
        yield CardBlock(kind="brief-line", shown=shown, gap_mm=_LINE_MM, step=shown[0].label, last_step=shown[-1].label)


def _runs(lines: Iterable[Confirmed], most: int) -> Iterator[tuple[Confirmed, ...]]:
    """The lines that are confirmed by one tick: plain ones that follow each other, `most` of them at most."""
    run: list[Confirmed] = []
    for line in lines:
        if run and (len(run) == most or not (_is_plain(line) and _is_plain(run[-1]))):
            yield tuple(run)
            run = []
        run.append(line)
    if run:
        yield tuple(run)


def _is_plain(line: Confirmed) -> bool:
    """Whether a line is words alone: nothing to tighten, to write or to choose, and nothing that hangs on the bike."""
    return {Why.TIGHTENS, Why.MEASURES, Why.CHOICE}.isdisjoint(line.why) and not line.step.condition


def _views(run: tuple[Confirmed, ...], labels: Mapping[int, str], words: Words) -> tuple[LineView, ...]:
    """The lines of a run as they are shown: a limit that the next one has too stands there."""
    views = [line_view(line, labels, words) for line in run]
    after = [*(view.limit for view in views[1:]), Markup("")]
    return tuple(
        replace(view, limit=Markup("")) if view.limit == limit else view
        for view, limit in zip(views, after, strict=True)
    )


def line_view(line: Confirmed, labels: Mapping[int, str], words: Words) -> LineView:
    """One line as it is shown."""
    step = line.step
    measure = step.measurement
    return LineView(
        label=labels[step.number],
        condition=step.condition,
        text=Markup(" ").join(filter(None, (_text(step, line.why), _tried(step, words)))),
        limit=inline(step.limit),
        torque=None if step.torque is None else view_torque(step.torque, words),
        measure=None if measure is None else MeasureView(name=measure.name, unit=measure.unit, how=()),
        boxes=tuple(step.step.boxes.items()),
    )


def _tried(step: ShownStep, words: Words) -> Markup:
    """The torques that the wrench is tried with, each with its fastener."""
    views = (view_torque(torque, words) for torque in step.tried)
    return Markup(" ").join(Markup("<b>{}</b> {}.").format(view.value or view.lead, view.fastener) for view in views)


def _text(step: ShownStep, why: tuple[Why, ...]) -> Markup:
    """The act where it names a figure, puts a part on, or has no proof; what shows that it is done otherwise."""
    if Why.TIGHTENS in why:  # its fastener and figure stand before it
        return inline(step.prove)
    if Why.TRIES in why and not step.prove:  # what holds, and how tight, follows
        return Markup("")
    if Why.LOOKS in why and step.do.startswith(_SURE):  # what must be so says itself
        wanted = step.do.removeprefix(_SURE)
        return inline(sentence(wanted))
    if not step.prove or Why.FITS in why or Why.FIGURE in why or Why.CHOICE in why or Why.TRIES in why:
        act = step.do if not step.choose else f"{step.do} {' / '.join(do for do, _ in step.choose)}"
        return inline(act)
    return inline(step.prove)


__all__ = ["LineView", "StripView", "brief_card_blocks", "line_view"]
