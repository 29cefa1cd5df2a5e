"""Turn a guide and a plan into the guide for one bike: only the steps that apply, with every number in it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from builder.checks.registry import CHECKS
from builder.diagnostics.diagnostic import Diagnostic
from builder.model.bike import Bike
from builder.model.catalogue import Measurement
from builder.model.condition import ALWAYS, All, Condition, fixed_cases
from builder.model.deciding import decided, deciding, still_open
from builder.model.guide import Area, Guide, Step, Trial
from builder.model.inlining import Phase, PlacedStep
from builder.model.library import Library
from builder.model.paths import unit_at
from builder.model.sharing import Sharing
from builder.planning.attributes import foreign, what_to_write
from builder.planning.plan import Missing, Plan
from builder.tailoring import gathering
from builder.tailoring.alike import Alike, AtHand, Hanging, OfGuide
from builder.tailoring.figures import figure_numbers
from builder.tailoring.generic import possible
from builder.tailoring.hazards import caution_text, signal_word
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
from builder.tailoring.torques import torque_words, turning
from builder.tailoring.values import chain_table, wear_line
from builder.tailoring.wording import fill, in_words, lead, why_not

Made = TypeVar("Made")

# A Checklist for Checklists: fewer than ten items between two pauses.
_MOST_BETWEEN_PAUSES = 9
# Work that somebody else looks at again: where a slip is not felt before it hurts.
_SIGNED = frozenset({Area.BRAKES, Area.STEERING, Area.WHEEL_RETENTION})


class NotSuited(Exception):
    """The guide is not for this bike; the message tells the reader why."""


class CannotTailor(Exception):
    """The bike's file does not say what the guide's conditions ask; `diagnostics` say what to write."""

    def __init__(self, diagnostics: tuple[Diagnostic, ...]) -> None:
        super().__init__("; ".join(diagnostic.message for diagnostic in diagnostics))
        self.diagnostics = diagnostics


@dataclass(frozen=True, slots=True, kw_only=True)
class _Setting:
    """What all steps of one tailoring share."""

    guide: Guide
    library: Library
    bike: Bike | None
    plan: Plan | None
    at_hand: AtHand
    of: OfGuide
    sharing: Sharing
    leave_open: bool

    @property
    def cases(self) -> Mapping[str, str]:
        """The cases of the bike with its plan."""
        return self.at_hand.cases

    def made(self, key: tuple[object, ...], make: Callable[[], Made], held: object = None) -> Made:
        """What `make` makes, or made before under `key`; equal ones are one."""
        return self.of.once.of(key, lambda: self.sharing.of(make()), held)

    def text(self, text: str, local: Mapping[str, str] | None = None) -> str:
        """`text` with its values filled in."""
        if "{{" not in text:
            return text
        return fill(text, {**self.at_hand.values, **(local or {})}, self.library)

    def lead(self, conditions: tuple[Condition, ...]) -> str:
        """The opening of a step that is for some bikes only, or that hangs on what this bike's file leaves open."""
        if self.bike is None:
            return lead(conditions, self.library)
        opened = tuple(still_open(one, self.cases) for one in conditions if decided(one, self.cases) is None)
        return lead(opened, self.library)


