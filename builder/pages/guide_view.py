"""Turn a tailored guide into what its card set and its page show: plain text, safe markup, nothing left to work out."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from itertools import groupby
from typing import TypeVar

from markupsafe import Markup

from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult, Verdict
from builder.model.catalogue import Hand, SignalWord
from builder.model.guide import Trial
from builder.model.once import Once
from builder.model.units import Unit, write_quantity
from builder.pages import amounts
from builder.pages.figures import FigureView, figure_of, view_of
from builder.pages.marks import verdict_mark
from builder.pages.markup import inline, instruction, prose
from builder.pages.revision import UNKNOWN
from builder.pages.signs import Sign, sign
from builder.pages.strings import Words
from builder.planning.plan import Plan
from builder.tailoring.persons import persons_for
from builder.tailoring.tailored import (
    LaidOut,
    LeftOut,
    ShownCaution,
    ShownFault,
    ShownSection,
    ShownStep,
    Tailored,
    Torque,
    TorqueLine,
)

Shown = TypeVar("Shown")
View = TypeVar("View")

_GRAVEST_FIRST = tuple(SignalWord)
# The answers that want something done stand first.
_VERDICT_ORDER = (Verdict.DOES_NOT_FIT, Verdict.MEASURE_FIRST, Verdict.WITH_CARE, Verdict.FITS)
_TRIED = frozenset({"table-top", "on-bicycle"})


@dataclass(frozen=True, slots=True, kw_only=True)
class StripView:
    """A safety message in its frame; `word` also names the frame's style. NOTICE has no alert symbol (ANSI Z535.6)."""

    word: str
    texts: tuple[Markup, ...]
    signs: tuple[Sign, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueView:
    """How tight: `value` is the range as text, or empty where `feel` says how the right tightness is known.

    `lead` stands in the place of a value that is empty: by feel, or by the maker's figure, where there is no other
    (`makers_alone`).
    """

    fastener: str
    value: str
    lead: str
    makers_alone: bool
    feel: Markup
    maker: bool
    preparation: str
    thread: str
    left_hand: bool
    turning: Markup
    tools: str
    lacks_wrench: bool
    count: int
    spread: Markup
    on_carbon: str
    critical: bool
    source: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureView:
    """A reading to take and write down; `how` is empty where the steps themselves say how.

    `check` is the title of the check that judges the reading, '' where none does.
    """

    name: str
    unit: str
    how: tuple[Markup, ...]
    check: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepView:
    """One step; `label` names it as on the cards, '' where it goes by its number.

    `boxes` are values to write down, each by its name with its unit.
    """

    number: int
    label: str = ""
    anchor: str
    condition: str
    do: Markup
    why: Markup
    prove: Markup
    until: Markup
    limit: Markup
    choices: tuple[tuple[Markup, Markup], ...]
    strips: tuple[StripView, ...]
    torque: TorqueView | None
    turning: Markup
    measure: MeasureView | None
    boxes: tuple[tuple[str, str], ...] = ()
    wait: str
    figure: FigureView | None
    pause: bool
    pause_end: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionView:
    """A group of steps under one heading, with the letter that names them where they go by one."""

    anchor: str
    letter: str = ""
    title: str
    condition: str
    span: str
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckView:
    """The answer of a check: verdict by shape and word, the value held against its limit, what to do, the working."""

    name: str
    title: str
    verdict: str
    rank: int
    word: str
    mark: Markup
    value: str
    limit: str
    margin: str
    advice: Markup
    working: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """A part that must change besides those wanted."""

    role: str
    because: tuple[str, ...]
    requires: tuple[str, ...]
    choice: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemView:
    """Something to lay out."""

    name: str
    detail: str
    quantity: int
    steps: str
    missing: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultView:
    """A row of the fault table."""

    symptom: Markup
    cause: Markup
    remedy: Markup
    number: int
    label: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideView:
    """Everything that a card set or a guide's page shows."""

    title: str
    code: str
    revision: str
    revision_reason: str
    tried: bool
    trial: str
    bike: str
    bike_tag: str
    applies: str
    purpose: Markup
    done_when: Markup
    level: str
    persons: int
    prepare: str
    work: str
    total: str
    strips: tuple[StripView, ...]
    key: tuple[tuple[str, str], ...]
    before: tuple[Markup, ...]
    not_when: tuple[Markup, ...]
    mechanic_when: tuple[Markup, ...]
    tools: tuple[ItemView, ...]
    consumables: tuple[ItemView, ...]
    parts: tuple[ItemView, ...]
    trouble: tuple[str, ...]
    measure_first: tuple[str, ...]
    changes: tuple[ChangeView, ...]
    checks: tuple[CheckView, ...]
    sections: tuple[SectionView, ...]
    finish: SectionView | None
    test: SectionView | None
    torques: tuple[tuple[TorqueView, str], ...]
    faults: tuple[FaultView, ...]
    sources: tuple[str, ...]
    left_out: tuple[tuple[Markup, str], ...]
    sign_off: bool
    typical: bool

    @property
    def steps(self) -> tuple[StepView, ...]:
        """Every step in the order it is done."""
        stretches = (*self.sections, *filter(None, (self.finish, self.test)))
        return tuple(step for stretch in stretches for step in stretch.steps)


def view_guide(tailored: Tailored, words: Words, *, figures: bool = True, views: Once | None = None) -> GuideView:
    """The view of a tailored guide in the language of `words`; without `figures` no drawing is made.

    Its code is not known before it is rendered: see `builder.pages.card`. `views` are those of what guides have alike,
    in the same language.
    """
    guide, bike, plan = tailored.guide, tailored.bike, tailored.plan
    maker = _Maker(words=words, figures=figures, views=views or Once())
    strips = maker.each("summary", tailored.summary_cautions, summary_of)
    return GuideView(
        title=guide.title,
        code=tailored.code,
        revision=UNKNOWN,
        revision_reason=guide.revisions[-1].reason if guide.revisions else "",
        tried=tailored.status in _TRIED,
        trial=_trial(tailored.trial, tailored.status, words),
        bike=bike.name if bike is not None else "",
        bike_tag=bike.tag if bike is not None else "",
        applies=bike.description if bike is not None else words.any_bike,
        purpose=inline(tailored.purpose),
        done_when=inline(tailored.done_when),
        level=words.levels[guide.level],
        persons=persons_for(tailored),
        prepare=amounts.minutes(guide.prepare_time_min),
        work=amounts.minutes(guide.work_time_min),
        total=amounts.minutes(guide.prepare_time_min + guide.work_time_min),
        strips=strips,
        key=maker.each("key", strips, maker.key),
        before=tuple(map(inline, tailored.before)),
        not_when=tuple(map(inline, tailored.not_when)),
        mechanic_when=tuple(map(inline, tailored.mechanic_when)),
        tools=maker.each("items", tailored.tools, _items),
        consumables=maker.each("items", tailored.consumables, _items),
        parts=maker.each("items", tailored.parts, _items),
        trouble=plan.trouble if plan is not None else (),
        measure_first=_measure_first(plan),
        changes=view_changes(plan, words),
        checks=maker.each("checks", tailored.checks, partial(view_checks, words=words)),
        sections=tuple(maker.section(section, number) for number, section in enumerate(tailored.sections, 1)),
        finish=maker.stretch("finish", words.finish, tailored.finish),
        test=maker.stretch("test", words.test, tailored.test),
        torques=maker.each("torques", tailored.torques, maker.torque_lines),
        faults=maker.each("faults", tailored.faults, _faults),
        sources=tailored.sources,
        left_out=maker.each("left out", tailored.left_out, _left_out),
        sign_off=tailored.sign_off,
        typical=any(line.torque.torque_nm is not None and not line.torque.maker for line in tailored.torques),
    )


def strips_of(cautions: Iterable[ShownCaution]) -> tuple[StripView, ...]:
    """Safety messages, gravest first; those under one signal word share a frame, so that the word is read once."""
    ordered = sorted(cautions, key=lambda shown: _GRAVEST_FIRST.index(shown.word))
    found: list[StripView] = []
    for word, group in groupby(ordered, key=lambda shown: shown.word):
        together = tuple(group)
        numbers = dict.fromkeys(number for shown in together for number in shown.caution.signs)
        # The alert triangle already stands beside the word.
        signs = tuple(sign(number) for number in numbers if number != "W001")
        texts = tuple(dict.fromkeys(inline(shown.text) for shown in together))
        found.append(StripView(word=word.value, texts=texts, signs=signs))
    return tuple(found)


def summary_of(cautions: Iterable[ShownCaution]) -> tuple[StripView, ...]:
    """The safety messages of a whole job, gravest first, each in a frame of its own with its signs beside it."""
    ordered = sorted(cautions, key=lambda shown: _GRAVEST_FIRST.index(shown.word))
    return tuple(strip for shown in ordered for strip in strips_of((shown,)))


def view_checks(results: Iterable[CheckResult], words: Words) -> tuple[CheckView, ...]:
    """Check results, those that want something done first."""
    ordered = sorted(results, key=lambda result: _VERDICT_ORDER.index(result.verdict))
    return tuple(view_check(result, words) for result in ordered)


def view_check(result: CheckResult, words: Words) -> CheckView:
    """One check result as text."""
    known = CHECKS.get(result.check)
    title = known.title if known is not None else result.check.replace("-", " ")
    if result.where:
        title = f"{title} ({result.where.replace('-', ' ')})"
    return CheckView(
        name=result.check,
        title=title,
        verdict=result.verdict.value,
        rank=_VERDICT_ORDER.index(result.verdict),
        word=words.verdicts[result.verdict],
        mark=verdict_mark(result.verdict),
        value=amounts.amount(result.value, result.unit),
        limit=amounts.amount(result.limit, result.unit),
        margin=amounts.amount(result.margin, result.unit),
        advice=inline(result.advice),
        working=result.working,
        source=result.source,
    )


def view_torque(torque: Torque, words: Words, *, source: int = 0, turning: str = "") -> TorqueView:
    """How tight a fastener goes, as text."""
    fastener = torque.fastener
    tools = [tool.name for tool in (torque.driver, torque.wrench) if tool is not None]
    return TorqueView(
        fastener=fastener.name,
        value="" if torque.torque_nm is None else amounts.torque(torque.torque_nm),
        lead=words.maker_figure if fastener.is_makers_alone else words.by_feel,
        makers_alone=torque.torque_nm is None and fastener.is_makers_alone,
        feel=inline(fastener.feel),
        maker=torque.maker,
        preparation=words.preparations[fastener.preparation],
        thread=fastener.thread,
        left_hand=fastener.hand is Hand.LEFT,
        turning=inline(turning),
        tools=", ".join(tools),
        lacks_wrench=torque.torque_nm is not None and torque.wrench is None,
        count=torque.count,
        spread=inline(fastener.spread),
        on_carbon=_on_carbon(torque, words),
        critical=fastener.critical,
        source=source,
    )


def _on_carbon(torque: Torque, words: Words) -> str:
    """Carbon is crushed before the clamp slips, so that the low end of the range is the one to set."""
    if not torque.on_carbon or torque.torque_nm is None:
        return ""
    return words.on_carbon.format(low=write_quantity(torque.torque_nm.low, Unit.NEWTON_METRE))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Maker:
    """What all steps of one view share."""

    words: Words
    figures: bool
    views: Once

    def each(self, what: str, shown: tuple[Shown, ...], view: Callable[[tuple[Shown, ...]], View]) -> View:
        """The view of a row of things, the very same for the same row."""
        return self.views.of((what, id(shown)), lambda: view(shown), shown)

    def key(self, strips: tuple[StripView, ...]) -> tuple[tuple[str, str], ...]:
        found = dict.fromkeys(strip.word for strip in strips)
        return tuple((word, self.words.signal_words[SignalWord(word)]) for word in found)

    def section(self, section: ShownSection, number: int) -> SectionView:
        key = ("section", id(section), number, self.figures)
        return self.views.of(key, lambda: self._section(section, number), section)

    def _section(self, section: ShownSection, number: int) -> SectionView:
        return SectionView(
            anchor=f"part-{number}",
            title=section.title,
            condition=section.condition,
            span=_span(section.steps),
            steps=self._steps(section.steps, section.end),
        )

    def stretch(self, anchor: str, title: str, steps: tuple[ShownStep, ...]) -> SectionView | None:
        if not steps:
            return None
        key = ("stretch", anchor, title, self.figures, *map(id, steps))
        return self.views.of(key, lambda: self._stretch(anchor, title, steps), steps)

    def _stretch(self, anchor: str, title: str, steps: tuple[ShownStep, ...]) -> SectionView:
        return SectionView(anchor=anchor, title=title, condition="", span=_span(steps), steps=self._steps(steps, ""))

    def _steps(self, steps: tuple[ShownStep, ...], end: str) -> tuple[StepView, ...]:
        return tuple(self._step(step, end if step is steps[-1] else "") for step in steps)

    def _step(self, step: ShownStep, end: str) -> StepView:
        return self.views.of(("step", id(step), end, self.figures), lambda: self._made(step, end), step)

    def _made(self, step: ShownStep, end: str) -> StepView:
        drawing = figure_of(step) if self.figures else None
        turning = "" if step.torque is not None else step.turning
        return StepView(
            number=step.number,
            anchor=f"step-{step.number}",
            condition=step.condition,
            do=instruction(step.do),
            why=inline(step.why),
            prove=inline(step.prove),
            until=inline(step.until),
            limit=inline(step.limit),
            choices=tuple((instruction(do), inline(why)) for do, why in step.choose),
            strips=strips_of(step.cautions),
            torque=None
            if step.torque is None
            else view_torque(step.torque, self.words, source=step.source, turning=step.turning),
            turning=inline(turning),
            measure=_measure(step),
            boxes=tuple(step.step.boxes.items()),
            wait="" if step.step.wait_min is None else amounts.minutes(step.step.wait_min),
            figure=None if drawing is None else view_of(drawing, f"figure-{step.number}"),
            pause=step.pause,
            pause_end=inline(end) if step.pause else Markup(""),
        )

    def torque_lines(self, lines: tuple[TorqueLine, ...]) -> tuple[tuple[TorqueView, str], ...]:
        return tuple(
            (view_torque(line.torque, self.words, source=line.source), amounts.step_list(line.steps)) for line in lines
        )


def _measure(step: ShownStep) -> MeasureView | None:
    if step.measurement is None:
        return None
    measurement = step.measurement
    # A step that asks for the reading in the catalogue's own words needs no second telling.
    how = () if step.do in measurement.how else tuple(map(prose, measurement.how))
    check = CHECKS[measurement.check].title if measurement.check in CHECKS else ""
    return MeasureView(name=measurement.name, unit=measurement.unit, how=how, check=check)


def _span(steps: tuple[ShownStep, ...]) -> str:
    return amounts.step_list(tuple(step.number for step in steps))


def _items(items: tuple[LaidOut, ...]) -> tuple[ItemView, ...]:
    return tuple(map(_item, items))


def _item(item: LaidOut) -> ItemView:
    return ItemView(
        name=item.name,
        detail=item.detail,
        quantity=item.quantity,
        steps=amounts.step_list(item.steps),
        missing=not item.owned,
    )


def _left_out(left: tuple[LeftOut, ...]) -> tuple[tuple[Markup, str], ...]:
    return tuple((inline(item.do), item.reason) for item in left)


def _faults(faults: tuple[ShownFault, ...]) -> tuple[FaultView, ...]:
    return tuple(map(_fault, faults))


def _fault(fault: ShownFault) -> FaultView:
    return FaultView(
        symptom=inline(fault.symptom), cause=inline(fault.cause), remedy=inline(fault.remedy), number=fault.number
    )


def _measure_first(plan: Plan | None) -> tuple[str, ...]:
    return () if plan is None else tuple(dict.fromkeys(missing.words for missing in plan.missing))


def view_changes(plan: Plan | None, words: Words) -> tuple[ChangeView, ...]:
    """The parts that must change besides those wanted."""
    if plan is None:
        return ()
    return tuple(
        ChangeView(
            role=change.role.value.replace("-", " "),
            because=tuple(CHECKS[name].title if name in CHECKS else name for name in change.because),
            requires=tuple(str(requirement).replace("-", " ") for requirement in change.requires),
            choice=change.choice.name if change.choice is not None else words.nothing_in_stock,
        )
        for change in plan.changes
    )


def _trial(trial: Trial | None, status: str, words: Words) -> str:
    if trial is None or status not in _TRIED:
        return words.not_tried
    return words.tried.format(how=words.trials[trial.how], by=trial.by, date=trial.date)
