"""Whether a fault changes a path, and whether something catches it.

A fault changes a path where, for some configuration, the course of what the guide does to the bike differs: the states
that it changes and in which order, the fasteners that are turned and how tight, what is put on a thread, what is tested,
which cautions show and which tools are laid out for an act. A step that only tells how to look or why, and on which
none of this depends, changes no path by this measure, nor does a need that is taken away: the steps stay the same.

Configurations are sampled for this question, some hundred for each guide; the proof itself visits them all.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from builder.cli.passes import RECORD_PASSES
from builder.model.deciding import decided
from builder.model.guide import Guide, Step
from builder.model.library import Library
from builder.proof.acts import rules_for
from builder.proof.static import static_findings
from builder.proof.walk import Course, course, walk
from builder.tailoring.hazards import cautions_for
from builder.tailoring.inlining import inlined
from builder.tailoring.torques import torque_for
from tests.mutation.faults import Fault

_SAMPLES = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """A fault with what came of it. `by` is what caught it, '' where nothing did; `why` tells why it is harmless."""

    fault: Fault
    changes: bool
    by: str
    why: str = ""


def judge(fault: Fault, sound: Library) -> Judged:
    """What comes of `fault`."""
    guides = [sound.guides[name] for name in _guides_with(fault, sound)]
    changes = fault.kind == "change torque" or any(
        _course_of(guide.id, fault.library, cases) != _course_of(guide.id, sound, cases)
        for guide in guides
        for cases in _samples(guide.id, sound)
    )
    if not changes:
        return Judged(fault=fault, changes=False, by="", why=_why_no_change(fault, sound))
    by = _caught_by(fault, guides)
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
    found = [
        guide
        for guide in sound.guides.values()
        if not fault.home
        or guide.id == fault.home
        or any(fault.home in (use.use for use in item.uses) for item in inlined(guide, sound))
    ]
    return [guide.id for guide in sorted(found, key=lambda guide: len(inlined(guide, sound)))]


def _caught_by(fault: Fault, guides: list[Guide]) -> str:
    """The first of the checks, the cheapest first, that finds more in the faulty library than nothing."""
    if fault.kind == "change torque":
        for check in RECORD_PASSES:
            if check(fault.library):
                return f"check ({check.__name__})"
    for guide in guides:
        found = next(iter(static_findings(fault.library.guides[guide.id], fault.library)), None)
        if found is not None:
            return f"proof ({found.rule})"
    for guide in guides:
        track = course(fault.library.guides[guide.id], fault.library)
        walked = walk(track)
        if walked.failures:
            return f"proof ({next(iter(walked.failures)).flaw.value})"
        if any(item.index not in walked.reached and not item.origin for item in track.steps):
            return "proof (unreachable)"
    return ""


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


@cache
def _samples_of(guide_id: str, key: int) -> tuple[dict[str, str], ...]:
    track = course(_LIBRARIES[key].guides[guide_id], _LIBRARIES[key])
    return tuple(_sampled(track))


_LIBRARIES: dict[int, Library] = {}


def _samples(guide_id: str, sound: Library) -> tuple[dict[str, str], ...]:
    _LIBRARIES[id(sound)] = sound
    return _samples_of(guide_id, id(sound))


def _sampled(track: Course) -> Iterator[dict[str, str]]:
    for turn in range(_SAMPLES):
        cases: dict[str, str] = {}
        for place, name in enumerate(track.space.domains):
            choices = track.space.choices(name, cases)
            if not choices:
                return
            cases[name] = choices[(turn * (place + 3) + turn // 7) % len(choices)]
        yield cases


def _course_of(guide_id: str, library: Library, cases: dict[str, str]) -> tuple[object, ...]:
    """What the guide does to a bike with `cases`, act by act."""
    found: list[object] = []
    for item in inlined(library.guides[guide_id], library):
        if all(decided(condition, cases) is True for condition in item.conditions):
            effect = _effect(item.step, library, cases)
            if effect:
                found.append(effect)
    return tuple(found)


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
    effect = (leaves, step.loosens, step.tightens, torque, prepared, cautions, tools, step.measure)
    return effect if any(effect) else ()
