"""How far a guide was tried, and what changed since: a trial counts only for the text that was tried.

    guide + library ─► a code for each step and for the guide's own texts ─► held against those of each trial

A code is a short hash of all that the reader sees. It changes with a word, a torque, a tool or a caution, and not with
a comment, the order of keys or a note to other authors. After S1000D, chapter 3.7 (unverified, table-top, on-object;
read as restated by others); that a changed step takes the status back is a house rule.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Fastener
from builder.model.condition import All, AnyOf, Condition, Is, Not
from builder.model.guide import Guide, Step, Trial, TrialKind
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.named_values import names_in
from builder.model.position import Position
from builder.model.units import Range
from builder.tailoring.hazards import attached, signal_word, waived

# The name under which the guide's own texts stand among the codes of a trial; no step can be called so.
GUIDE = "(guide)"
# Letters of a code: 32 bits tell the few versions of one step apart.
_STEP_LETTERS, _GUIDE_LETTERS = 8, 12

# What stands for something that the reader sees: anything that JSON can write.
_Seen = object


class StatusKind(StrEnum):
    """How far the present text of a guide was tried."""

    UNVERIFIED = "unverified"
    TABLE_TOP = "table-top"
    ON_BICYCLE = "on-bicycle"


class ChangeKind(StrEnum):
    """What became of a step since a trial."""

    CHANGED = "changed"
    ADDED = "added"
    REMOVED = "removed"
    MOVED = "moved"


@dataclass(frozen=True, slots=True)
class StepChange:
    """A step, by its name, and what became of it; `(guide)` for the texts that stand in no step."""

    step: str
    kind: ChangeKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Status:
    """How far the present text of a guide was tried, by whom and when.

    `trial` is the trial that counts, or, where `stale`, the last one, which no longer does; `since` says what changed
    after it, and is empty where the trial kept no codes of its steps.
    """

    kind: StatusKind
    trial: Trial | None = None
    stale: bool = False
    since: tuple[StepChange, ...] = ()


def text_code(guide: Guide, library: Library) -> str:
    """A short code of everything that the reader of a guide sees, shared steps, torques and cautions included."""
    return code_of(list(step_codes(guide, library).items()), _GUIDE_LETTERS)


def step_codes(guide: Guide, library: Library) -> Mapping[str, str]:
    """The code of the guide's own texts under `(guide)`, then that of each step by its name, in their order."""
    codes = {GUIDE: code_of(_guide_seen(guide, library), _STEP_LETTERS)}
    for name, placed in _named(inlined(guide, library)):
        codes[name] = code_of(_step_seen(placed, library), _STEP_LETTERS)
    return codes


def trials(guide: Guide, library: Library) -> tuple[Trial, ...]:
    """Every trial of a guide: those in its own file, then those that the command wrote; by date."""
    written = library.tried.get(guide.id)
    every = (*guide.trials, *(written.trials if written is not None else ()))
    return tuple(sorted(every, key=lambda trial: trial.date))


def status(guide: Guide, library: Library) -> Status:
    """How far the present text was tried: on a bicycle counts for more than at the table, a later trial for more."""
    every = trials(guide, library)
    if not every:
        return Status(kind=StatusKind.UNVERIFIED)
    present = text_code(guide, library)
    counting = [trial for trial in every if trial.proof_of == present]
    if counting:
        best = max(counting, key=lambda trial: (trial.how is TrialKind.ON_BICYCLE, trial.date))
        return Status(kind=StatusKind(best.how.value), trial=best)
    last = every[-1]
    return Status(kind=StatusKind.UNVERIFIED, trial=last, stale=True, since=changed_since(guide, library, last))


