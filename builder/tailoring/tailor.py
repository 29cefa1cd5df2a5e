"""Turn a guide and a plan into the guide for one bike: only the steps that apply, with every number in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from sys import intern

from builder.checks.registry import CHECKS
from builder.diagnostics.diagnostic import Diagnostic
from builder.model.bike import Bike
from builder.model.catalogue import Measurement
from builder.model.condition import ALWAYS, All, Condition, fixed_cases
from builder.model.deciding import decided, deciding, still_open
from builder.model.guide import Area, Guide, Step, Trial
from builder.model.inlining import Phase, PlacedStep, inlined
from builder.model.library import Library
from builder.model.paths import unit_at
from builder.planning.attributes import cases_of, foreign, what_to_write
from builder.planning.plan import Missing, Plan
from builder.tailoring import gathering
from builder.tailoring.figures import figure_numbers
from builder.tailoring.generic import possible
from builder.tailoring.hazards import cautions_for, signal_word
from builder.tailoring.tailored import LeftOut, ShownCaution, ShownFault, ShownSection, ShownStep, Tailored, Torque
from builder.tailoring.torques import torque_for, torque_words, turning
from builder.tailoring.values import chain_table, named_values, wear_line
from builder.tailoring.wording import fill, in_words, lead, why_not

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
    cases: Mapping[str, str]
    values: Mapping[str, str]
    leave_open: bool

    def text(self, text: str, local: Mapping[str, str] | None = None) -> str:
        """`text` with its values filled in."""
        return fill(text, {**self.values, **(local or {})}, self.library)

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

    Raises:
        NotSuited: the guide is not for this bike.
        CannotTailor: the bike's file lacks what a condition asks for, and nothing is to be left open.
    """
    cases = {} if bike is None else cases_of(library, bike, plan)
    setting = _Setting(
        guide=guide,
        library=library,
        bike=bike,
        plan=plan,
        cases=cases,
        values=named_values(bike, plan),
        leave_open=leave_open,
    )
    only_for = () if bike is None else _refuse_unsuited(setting, bike)
    kept, left_out = _chosen(setting, inlined(guide, library))
    shown, sources = _sourced(_numbered(setting, _with_measurements(setting, kept)), plan)
    work = [(placed, step) for placed, step in shown if placed.phase is Phase.WORK]
    sections = _sections(setting, work)
    finish = tuple(step for placed, step in shown if placed.phase is Phase.FINISH)
    test = tuple(step for placed, step in shown if placed.phase is Phase.TEST)
    steps = [step for _, step in shown]
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
        summary_cautions=gathering.summary_of(steps, guide.cautions, library),
        tools=gathering.tools_of(steps, library),
        consumables=gathering.consumables_of(steps, library),
        parts=gathering.parts_of(steps, plan),
        torques=gathering.torques_of(steps),
        faults=_faults(setting, shown),
        left_out=left_out,
        checks=() if plan is None else plan.checks,
        values=tuple(sorted(setting.values.items())),
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


def _chosen(setting: _Setting, placed: Sequence[PlacedStep]) -> tuple[tuple[PlacedStep, ...], tuple[LeftOut, ...]]:
    """The steps that apply, and why each other one does not."""
    if setting.bike is None:
        return tuple(item for item in placed if _on_some_bike(setting, item)), ()
    kept: list[PlacedStep] = []
    left_out: list[LeftOut] = []
    unknown: dict[str, None] = {}
    reasons: dict[tuple[Condition, ...], str] = {}  # many steps stand under the same conditions
    for item in placed:
        if item.conditions not in reasons:
            reasons[item.conditions] = _reason_against(setting, item.conditions)
        reason = reasons[item.conditions]
        if reason:
            do = setting.text(item.step.do, {"torque": "…"})
            # Most bikes of a fleet leave out the same steps: their texts are held once.
            left_out.append(LeftOut(step=item.anchor, do=intern(do), reason=intern(reason)))
            continue
        kept.append(item)
        opened = (one for one in item.conditions if decided(one, setting.cases) is None)
        asked = (name for one in opened for name in deciding(one, setting.cases) if name not in setting.cases)
        unknown.update(dict.fromkeys(asked))
    _refuse_foreign(setting, setting.bike, unknown)
    if unknown and not setting.leave_open:
        raise CannotTailor(tuple(_unknown(name, setting.bike, setting) for name in unknown))
    return tuple(kept), tuple(left_out)


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


def _on_some_bike(setting: _Setting, item: PlacedStep) -> bool:
    return possible((setting.guide.suits, *item.conditions), setting.library)


# --- measurements --------------------------------------------------------------------------------


def _with_measurements(setting: _Setting, kept: tuple[PlacedStep, ...]) -> tuple[tuple[PlacedStep, str], ...]:
    """The steps with one for each missing fact put in where its states hold first; beside each the fact's key."""
    taken = {item.step.measure for item in kept if item.phase is Phase.WORK}
    missing_facts = () if setting.plan is None else setting.plan.missing
    # What a step of the guide measures anyhow is not measured twice.
    waiting = [one for one in missing_facts if not one.measurement or one.measurement not in taken]
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
    """What a reading is held against: for a missing fact, what it must be so that nothing else changes."""
    if not key or setting.plan is None:
        return setting.text(step.limit)
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


