"""Whether a fault changes a path, and whether something catches it.

A fault changes a path where, for some configuration, the course of what the guide does to the bike differs: the states
that it changes and in which order, the fasteners that are turned and how tight, what is put on a thread, what is
tested, which cautions show and which tools are laid out for an act. A step that only tells how to look or why, and on
which none of this depends, changes no path by this measure, nor does a need that is taken away: the steps stay.

Configurations are sampled for this question: for each step of a guide one that does it, and thirty more; the proof
itself visits them all.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import islice

from builder.model.condition import Condition
from builder.model.deciding import decided
from builder.model.guide import Guide, Step
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.proof.acts import rules_for
from builder.proof.directions import directions_agree
from builder.proof.gate import RECORD_PASSES
from builder.proof.known import NOTHING
from builder.proof.put_back import new_parts_are_new, what_is_let_out
from builder.proof.sections import empty_sections
from builder.proof.static import static_findings
from builder.proof.track import Track, track_of
from builder.proof.trade import steps_keep_the_trade
from builder.proof.unreached import unreached
from builder.proof.walk import walk
from builder.tailoring.hazards import cautions_for
from builder.tailoring.torques import torque_for
from tests.mutation.faults import Fault

_SAMPLES = 30
# Kinds that change no state and no tool, and would stand on a card all the same.
_ON_THE_CARD = frozenset(
    {
        "change torque",
        "repeat without a way out",
        "name a drawing that is none",
        "turn a thread to the left",
        "let out without a state",
        "grease and lock one thread",
        "type a limit",
        "detach a caution",
        "measure and leave the air out",
        "contradict a part's figures",
    }
)
# What the gate asks besides the proof, by what a fault of each kind is found.
_PASSES = (*RECORD_PASSES, what_is_let_out, steps_keep_the_trade, directions_agree, new_parts_are_new, unreached)
_OF_THE_OLD_PART = "keep the old part's states"


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A fault with what came of it. `by` is what caught it, '' where nothing did; `why` tells why it is harmless."""

    fault: Fault
    changes: bool
    by: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class _Sample:
    """A configuration by its number."""

    number: int
    cases: dict[str, str]


def judge(fault: Fault, sound: Library) -> Judged:
    """What comes of `fault`."""
    if fault.kind == "remove need":
        return Judged(fault=fault, changes=False, by="", why=_why_no_change(fault, sound))
    guides = [sound.guides[name] for name in _guides_with(fault, sound)]
    changes = fault.kind in _ON_THE_CARD or any(_goes_otherwise(guide.id, fault.library, sound) for guide in guides)
    if not changes:
        return Judged(fault=fault, changes=False, by="", why=_why_no_change(fault, sound))
    by = _caught_by(fault, guides, sound)
    why = "" if by or not _independent(fault) else "neither of the two depends on the other: both orders are right"
    return Judged(fault=fault, changes=not why, by=by, why=why)


def _why_no_change(fault: Fault, sound: Library) -> str:
    match fault.kind:
        case "remove need":
            return "the steps stay the same; the need guards them"
        case "remove caution":
            return "the cautions stay: the sentence itself names the thing, or no caution attaches to it"
        case "drop step":
            return "it tells how to look or why; no state, fastener, caution or test depends on it"
        case "swap tool":
            return "no act of the catalogue's rules depends on it"
        case _:
            del sound
            return "the course of every sampled bike stays the same"


def _guides_with(fault: Fault, sound: Library) -> list[str]:
    """The guides that a fault concerns, the shortest first."""
    _LIBRARIES[id(sound)] = sound
    return [name for name, homes in _homes_of(id(sound)).items() if not fault.home or fault.home in homes]


@cache
def _homes_of(key: int) -> dict[str, frozenset[str]]:
    """Each guide of a sound library, the shortest first, with itself and every procedure that it places."""
    sound = _LIBRARIES[key]
    placed = {guide.id: inlined(guide, sound) for guide in sound.guides.values()}
    return {
        name: frozenset({name, *(use.use for item in placed[name] for use in item.uses)})
        for name in sorted(placed, key=lambda name: len(placed[name]))
    }


def _caught_by(fault: Fault, guides: list[Guide], sound: Library) -> str:
    """The first of the checks, the cheapest first, that finds more in the faulty library than nothing."""
    first = fault.kind in _ON_THE_CARD or fault.kind == _OF_THE_OLD_PART
    if first and (found_by := _passes_find(fault, sound)):
        return found_by
    for guide in guides:
        found = next(iter(static_findings(fault.library.guides[guide.id], fault.library)), None)
        if found is not None:
            return f"proof ({found.rule})"
    for guide in guides:
        track = track_of(fault.library.guides[guide.id], fault.library)
        walked = walk(track)
        if walked.failures:
            return f"proof ({next(iter(walked.failures)).flaw.value})"
        if any(item.index not in walked.reached and not item.origin for item in track.steps):
            return "proof (unreachable)"
        if next(empty_sections(track), None) is not None:
            return "proof (empty)"
    return "" if first else _passes_find(fault, sound)