def tailor(
    guide: Guide,
    library: Library,
    *,
    bike: Bike | None = None,
    plan: Plan | None = None,
    status: str = "unverified",
    trial: Trial | None = None,
    leave_open: bool = False,
    alike: Alike | None = None,
) -> Tailored:
    """The guide for `bike` with `plan`, or the generic guide with every branch where there is no bike.

    Args:
        guide: what to tailor.
        library: what it draws on.
        bike: the bike, as it stands.
        plan: what the job comes to on that bike; without one the bike stays as it is.
        status: how far the guide has been tried, as it is shown.
        trial: the trial of the present text, where there was one.
        leave_open: whether a step that hangs on what the bike's file does not say is shown with its condition, for the
            reader to decide at the bike; without it such a step is a mistake.
        alike: what was made for other jobs of the same run.

    Raises:
        NotSuited: the guide is not for this bike.
        CannotTailor: the bike's file lacks what a condition asks for, and nothing is to be left open.
    """
    alike = alike or Alike()
    at_hand = alike.at_hand(bike, plan, library)
    setting = _Setting(
        guide=guide,
        library=library,
        bike=bike,
        plan=plan,
        at_hand=at_hand,
        of=alike.of_guide(guide, library),
        sharing=alike.sharing,
        leave_open=leave_open,
    )
    only_for = () if bike is None else _refuse_unsuited(setting, bike)
    chosen = _chosen(setting)
    shown, sources = _numbered(setting, chosen, _with_measurements(setting, chosen.kept))
    sections = _sections(setting, shown)
    finish = tuple(step for placed, step in shown if placed.phase is Phase.FINISH)
    test = tuple(step for placed, step in shown if placed.phase is Phase.TEST)
    steps = tuple(step for _, step in shown)
    gathered = _gathered(setting, steps)
    return Tailored(
        guide=guide,
        bike=bike,
        plan=plan,
        code=_code(guide, bike),
        status=status,
        trial=trial,
        sections=sections,
        finish=finish,
        test=test,
        summary_cautions=gathered.summary,
        tools=gathered.tools,
        consumables=gathered.consumables,
        parts=gathering.parts_of(steps, plan),
        torques=gathered.torques,
        faults=_faults(setting, shown),
        left_out=_left_out(setting, chosen),
        checks=() if plan is None else plan.checks,
        values=at_hand.values_told,
        sources=sources,
        sign_off=any(area in _SIGNED for area in guide.touches),
        before=(*only_for, *(setting.text(text) for text in guide.before)),
        purpose=setting.text(guide.purpose),
        done_when=setting.text(guide.done_when),
        not_when=tuple(setting.text(text) for text in guide.not_when),
        mechanic_when=tuple(setting.text(text) for text in guide.mechanic_when),
    )


# --- which steps ---------------------------------------------------------------------------------


def _refuse_unsuited(setting: _Setting, bike: Bike) -> tuple[str, ...]:
    """What the reader must look at first, where the bike's file does not say whether the guide is for the bike."""
    suits = setting.guide.suits
    suited = decided(suits, setting.cases)
    if suited is None:
        asked = dict.fromkeys(deciding(suits, setting.cases))
        _refuse_foreign(setting, bike, asked)
        if not setting.leave_open:
            unknown = tuple(name for name in asked if name not in setting.cases)
            raise CannotTailor(tuple(_unknown(name, bike, setting) for name in unknown))
        left = still_open(suits, setting.cases)
        parts = left.parts if isinstance(left, All) else (left,)
        return tuple(f"Make sure that the bike has {in_words(part, setting.library)}." for part in parts)
    if not suited:
        reason = why_not((suits,), setting.cases, setting.library)
        raise NotSuited(f"{setting.text(setting.guide.refuse)} {reason}".strip())
    return ()


def _refuse_foreign(setting: _Setting, bike: Bike, asked: Iterable[str]) -> None:
    """Refuse a guide that asks for what the bike has a standard of its own, which the guide's steps do not know."""
    for name in asked:
        attribute = setting.library.attributes[name]
        standard = foreign(attribute, bike, setting.plan, setting.library.standards)
        if standard is not None:
            raise NotSuited(
                f"Its steps hang on {attribute.words}, and this bike has one of its own there: {standard.name}. Where "
                f"the steps of a known one do for it, write 'like:' at '{standard.id}' in catalogue/standards.yaml; "
                "else it takes a guide of your own."
            )


def _unknown(attribute_id: str, bike: Bike, setting: _Setting) -> Diagnostic:
    attribute = setting.library.attributes[attribute_id]
    return Diagnostic(
        rule="unknown-fact",
        message=(
            f"bike '{bike.id}' does not say what '{setting.guide.title}' asks: {attribute.words}"
            if not attribute.ask
            else f"bike '{bike.id}' does not answer what '{setting.guide.title}' asks: {attribute.ask}"
        ),
        at=bike.places.of("parts"),
        hints=(what_to_write(attribute),),
    )


