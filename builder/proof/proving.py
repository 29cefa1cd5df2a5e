"""Prove guides: no path through any of them can go wrong, or a diagnostic shows the shortest one that does."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from builder.diagnostics.diagnostic import Diagnostic, ordered
from builder.model.guide import Guide, Waiver
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.position import Position
from builder.proof.failures import Failure, Flaw, Trace
from builder.proof.sections import told as empty_groups
from builder.proof.static import static_findings
from builder.proof.track import Track, track_of
from builder.proof.walk import Walked, about, single, walk
from builder.tailoring.hazards import CAUTION_WAIVER

_STEPS_SHOWN = 6
_WAYS_TRIED = 6
_WORDS_SHOWN = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """What was proven of a guide: over how many configurations and distinct paths, and everything that can go wrong."""

    guide: str
    steps: int
    configurations: int
    paths: int
    diagnostics: tuple[Diagnostic, ...]


def prove(guide: Guide, library: Library, *, counting: bool = True) -> Proof:
    """Prove `guide` over every configuration that a bike and a plan can have for it.

    Without `counting` it is not told how many configurations and paths there are, which takes longer than the proof.
    """
    track = track_of(guide, library)
    walked = walk(track, counting=counting)
    found = [
        *(_failure(track, failure, trace) for failure, trace in walked.failures.items()),
        *_unreachable(track, walked),
        *empty_groups(track),
        *static_findings(guide, library),
    ]
    return Proof(
        guide=guide.id,
        steps=len(track.steps),
        configurations=walked.configurations,
        paths=walked.paths,
        diagnostics=ordered(found),
    )


def caution_waivers(guides: Iterable[Guide], library: Library) -> tuple[tuple[str, Waiver], ...]:
    """Every caution that is left out of a step of these guides by a waiver, with the step."""
    steps: dict[str, PlacedStep] = {}
    for guide in guides:
        for item in inlined(guide, library):
            steps.setdefault(item.anchor if item.origin else f"{guide.id}.{item.anchor}", item)
    return tuple(
        (anchor, waiver)
        for anchor, item in steps.items()
        for waiver in item.step.waivers
        if waiver.rule.startswith(CAUTION_WAIVER)
    )


# --- counter-examples ----------------------------------------------------------------------------


def relevant_cases(track: Track, failure: Failure, trace: Trace) -> dict[str, str]:
    """The cases of the walk that the failure needs.

    One attribute after another is let go. Where some bike that shares all the other cases, and has this one another
    way, does not fail, the attribute is kept. What the others leave open is tried in several ways, so that attributes
    that rules tie together do not hide one another.
    """
    kept = track.space.knowing.named(trace.cases)
    steps = about(track, failure)
    asked = tuple(dict.fromkeys(name for index in sorted(steps) for name in track.attributes(index)))
    for name in tuple(kept):
        others = {key: case for key, case in kept.items() if key != name}
        tried = (
            whole
            for case in track.space.choices(name, others)
            if case != kept[name]
            for whole in _completions(track, asked, {**others, name: case})
        )
        if all(_fails_alike(track, failure, whole, steps) for whole in tried):
            kept = others
    return kept


def _completions(track: Track, asked: tuple[str, ...], cases: dict[str, str]) -> Iterator[dict[str, str]]:
    """Some configurations with these cases, all that is `asked` and still open answered in a different way in each."""
    for turn in range(_WAYS_TRIED):
        whole = dict(cases)
        for place, name in enumerate(asked):
            if name not in whole:
                choices = track.space.choices(name, whole)
                whole[name] = choices[(turn + place * (turn // 2)) % len(choices)]
        yield whole


def _fails_alike(track: Track, failure: Failure, cases: Mapping[str, str], steps: Collection[int]) -> bool:
    _, failures = single(track, cases, steps)
    return any(
        (one.flaw, one.step, one.name, one.rule) == (failure.flaw, failure.step, failure.name, failure.rule)
        for one in failures
    )


def _failure(track: Track, failure: Failure, trace: Trace) -> Diagnostic:
    at = track.steps[failure.step].step.places.at if failure.step >= 0 else track.guide.places.at
    message, hint = _told(track, failure)
    bike = _bike_words(track, relevant_cases(track, failure, trace))
    return Diagnostic(
        rule=f"proof-{failure.flaw.value}",
        message=f"{track.guide.id}: {message}",
        at=at,
        label=bike,
        hints=(f"the way there: {_way(track, trace)}", hint),
        related=_related(track, failure, trace),
    )


def _told(track: Track, failure: Failure) -> tuple[str, str]:
    states = track.library.states
    match failure.flaw:
        case Flaw.NEED:
            state = states[failure.name]
            anchor = track.steps[failure.step].anchor
            message = (
                f"step '{anchor}' needs that {state.name} is {state.values.get(failure.wanted, failure.wanted)}, "
                f"but it is {state.values.get(failure.found, failure.found)}"
            )
            return message, _who_leaves(track, failure)
        case Flaw.RULE_NEED:
            state = states[failure.name]
            anchor = track.steps[failure.step].anchor
            message = (
                f"step '{anchor}' may be done only when {state.name} is "
                f"{state.values.get(failure.wanted, failure.wanted)}, but it is "
                f"{state.values.get(failure.found, failure.found)}"
            )
            return message, f"the rule '{failure.rule}': {track.library.rules[failure.rule].because}"
        case Flaw.RULE_LEAVES:
            state = states[failure.name]
            anchor = track.steps[failure.step].anchor
            message = f"step '{anchor}' does not say that it leaves '{failure.name}: {failure.wanted}'"
            because = track.library.rules[failure.rule].because
            return message, f"write it under 'leaves:'; the rule '{failure.rule}': {because}"
        case Flaw.RULE_ONLY:
            anchor, rule = track.steps[failure.step].anchor, track.library.rules[failure.rule]
            message = f"step '{anchor}' is done on a bike that has nothing to do it on"
            return message, f"correct its condition; the rule '{failure.rule}': {rule.because}"
        case Flaw.RULE_FIRST | Flaw.RULE_THEN:
            return _order_told(track, failure)
        case Flaw.LOOSENED_TWICE:
            name = track.library.fasteners[failure.name].name
            return (
                f"step '{track.steps[failure.step].anchor}' loosens the {name}, which is loose already",
                "tighten it before, or take one of the two steps away",
            )
        case Flaw.OPEN:
            name = track.library.fasteners[failure.name].name
            return f"the {name} is loosened and never tightened", f"add a step with 'tightens: {failure.name}'"
        case Flaw.NOT_READY:
            state = states[failure.name]
            return (
                f"at the end {state.name} is {state.values.get(failure.found, failure.found)}",
                f"add a step that leaves '{failure.name}: {failure.wanted}', or say so under 'ends:'",
            )
        case Flaw.REPEATED:
            return (
                f"step '{track.steps[failure.step].anchor}' does again what the step before it has done",
                "make the conditions of the two exclude one another",
            )


def _order_told(track: Track, failure: Failure) -> tuple[str, str]:
    anchor, rule = track.steps[failure.step].anchor, track.library.rules[failure.rule]
    deed, place = (rule.first, "before") if failure.flaw is Flaw.RULE_FIRST else (rule.then, "after")
    assert deed is not None
    verbs = " or ".join(verb.replace("-", " ") for verb in deed.verbs) or "handle"
    things = " or ".join(track.library.glossary[thing].name for thing in deed.things if thing in track.library.glossary)
    return (
        f"step '{anchor}' has no step {place} it to {verbs} the {things}",
        f"add one {place} it, or correct the conditions; the rule '{rule.id}': {rule.because}",
    )


def _who_leaves(track: Track, failure: Failure) -> str:
    """Which steps would bring about what is missing, and why they do not."""
    before = [item for item in track.steps[: failure.step] if item.step.leaves.get(failure.name) == failure.wanted]
    if not before:
        return f"no step before this one leaves '{failure.name}: {failure.wanted}'; add one, or move it here"
    names = ", ".join(f"'{item.anchor}'" for item in before[-3:])
    return f"{names} would leave it so, but not on this path; compare the conditions"


def _bike_words(track: Track, cases: Mapping[str, str]) -> str:
    attributes = track.library.attributes
    words = [attributes[name].cases.get(case, case) for name, case in cases.items() if name in attributes]
    return f"for a bike with {', '.join(words)}" if words else "for every bike"


def _way(track: Track, trace: Trace) -> str:
    last = trace.taken[-_STEPS_SHOWN:]
    steps = " → ".join(f"{track.steps[index].anchor} ({_few_words(track.steps[index].step.do)})" for index in last)
    return f"… {steps}" if len(trace.taken) > len(last) else steps


def _few_words(text: str) -> str:
    words = text.rstrip(".").split()
    return " ".join(words[:_WORDS_SHOWN]) + ("…" if len(words) > _WORDS_SHOWN else "")


def _related(track: Track, failure: Failure, trace: Trace) -> tuple[tuple[Position, str], ...]:
    """The step that left things as they were found."""
    if failure.flaw is Flaw.OPEN:
        culprits = [i for i in trace.taken if track.steps[i].step.loosens == failure.name]
        return tuple((track.steps[i].step.places.of("loosens"), "loosened here") for i in culprits[-1:])
    culprits = [
        index
        for index in trace.taken
        if index != failure.step and track.steps[index].step.leaves.get(failure.name) == failure.found
    ]
    return tuple((track.steps[i].step.places.of("leaves"), "left so here") for i in culprits[-1:])


def _unreachable(track: Track, walked: Walked) -> Iterator[Diagnostic]:
    """Steps that no configuration reaches; one from a procedure need only be reached in some guide."""
    for item in track.steps:
        if item.index in walked.reached or item.origin:
            continue
        yield Diagnostic(
            rule="proof-unreachable",
            message=f"{track.guide.id}: no bike reaches step '{item.anchor}'",
            at=item.step.places.of("when"),
            hints=("its conditions exclude one another, or what the guide suits; change them or take the step away",),
        )