def _passes_find(fault: Fault, sound: Library) -> str:
    """The first pass over the whole library that finds more in the faulty one than in the sound one."""
    for check, before in zip(_PASSES, _found_before(sound), strict=True):
        if {one.message for one in check(fault.library)} - before:
            return f"check ({check.__name__})"
    return ""


_BEFORE: dict[int, tuple[frozenset[str], ...]] = {}


def _found_before(sound: Library) -> tuple[frozenset[str], ...]:
    """What each pass finds in the library as it is, so that it counts for no fault."""
    if id(sound) not in _BEFORE:
        _LIBRARIES[id(sound)] = sound
        _BEFORE[id(sound)] = tuple(frozenset(one.message for one in check(sound)) for check in _PASSES)
    return _BEFORE[id(sound)]


def _independent(fault: Fault) -> bool:
    """Whether two swapped steps have nothing to do with one another."""
    if fault.kind != "swap neighbours":
        return False
    first, second = fault.steps
    states = [{*step.needs, *step.leaves} for step in (first, second)]
    turned = [{step.loosens, step.tightens} - {None} for step in (first, second)]
    leaves = {*first.leaves} & states[1] | {*second.leaves} & states[0]
    return not leaves and not turned[0] & turned[1]


# --- the course of a bike ------------------------------------------------------------------------


_LIBRARIES: dict[int, Library] = {}
_Course = tuple[object, ...]


@cache
def _courses_of(guide_id: str, key: int) -> tuple[tuple[_Sample, _Course], ...]:
    sound = _LIBRARIES[key]
    track = track_of(sound.guides[guide_id], sound)
    samples = [_Sample(number, cases) for number, cases in enumerate(_sampled(track))]
    return tuple((sample, _course_of(guide_id, track.steps, sound, sample)) for sample in samples)


def _goes_otherwise(guide_id: str, library: Library, sound: Library) -> bool:
    """Whether some sampled configuration takes another course through a guide than in the sound library."""
    steps = inlined(library.guides[guide_id], library)
    return any(
        _course_of(guide_id, steps, library, sample) != before for sample, before in _courses_of(guide_id, id(sound))
    )


def _sampled(track: Track) -> Iterator[dict[str, str]]:
    """One configuration for each set of conditions that a step has and a bike can meet, then some of any kind."""
    drawn = random.Random(track.guide.id)
    space = track.space
    begun: list[dict[str, str]] = []
    for conditions in dict.fromkeys(item.conditions for item in track.steps):
        ready = track.ready(conditions)
        met = (
            known
            for known in space.settled(NOTHING, ready, all_of=False)
            if all(space.knowing.answer(one, known) is True for one in ready)
        )
        begun += [space.knowing.named(known) for known in islice(met, 1)]
    if not space.feasible({}):
        return
    for cases in (*begun, *({} for _ in range(_SAMPLES))):
        for name in space.domains:
            if name not in cases:
                cases[name] = drawn.choice(space.choices(name, cases))
        yield cases


def _course_of(guide_id: str, steps: tuple[PlacedStep, ...], library: Library, sample: _Sample) -> _Course:
    """What the guide does to a bike, act by act; a state that a step leaves as it was is no act."""
    found: list[object] = []
    states = {name: state.ready[0] for name, state in library.states.items()}
    states |= library.guides[guide_id].begins
    for item in steps:
        if all(_holds(condition, guide_id, sample) for condition in item.conditions):
            leaves, *others = _effect_of(item.step, library, guide_id, sample)
            assert isinstance(leaves, tuple)
            changed = tuple((name, value) for name, value in leaves if states.get(name) != value)
            states.update(changed)
            if changed or any(others):
                found.append((changed, *others))
    return tuple(found)


# What was worked out for a step or a condition, by its identity; the object is kept beside it.
_ANSWERS: dict[tuple[int, str, int], tuple[object, bool]] = {}
_EFFECTS: dict[tuple[int, str, int], tuple[object, tuple[object, ...]]] = {}


def _holds(condition: Condition, guide_id: str, sample: _Sample) -> bool:
    key = (id(condition), guide_id, sample.number)
    if key not in _ANSWERS:
        _ANSWERS[key] = (condition, decided(condition, sample.cases) is True)
    return _ANSWERS[key][1]


def _effect_of(step: Step, library: Library, guide_id: str, sample: _Sample) -> tuple[object, ...]:
    key = (id(step), guide_id, sample.number)
    if key not in _EFFECTS:
        _EFFECTS[key] = (step, _effect(step, library, sample.cases))
    return _EFFECTS[key][1]


def _effect(step: Step, library: Library, cases: dict[str, str]) -> tuple[object, ...]:
    leaves = tuple(
        (name, value)
        for name, value in sorted(step.leaves.items())
        if name in library.states and decided(library.states[name].when, cases) is True
    )
    torque = None
    if step.tightens is not None:
        torque = torque_for(library.fasteners[step.tightens], None, library).torque_nm
    prepared = tuple(name for name in step.consumables if step.loosens or step.tightens or name == "grease")
    cautions = tuple(caution.id for caution in cautions_for(step, library, cases))
    rules = rules_for(step, library)
    tools = step.tools if step.loosens or step.tightens or any(rule.tools for rule in rules) else ()
    return leaves, step.loosens, step.tightens, torque, prepared, cautions, tools, step.measure