@dataclass(frozen=True, slots=True)
class _Chosen:
    """The steps that apply, those that do not with the reason, and what the bike's file leaves open of the former.

    `opened` are the numbers (`id`) of the steps with a condition that is open, `unknown` the attributes that they ask.
    """

    kept: tuple[PlacedStep, ...]
    left: tuple[tuple[PlacedStep, str], ...] = ()
    opened: frozenset[int] = frozenset()
    unknown: tuple[str, ...] = ()


def _chosen(setting: _Setting) -> _Chosen:
    """The steps that apply, and why each other one does not."""
    if setting.bike is None:
        return setting.of.once.of("on some bike", lambda: _on_some_bike(setting))
    said = tuple(setting.cases.get(name) for name in setting.of.attributes)
    # What is open hangs on what goes together, and so on every case.
    key = tuple(setting.cases.items()) if None in said else said
    chosen = setting.of.once.of(("chosen", key), lambda: _decided(setting))
    _refuse_foreign(setting, setting.bike, chosen.unknown)
    if chosen.unknown and not setting.leave_open:
        raise CannotTailor(tuple(_unknown(name, setting.bike, setting) for name in chosen.unknown))
    return chosen


def _on_some_bike(setting: _Setting) -> _Chosen:
    suits, may_be = setting.guide.suits, dict[tuple[Condition, ...], bool]()
    for item in setting.of.steps:
        if item.conditions not in may_be:  # many steps stand under the same conditions
            may_be[item.conditions] = possible((suits, *item.conditions), setting.library)
    return _Chosen(tuple(item for item in setting.of.steps if may_be[item.conditions]))


def _decided(setting: _Setting) -> _Chosen:
    kept: list[PlacedStep] = []
    left: list[tuple[PlacedStep, str]] = []
    opened: list[int] = []
    unknown: dict[str, None] = {}
    reasons: dict[tuple[Condition, ...], str] = {}  # many steps stand under the same conditions
    for item in setting.of.steps:
        if item.conditions not in reasons:
            reasons[item.conditions] = _reason_against(setting, item.conditions)
        reason = reasons[item.conditions]
        if reason:
            left.append((item, reason))
            continue
        kept.append(item)
        still = tuple(one for one in item.conditions if decided(one, setting.cases) is None)
        if still:
            opened.append(id(item))
        asked = (name for one in still for name in deciding(one, setting.cases) if name not in setting.cases)
        unknown.update(dict.fromkeys(asked))
    return _Chosen(tuple(kept), tuple(left), frozenset(opened), tuple(unknown))


def _left_out(setting: _Setting, chosen: _Chosen) -> tuple[LeftOut, ...]:
    found = []
    for item, reason in chosen.left:
        do = setting.text(item.step.do, {"torque": "…"})
        make = partial(LeftOut, step=item.anchor, do=do, reason=reason)
        found.append(setting.made(("left out", item.anchor, do, reason), make))
    return tuple(found)


def _reason_against(setting: _Setting, conditions: tuple[Condition, ...]) -> str:
    """Why this bike surely does not have a step of these conditions; '' where it has it, or may."""
    failing = next((one for one in conditions if decided(one, setting.cases) is False), None)
    if failing is not None:
        return why_not((failing,), setting.cases, setting.library)
    opened = tuple(one for one in conditions if decided(one, setting.cases) is None)
    if opened and not possible((setting.guide.suits, *opened), setting.library, setting.cases):
        wanted = " and ".join(in_words(one, setting.library) for one in opened)
        return f"It is for a bike with {wanted}, which does not go with what this one has."
    return ""


# --- measurements --------------------------------------------------------------------------------