def changed_since(guide: Guide, library: Library, trial: Trial) -> tuple[StepChange, ...]:
    """What became of each step since a trial, in the present order, removed steps last."""
    then = _written(trial)
    if not then:
        return ()
    now = step_codes(guide, library)
    kept = [name for name in now if name in then]
    before = [name for name in then if name in now]
    elsewhere = moved(before, kept)
    found = []
    for name, code in now.items():
        if name not in then:
            found.append(StepChange(name, ChangeKind.ADDED))
        elif then[name] != code:
            found.append(StepChange(name, ChangeKind.CHANGED))
        elif name in elsewhere:
            found.append(StepChange(name, ChangeKind.MOVED))
    found += [StepChange(name, ChangeKind.REMOVED) for name in then if name not in now]
    return tuple(found)


def written_steps(guide: Guide, library: Library) -> tuple[str, ...]:
    """The steps of the present text as a trial keeps them: `name code`, in their order."""
    return tuple(f"{name} {code}" for name, code in step_codes(guide, library).items())


def _written(trial: Trial) -> Mapping[str, str]:
    """The codes that a trial kept, by the name of the step; a line that is no pair of name and code is passed over."""
    pairs = (line.rpartition(" ") for line in trial.steps)
    return {name: code for name, _, code in pairs if name}


def check_trials(library: Library) -> tuple[Diagnostic, ...]:
    """A note for each guide that was changed after it was tried, with what changed; and trials of no guide."""
    found: list[Diagnostic] = []
    for guide in library.guides.values():
        now = status(guide, library)
        if now.stale and now.trial is not None:
            found.append(_fallen_back(guide, now, now.trial, library))
    for name, tried in library.tried.items():
        if name not in library.guides:
            message = f"trials of '{name}', which is no guide"
            found.append(Diagnostic(rule="trial", message=message, at=tried.places.at, gravity=Gravity.WARNING))
    return tuple(found)


def _fallen_back(guide: Guide, now: Status, trial: Trial, library: Library) -> Diagnostic:
    by_kind = {kind: ", ".join(change.step for change in now.since if change.kind is kind) for kind in ChangeKind}
    changes = tuple(f"{kind.value} since: {names}" for kind, names in by_kind.items() if names)
    places = {name: placed.step.places.at for name, placed in _named(inlined(guide, library))}
    related = tuple(
        (places[change.step], change.kind.value) for change in now.since if _in_file(places.get(change.step))
    )
    return Diagnostic(
        rule="trial",
        message=f"'{guide.id}' is unverified again: its text changed after {trial.by} tried it on {trial.date}",
        at=trial.places.at if _in_file(trial.places.at) else guide.places.at,
        gravity=Gravity.NOTE,
        hints=(*changes, f"try it again, then run: spannerleaf tried {guide.id} --by NAME --how {trial.how.value}"),
        related=related,
    )


def _in_file(place: Position | None) -> bool:
    return place is not None and bool(place.file)


def moved(before: list[str], now: list[str]) -> frozenset[str]:
    """The fewest names whose moving turns one order into the other: all but a longest common run in order."""
    place = {name: number for number, name in enumerate(before)}
    best: list[list[str]] = []
    for name in now:
        longest = max((run for run in best if place[run[-1]] < place[name]), key=len, default=[])
        best.append([*longest, name])
    steady = max(best, key=len, default=[])
    return frozenset(now) - frozenset(steady)


def _named(steps: Iterable[PlacedStep]) -> list[tuple[str, PlacedStep]]:
    """Steps by name; one that stands more than once in a guide gets a number behind its name."""
    seen: dict[str, int] = {}
    named: list[tuple[str, PlacedStep]] = []
    for placed in steps:
        count = seen[placed.anchor] = seen.get(placed.anchor, 0) + 1
        named.append((placed.anchor if count == 1 else f"{placed.anchor}.{count}", placed))
    return named


def code_of(seen: object, letters: int) -> str:
    """A short hash of what is seen: anything that JSON can write."""
    text = json.dumps(seen, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:letters]


