"""The brief card: for somebody who knows the job, what must be confirmed, on one leaf.

What is on it is worked out by `builder.tailoring.brief`. How each thing is done stands on the card to work along.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from builder.model.catalogue import Preparation, Workshop
from builder.model.sentences import sentence
from builder.pages.card_block import CardBlock, ended, in_rows
from builder.pages.get_list import get_rows, swap_rows
from builder.pages.guide_view import GuideView, MeasureView, StripView, TorqueView, strips_of, view_torque
from builder.pages.labels import section_letters, step_labels, stretch_letters
from builder.pages.markup import inline
from builder.pages.step_card import HeadView, head_block, said_once
from builder.pages.strings import Words
from builder.pages.told_once import told_ahead
from builder.tailoring.brief import SURE, BriefPart, Confirmed, Why, brief_of, is_named_reading, says_what_is_so
from builder.tailoring.tailored import ShownStep, Tailored, Torque

# What the guides say of a typical figure, which has its mark on the card.
_PRACTICE = ". That is common practice."
# A proof that begins so is of what the act names.
_LEANS = re.compile(r"^(?:It|They|Neither|Both (?!\w+s\b)|Each \w+s\b)\b")
# Where the figure of the line itself comes from is no limit.
_RECALLED = re.compile(r"^The [^.]* from memory\b[^.]*\.$")
_FIGURE = re.compile(r"\d")
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Telling:
    """How lines are told: how many have one tick at most, and the proofs that more than one line has."""

    labels: Mapping[int, str]
    words: Words
    most: int
    twice: frozenset[str]

    def is_with_act(self, prove: str) -> bool:
        """Whether a proof has its act before it: one that could be of another step, or leans on it where room is."""
        return prove in self.twice or (self.most == 1 and bool(_LEANS.search(prove)))


def brief_card_blocks(
    tailored: Tailored, g: GuideView, words: Words, workshop: Workshop | None, *, run: int = 1
) -> Iterator[CardBlock]:
    """The brief card of `tailored` as blocks, in the order of reading; so many plain lines in a `run` have one tick."""
    labels = step_labels(tailored)
    swaps = tuple(swap for swap in swap_rows(tailored.plan) if swap.old != swap.new)
    yield replace(head_block(tailored), kind="brief-head", shown=HeadView(swaps=swaps))
    yield from in_rows(
        "get", words.get, (replace(row, why="") for row in get_rows(tailored, workshop, words)), 4, gap_mm=_LIST_MM
    )
    yield from ended(_safety(tailored, g, words, apart=run == 1))
    sections, finish, test = brief_of(tailored)
    finish_letter, test_letter = stretch_letters(tailored)
    parts: list[tuple[str, BriefPart]] = list(zip(section_letters(tailored), sections, strict=True))
    parts += [(finish_letter, replace(finish, title=words.finish))] if finish is not None else []
    parts += [(test_letter, replace(test, title=words.test))] if test is not None else []
    lines = Counter(line.step.prove for _, part in parts for line in part.lines if not line.step.condition)
    twice = frozenset(prove for prove, count in lines.items() if count > 1)
    telling = _Telling(labels=labels, words=words, most=run, twice=twice)
    for headed in _headed(parts):
        yield from ended(_part(headed, telling))
    yield CardBlock(kind="brief-signed", gap_mm=_LIST_MM)


def _safety(tailored: Tailored, g: GuideView, words: Words, *, apart: bool) -> Iterator[CardBlock]:
    """A line for each hazard, in the words that stand at the step; what else stops the work, `apart` or in a run."""
    strips = strips_of(told_ahead(tailored))
    for number, some in enumerate([(strip,) for strip in strips] if apart or not strips else [strips]):
        yield CardBlock(kind="hazards", shown=some, gap_mm=_LIST_MM if not number else 0.8)
    first = Markup("<b>{}</b>").format(words.maker_first)
    reasons = tuple(said_once((*g.not_when, *g.mechanic_when)))
    if reasons:
        said = Markup("<b>{}:</b> {}").format(words.stop_if, Markup(" ").join(reasons))
        first = first if apart else Markup("{} {}").format(said, first)
        if apart:
            yield CardBlock(kind="remark", shown=said, gap_mm=_LIST_MM)
    yield CardBlock(kind="remark", shown=first, gap_mm=1.0)


def _headed(parts: Iterable[tuple[str, BriefPart]]) -> Iterator[tuple[tuple[str, BriefPart], ...]]:
    """The parts under one bar: those in which nothing but the end is confirmed stand in the bar of the next."""
    waiting: list[tuple[str, BriefPart]] = []
    for letter, part in parts:
        if not part.is_shown:
            continue
        if waiting and part.condition:
            yield tuple(waiting)
            waiting = []
        waiting.append((letter, part))
        if part.lines or part.condition:
            yield tuple(waiting)
            waiting = []
    if waiting:
        yield tuple(waiting)


def _part(headed: tuple[tuple[str, BriefPart], ...], telling: _Telling) -> Iterator[CardBlock]:
    last = headed[-1][1]
    ends = tuple((letter, inline(part.name)) for letter, part in headed)
    title = ", ".join(f"{letter} {part.title}" for letter, part in headed)
    gap_mm = _PART_MM if telling.most == 1 else _LINE_MM
    shown = (ends, last.condition)
    yield CardBlock(kind="brief-part", shown=shown, title=title, keeps=bool(last.lines), gap_mm=gap_mm)
    for run in _runs(last.lines, telling.most):
        views = _views(run, telling)
        yield CardBlock(kind="brief-line", shown=views, gap_mm=_LINE_MM, step=views[0].label, last_step=views[-1].label)


def _runs(lines: Iterable[Confirmed], most: int) -> Iterator[tuple[Confirmed, ...]]:
    """The lines that have one tick, `most` at most: plain ones that follow each other, readings under one limit."""
    run: list[Confirmed] = []
    for line in lines:
        if run and (len(run) == most or not _is_alike(line, run[-1])):
            yield tuple(run)
            run = []
        run.append(line)
    if run:
        yield tuple(run)


def _is_alike(line: Confirmed, before: Confirmed) -> bool:
    if line.step.condition != before.step.condition:
        return False
    if _is_plain(line) and _is_plain(before):
        return True
    return _reads(line) and _reads(before) and line.limit == before.limit != ""


def _is_plain(line: Confirmed) -> bool:
    """Whether a line is words alone: no figure to tighten to, nothing to write or to choose, nothing critical."""
    torque = line.step.torque
    if torque is not None and (torque.torque_nm or torque.fastener.is_makers_alone or torque.fastener.critical):
        return False
    return {Why.MEASURES, Why.CHOICE}.isdisjoint(line.why)


def _reads(line: Confirmed) -> bool:
    """Whether a line is a reading: what is written on it shows that it was taken."""
    return Why.MEASURES in line.why and line.step.torque is None


def _views(run: tuple[Confirmed, ...], telling: _Telling) -> tuple[LineView, ...]:
    """The lines of a run as they are shown: for which bikes once, and a limit that the next one has too there."""
    views = [_line_view(line, telling) for line in run]
    after = [*(view.limit for view in views[1:]), Markup("")]
    return tuple(
        replace(
            view,
            condition=view.condition if not number else "",
            limit=Markup("") if view.limit == limit else view.limit,
        )
        for number, (view, limit) in enumerate(zip(views, after, strict=True))
    )


def _line_view(line: Confirmed, telling: _Telling) -> LineView:
    """One line as it is shown."""
    step, words = line.step, telling.words
    measure = step.measurement
    return LineView(
        label=telling.labels[step.number],
        condition=step.condition,
        text=Markup(" ").join(filter(None, (_text(step, line.why, telling), _tried(step, words)))),
        limit=_limit(line.limit, words),
        torque=None if step.torque is None else _torque(step.torque, words),
        measure=None if measure is None else MeasureView(name=measure.name, unit=measure.unit, how=()),
        boxes=tuple(step.step.boxes.items()),
    )


def _torque(torque: Torque, words: Words) -> TorqueView:
    """How tight; where no figure hangs on it, a thread that stays dry has no word."""
    view = view_torque(torque, words)
    is_said = view.value or torque.fastener.preparation is not Preparation.DRY
    return view if is_said else replace(view, preparation="")


def _limit(limit: str, words: Words) -> Markup:
    """What decides, named a limit where it has a figure."""
    text = inline(limit.replace(_PRACTICE, f" ({words.typical})."))
    has_figure = _FIGURE.search(_RECALLED.sub("", limit))
    return Markup("<b>{}:</b> {}").format(words.step_limit, text) if has_figure else text


def _tried(step: ShownStep, words: Words) -> Markup:
    """The torques that the wrench is tried with, each with its fastener."""
    views = (view_torque(torque, words) for torque in step.tried)
    tried = Markup('<b class="with">{}</b> {}.')
    return Markup(" ").join(tried.format(view.value or view.lead, view.fastener) for view in views)


def _text(step: ShownStep, why: tuple[Why, ...], telling: _Telling) -> Markup:
    """The act where it names a figure, puts a part on, or has no proof; what shows that it is done otherwise."""
    if Why.TRIES in why and not step.prove:  # what holds, and how tight, follows
        return Markup("")
    if Why.TIGHTENS in why or is_named_reading(step, why):  # its name and its figure, or the line to write on, stand by
        return inline(step.prove)
    if not says_what_is_so(step, why):
        return inline(step.do if not step.choose else f"{step.do} {' / '.join(do for do, _ in step.choose)}")
    if step.do.startswith(SURE):
        return inline(sentence(step.do.removeprefix(SURE)))
    return inline(f"{step.do} {step.prove}" if telling.is_with_act(step.prove) else step.prove)


__all__ = ["LineView", "StripView", "brief_card_blocks"]