def _with_measurements(setting: _Setting, kept: tuple[PlacedStep, ...]) -> tuple[tuple[PlacedStep, str], ...]:
    """The steps with one for each missing fact put in where its states hold first; beside each the fact's key."""
    taken = {item.step.measure for item in kept if item.phase is Phase.WORK}
    missing_facts = () if setting.plan is None else setting.plan.missing
    # What a step of the guide measures anyhow is not measured twice.
    waiting = [one for one in missing_facts if not one.measurement or one.measurement not in taken]
    if not waiting:
        return tuple((item, "") for item in kept)
    state = {name: item.ready[0] for name, item in setting.library.states.items()} | dict(setting.guide.begins)
    found: list[tuple[PlacedStep, str]] = []
    for item in kept:
        found.append((item, ""))
        state |= item.step.leaves
        for missing in tuple(waiting):
            if item.phase is Phase.WORK and _can_take(missing, state, setting):
                waiting.remove(missing)
                found.extend((placed, missing.key) for placed in _measuring(missing, item, setting))
    if waiting and kept:
        late = [(placed, missing.key) for missing in waiting for placed in _measuring(missing, kept[0], setting)]
        found[1:1] = late
    return tuple(found)


def _can_take(missing: Missing, state: Mapping[str, str], setting: _Setting) -> bool:
    measurement = setting.library.measurements.get(missing.measurement)
    needs = measurement.needs if measurement is not None and measurement.needs else {"bike": "stand"}
    return all(state.get(name) == value for name, value in needs.items() if name in setting.library.states)


def _measuring(missing: Missing, after: PlacedStep, setting: _Setting) -> tuple[PlacedStep, ...]:
    """The steps that find a missing fact, placed behind `after`."""
    key = ("measuring", missing, id(after))
    return setting.of.once.of(key, lambda: _steps_that_measure(missing, after, setting), after)


def _steps_that_measure(missing: Missing, after: PlacedStep, setting: _Setting) -> tuple[PlacedStep, ...]:
    measurement = setting.library.measurements.get(missing.measurement)
    texts = measurement.how if measurement is not None else (f"Find the {missing.words}. {missing.how}",)
    slug = missing.key.replace(".", "-") or "fact"
    tools = measurement.tools if measurement is not None else ()
    return tuple(
        replace(
            after,
            step=Step(
                id=f"find-{slug}-{number}",
                do=text,
                tools=tools,
                why=f"The bike's file does not say it: {missing.words}." if number == 1 else "",
                measure=(measurement.id if measurement is not None else None) if number == len(texts) else None,
            ),
            conditions=(),
            uses=(),
        )
        for number, text in enumerate(texts, 1)
    )


def _measurement_shown(key: str, step: Step, setting: _Setting) -> Measurement | None:
    if step.measure is not None:
        return setting.library.measurements.get(step.measure)
    missing = next((one for one in (setting.plan.missing if setting.plan else ()) if one.key == key), None)
    if key and missing is not None and not missing.measurement:
        return Measurement(id="", name=missing.words, unit=unit_at(key.removeprefix("parts.")), key=key, how=())
    return None


def _limit(key: str, step: Step, setting: _Setting) -> str:
    """What the reading of a missing fact is held against: what it must be so that nothing else changes."""
    if setting.plan is None:
        return ""
    match step.measure:
        case "chainstay":
            return chain_table(setting.plan)
        case "chain-wear":
            return wear_line(setting.plan)
        case _:
            missing = next((one for one in setting.plan.missing if one.key == key), None)
            if missing is None or not missing.bounds or missing.measurement != (step.measure or ""):
                return ""
            return f"Wanted: {missing.bounds}."


# --- showing -------------------------------------------------------------------------------------