def _guide_seen(guide: Guide, library: Library) -> _Seen:
    """What the reader sees of a guide outside its steps."""
    return {
        "title": guide.title,
        "purpose": _text(guide.purpose, library),
        "done_when": _text(guide.done_when, library),
        "lists": [
            [_text(text, library) for text in texts] for texts in (guide.not_when, guide.before, guide.mechanic_when)
        ],
        "people": [guide.level.value, guide.persons, guide.prepare_time_min, guide.work_time_min],
        "suits": _condition(guide.suits),
        "refuse": guide.refuse,
        "wants": [role.value for role in guide.wants],
        # A guide that takes no part keeps the revision under which it was tried.
        **({"takes": [role.value for role in guide.takes]} if guide.takes else {}),
        **({"drops": [role.value for role in guide.drops]} if guide.drops else {}),
        "touches": [area.value for area in guide.touches],
        "cautions": [_caution(name, library) for name in guide.cautions],
        "sections": [[section.title, section.end, _condition(section.when)] for section in guide.work],
        "faults": [
            [fault.symptom, fault.cause, fault.remedy, fault.step, _condition(fault.when)] for fault in guide.faults
        ],
    }


def _step_seen(placed: PlacedStep, library: Library) -> _Seen:
    """What the reader sees of a step, and for which bikes."""
    step = placed.step
    return {
        "texts": [_text(text, library) for text in (step.do, step.why, step.prove, step.until, step.limit)],
        "choose": [[_text(choice.do, library), _text(choice.why, library)] for choice in step.choose],
        "when": _condition(placed.condition),
        "stretch": placed.phase.value,
        "fasteners": [_fastener(name, library) for name in (step.loosens, step.tightens, *step.tries)],
        "boxes": dict(step.boxes),
        "tools": [library.tools[name].name for name in step.tools if name in library.tools],
        "consumables": [
            [library.consumables[name].name, library.consumables[name].amount]
            for name in step.consumables
            if name in library.consumables
        ],
        "parts": [role.value for role in step.parts],
        "cautions": _step_cautions(step, library),
        "measure": _measure(step, library),
        "wait_min": step.wait_min,
        "figure": step.figure,
        "pause": step.pause,
    }


def _text(text: str, library: Library) -> _Seen:
    """A text with the words that stand for its values where they are not known."""
    shown = {name: library.named_texts[name].unknown for name in names_in(text) if name in library.named_texts}
    return [" ".join(text.split()), dict(shown)]


def _fastener(name: str | None, library: Library) -> _Seen:
    fastener = library.fasteners.get(name or "")
    return None if fastener is None else _fastener_seen(fastener, library)


def _fastener_seen(fastener: Fastener, library: Library) -> _Seen:
    head = library.heads.get(fastener.head)
    return [
        fastener.name,
        fastener.thread,
        fastener.hand.value,
        fastener.preparation.value,
        head.name if head is not None else fastener.head,
        _range(fastener.torque_nm),
        fastener.feel,
        fastener.count,
    ]


def _range(span: Range | None) -> _Seen:
    # Rounded, so that the code is the same wherever arithmetic differs in the last bit.
    return None if span is None else [round(span.low, 6), round(span.high, 6)]


def _step_cautions(step: Step, library: Library) -> _Seen:
    """The cautions of a step, those attached by rule included, less those that are waived."""
    aside = {waiver.rule.partition(":")[2] for waiver in waived(step)}
    names = dict.fromkeys((*step.cautions, *(caution.id for caution in attached(step, library))))
    return [_caution(name, library) for name in names if name not in aside]


def _caution(name: str, library: Library) -> _Seen:
    caution = library.cautions.get(name)
    if caution is None:
        return name
    return [signal_word(caution).value, caution.text, caution.short, list(caution.signs), _condition(caution.when)]


def _measure(step: Step, library: Library) -> _Seen:
    measurement = library.measurements.get(step.measure or "")
    return None if measurement is None else [measurement.name, measurement.unit, list(measurement.how)]


def _condition(condition: Condition) -> _Seen:
    match condition:
        case Is(attribute, cases):
            return {attribute: sorted(cases)}
        case All(parts):
            return ["all", *(_condition(part) for part in parts)]
        case AnyOf(parts):
            return ["any", *(_condition(part) for part in parts)]
        case Not(part):
            return ["not", _condition(part)]