def _numbered(setting: _Setting, items: tuple[tuple[PlacedStep, str], ...]) -> list[tuple[PlacedStep, ShownStep]]:
    """The steps with their numbers and pauses; a drawing stands at the first step that asks for it."""
    shown: list[tuple[PlacedStep, ShownStep]] = []
    drawn: set[object] = set()
    since = 0
    for number, (item, key) in enumerate(items, 1):
        following = items[number][0] if number < len(items) else None
        ends = following is None or (following.phase, following.section) != (item.phase, item.section)
        since += 1
        pause = item.step.pause or ends or since == _MOST_BETWEEN_PAUSES
        since = 0 if pause else since
        step = _shown(setting, item, key, number, pause=pause)
        drawing = (step.figure, step.figure_numbers)
        if drawing in drawn:
            step = replace(step, figure="", figure_numbers=())
        drawn.add(drawing)
        shown.append((item, step))
    return shown


def _shown(setting: _Setting, item: PlacedStep, key: str, number: int, *, pause: bool) -> ShownStep:
    step, library = item.step, setting.library
    after = setting.plan.after if setting.plan is not None else setting.bike
    torque = torque_for(library.fasteners[step.tightens], after, library) if step.tightens else None
    loosens = torque_for(library.fasteners[step.loosens], setting.bike, library) if step.loosens else None
    local = {}
    if torque is not None and (words := torque_words(torque)) is not None:
        local["torque"] = words
    turn = (
        turning(torque.fastener, tighten=True)
        if torque is not None
        else turning(loosens.fastener, tighten=False)
        if loosens is not None
        else ""
    )
    if "clockwise" in step.do:  # the act says it already
        turn = ""
    inner = item.conditions if item.section is None else item.conditions[_outer(setting, item) :]
    return ShownStep(
        number=number,
        step=step,
        do=setting.text(step.do, local),
        why=setting.text(step.why, local),
        prove=setting.text(step.prove, local),
        until=setting.text(step.until, local),
        limit=_limit(key, step, setting),
        choose=tuple((setting.text(choice.do, local), setting.text(choice.why, local)) for choice in step.choose),
        condition=setting.lead(inner),
        cautions=_cautions(setting, item, step),
        torque=torque,
        loosens=loosens,
        tried=_tried(step, after, library),
        turning=turn,
        measurement=_measurement_shown(key, step, setting),
        figure=step.figure,
        figure_numbers=tuple(figure_numbers(step, setting.bike, setting.plan).items()),
        photo=next((one for one in library.photos if step.photo and one.file == step.photo.file), None),
        pause=pause,
        origin=item.origin,
    )


def _tried(step: Step, bike: Bike | None, library: Library) -> tuple[Torque, ...]:
    """The torques that the step tries, less those of parts that the bike has not."""
    fasteners = (library.fasteners[name] for name in step.tries)
    without = frozenset() if bike is None else bike.without
    return tuple(torque_for(one, bike, library) for one in fasteners if one.role not in without)


def _outer(setting: _Setting, item: PlacedStep) -> int:
    """How many of the step's conditions are its section's, and so are told at the heading."""
    assert item.section is not None
    return 0 if setting.guide.work[item.section].when == ALWAYS else 1


def _cautions(setting: _Setting, item: PlacedStep, step: Step) -> tuple[ShownCaution, ...]:
    known = dict(setting.cases)
    found = cautions_for(step, setting.library, known)
    if setting.bike is None:
        # A caution whose own condition contradicts the step's is for no bike that does the step.
        found = tuple(c for c in found if decided(c.when, fixed_cases(item.conditions)) is not False)
    return tuple(
        ShownCaution(caution=caution, word=signal_word(caution), text=setting.text(caution.short or caution.text))
        for caution in found
    )


def _sections(setting: _Setting, work: list[tuple[PlacedStep, ShownStep]]) -> tuple[ShownSection, ...]:
    found: list[ShownSection] = []
    for number, section in enumerate(setting.guide.work):
        steps = tuple(step for placed, step in work if placed.section == number)
        if steps:
            condition = setting.lead(() if section.when == ALWAYS else (section.when,))
            found.append(
                ShownSection(title=section.title, end=setting.text(section.end), condition=condition, steps=steps)
            )
    return tuple(found)


def _faults(setting: _Setting, shown: list[tuple[PlacedStep, ShownStep]]) -> tuple[ShownFault, ...]:
    numbers = {placed.anchor: step.number for placed, step in reversed(shown)}
    found: list[ShownFault] = []
    for fault in setting.guide.faults:
        if setting.bike is not None and decided(fault.when, setting.cases) is False:
            continue
        found.append(
            ShownFault(
                symptom=setting.text(fault.symptom),
                cause=setting.text(fault.cause),
                remedy=setting.text(fault.remedy),
                number=numbers.get(fault.step, 0),
            )
        )
    return tuple(found)


# --- what names the card -------------------------------------------------------------------------


def _code(guide: Guide, bike: Bike | None) -> str:
    """The card's code: the first letters of the guide's id, and the bike's tag or id."""
    letters = "".join(word[0] for word in guide.id.split("-")).upper()
    return letters if bike is None else f"{letters}-{(bike.tag or bike.id).upper()}"


def _sourced(
    shown: list[tuple[PlacedStep, ShownStep]], plan: Plan | None
) -> tuple[list[tuple[PlacedStep, ShownStep]], tuple[str, ...]]:
    """The steps with the number of their torque's source, and the sources in the order of their numbers."""
    checks = () if plan is None else tuple(f"{CHECKS[r.check].title}: {r.source}" for r in plan.checks if r.source)
    numbers = {text: number for number, text in enumerate(dict.fromkeys(checks), 1)}
    found = []
    for placed, step in shown:
        if step.torque is not None:
            text = f"Torque, {step.torque.fastener.name}: {step.torque.source}"
            step = replace(step, source=numbers.setdefault(text, len(numbers) + 1))
        found.append((placed, step))
    return found, tuple(numbers)