def _numbered(
    setting: _Setting, chosen: _Chosen, items: tuple[tuple[PlacedStep, str], ...]
) -> tuple[list[tuple[PlacedStep, ShownStep]], tuple[str, ...]]:
    """The steps with their numbers and pauses, and the sources in the order of their numbers.

    A drawing stands at the first step that asks for it.
    """
    shown: list[tuple[PlacedStep, ShownStep]] = []
    drawn: set[object] = set()
    numbers = _sources_of_checks(setting.plan)
    since = 0
    for number, (item, key) in enumerate(items, 1):
        following = items[number][0] if number < len(items) else None
        ends = following is None or (following.phase, following.section) != (item.phase, item.section)
        since += 1
        pause = item.step.pause or ends or since == _MOST_BETWEEN_PAUSES
        since = 0 if pause else since
        step = _shown(setting, item, key, is_open=id(item) in chosen.opened)
        drawing = (step.figure, step.figure_numbers)
        again = drawing in drawn
        drawn.add(drawing)
        source = 0
        if step.torque is not None:
            text = f"Torque, {step.torque.fastener.name}: {step.torque.source}"
            source = numbers.setdefault(text, len(numbers) + 1)
        shown.append((item, _placed(setting, step, (number, pause, again, source))))
    return shown, tuple(numbers)


def _sources_of_checks(plan: Plan | None) -> dict[str, int]:
    """What the checks of a plan go back to, each with its number."""
    checks = () if plan is None else tuple(f"{CHECKS[r.check].title}: {r.source}" for r in plan.checks if r.source)
    return {text: number for number, text in enumerate(dict.fromkeys(checks), 1)}


def _placed(setting: _Setting, step: ShownStep, place: tuple[int, bool, bool, int]) -> ShownStep:
    """The step with its number, its pause and the number of its source; without a drawing that stands above it."""
    number, pause, again, source = place

    def made() -> ShownStep:
        placed = replace(step, number=number, pause=pause, source=source)
        return replace(placed, figure="", figure_numbers=()) if again else placed

    return setting.made((id(step), place), made, step)


def _shown(setting: _Setting, item: PlacedStep, key: str, *, is_open: bool) -> ShownStep:
    """The step as it is shown, without its number; the same one on every bike that is alike in what it hangs on."""
    step, at_hand, hanging = item.step, setting.at_hand, setting.of.hanging(item.step)
    torque = at_hand.torque(step.tightens, after=True) if step.tightens else None
    loosens = at_hand.torque(step.loosens, after=False) if step.loosens else None
    tried = _tried(step, at_hand) if step.tries else ()
    numbers = tuple(figure_numbers(step, setting.bike, setting.plan).items()) if step.figure else ()
    limit = _limit(key, step, setting) if key and setting.plan is not None else None
    condition = setting.lead(_inner(setting, item)) if is_open or setting.bike is None else ""
    hangs_on = (
        id(item),
        setting.bike is None,
        tuple(at_hand.values.get(name) for name in hanging.values),
        tuple(setting.cases.get(name) for name in hanging.attributes),
        tuple(map(id, (torque, loosens, *tried))),
        numbers,
        limit,
        condition,
    )

    def made() -> ShownStep:
        local = {}
        if torque is not None and (words := torque_words(torque)) is not None:
            local["torque"] = words
        return ShownStep(
            number=0,
            step=step,
            do=setting.text(step.do, local),
            why=setting.text(step.why, local),
            prove=setting.text(step.prove, local),
            until=setting.text(step.until, local),
            limit=setting.text(step.limit) if limit is None else limit,
            choose=tuple((setting.text(choice.do, local), setting.text(choice.why, local)) for choice in step.choose),
            condition=condition,
            cautions=_cautions(setting, item, hanging),
            torque=torque,
            loosens=loosens,
            tried=tried,
            turning=_turning(step, torque, loosens),
            measurement=_measurement_shown(key, step, setting),
            figure=step.figure,
            figure_numbers=numbers,
            photo=next((one for one in setting.library.photos if step.photo and one.file == step.photo.file), None),
            origin=item.origin,
        )

    return setting.of.once.of(hangs_on, made, (item, torque, loosens, tried))


def _turning(step: Step, torque: Torque | None, loosens: Torque | None) -> str:
    """Which way to turn, where it is not the usual way and the act does not say it already."""
    if "clockwise" in step.do:
        return ""
    if torque is not None:
        return turning(torque.fastener, tighten=True)
    return turning(loosens.fastener, tighten=False) if loosens is not None else ""


def _tried(step: Step, at_hand: AtHand) -> tuple[Torque, ...]:
    """The torques that the step tries, less those of parts that the bike has not."""
    without = frozenset() if at_hand.after is None else at_hand.after.without
    torques = (at_hand.torque(name, after=True) for name in step.tries)
    return tuple(one for one in torques if one.fastener.role not in without)


def _inner(setting: _Setting, item: PlacedStep) -> tuple[Condition, ...]:
    """The step's conditions without those of its section, which are told at the heading."""
    return item.conditions if item.section is None else item.conditions[_outer(setting, item) :]


def _outer(setting: _Setting, item: PlacedStep) -> int:
    """How many of the step's conditions are its section's, and so are told at the heading."""
    assert item.section is not None
    return 0 if setting.guide.work[item.section].when == ALWAYS else 1


def _cautions(setting: _Setting, item: PlacedStep, hanging: Hanging) -> tuple[ShownCaution, ...]:
    found = tuple(one for one in hanging.cautions if decided(one.when, setting.cases) is not False)
    if setting.bike is None:
        # A caution whose own condition contradicts the step's is for no bike that does the step.
        found = tuple(c for c in found if decided(c.when, fixed_cases(item.conditions)) is not False)
    return tuple(
        ShownCaution(caution=caution, word=signal_word(caution), text=setting.text(caution_text(caution)))
        for caution in found
    )


def _sections(setting: _Setting, shown: list[tuple[PlacedStep, ShownStep]]) -> tuple[ShownSection, ...]:
    found: list[ShownSection] = []
    for number, section in enumerate(setting.guide.work):
        steps = tuple(step for placed, step in shown if placed.section == number)
        if steps:
            end = setting.text(section.end)
            condition = setting.lead(() if section.when == ALWAYS else (section.when,))
            key = ("section", section.title, end, condition, *map(id, steps))
            make = partial(ShownSection, title=section.title, end=end, condition=condition, steps=steps)
            found.append(setting.made(key, make, steps))
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gathered:
    """What the steps of a job use and warn of."""

    summary: tuple[ShownCaution, ...]
    tools: tuple[LaidOut, ...]
    consumables: tuple[LaidOut, ...]
    torques: tuple[TorqueLine, ...]


def _gathered(setting: _Setting, steps: tuple[ShownStep, ...]) -> _Gathered:
    def made() -> _Gathered:
        return _Gathered(
            summary=gathering.summary_of(steps, setting.guide.cautions, setting.library),
            tools=gathering.tools_of(steps, setting.library),
            consumables=gathering.consumables_of(steps, setting.library),
            torques=gathering.torques_of(steps),
        )

    return setting.made(("gathered", *map(id, steps)), made, steps)


def _faults(setting: _Setting, shown: list[tuple[PlacedStep, ShownStep]]) -> tuple[ShownFault, ...]:
    numbers = {placed.anchor: step.number for placed, step in reversed(shown)}
    found: list[ShownFault] = []
    for fault in setting.guide.faults:
        if setting.bike is not None and decided(fault.when, setting.cases) is False:
            continue
        symptom, cause, remedy = map(setting.text, (fault.symptom, fault.cause, fault.remedy))
        number = numbers.get(fault.step, 0)
        make = partial(ShownFault, symptom=symptom, cause=cause, remedy=remedy, number=number)
        found.append(setting.made(("fault", symptom, cause, remedy, number), make))
    return tuple(found)


# --- what names the card -------------------------------------------------------------------------


def _code(guide: Guide, bike: Bike | None) -> str:
    """The card's code: the first letters of the guide's id, and the bike's tag or id."""
    letters = "".join(word[0] for word in guide.id.split("-")).upper()
    return letters if bike is None else f"{letters}-{(bike.tag or bike.id).upper()}"
