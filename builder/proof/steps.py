"""Do one step on the walk, and look at what is left at the end."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from builder.model.condition import ALWAYS
from builder.model.deciding import decided
from builder.proof.acts import ruled
from builder.proof.configurations import frozen
from builder.proof.failures import Failure, Flaw, Trace
from builder.proof.track import Track, shape


def act(track: Track, index: int, has: frozenset[str], trace: Trace) -> tuple[Trace, tuple[Failure, ...]]:
    """Do step `index` on bikes that have the states, and for which the rules hold, that are in `has`."""
    step, states = track.steps[index].step, dict(trace.states)
    failures = [
        Failure(Flaw.NEED, index, name, wanted, states.get(name, ""))
        for name, wanted in step.needs.items()
        if name in has and states.get(name) != wanted
    ]
    for rule in (rule for rule in track.rules[index] if ruled(rule) in has):
        failures += [
            Failure(Flaw.RULE_NEED, index, name, wanted, states.get(name, ""), rule.id)
            for name, wanted in rule.needs.items()
            if name in has and states.get(name) != wanted and step.needs.get(name) != wanted
        ]
        failures += [
            Failure(Flaw.RULE_LEAVES, index, name, wanted, step.leaves.get(name, states.get(name, "")), rule.id)
            for name, wanted in rule.leaves.items()
            if name in has and step.leaves.get(name, states.get(name)) != wanted
        ]
    leaves = {name: value for name, value in step.leaves.items() if name in has}
    moved = replace(trace, states=frozen({**states, **leaves}), taken=(*trace.taken, index))
    return moved, tuple(failures)


def turn(track: Track, index: int, trace: Trace) -> tuple[Trace, tuple[Failure, ...]]:
    """Turn the fastener of step `index`."""
    step, opened = track.steps[index].step, set(trace.open)
    failures: tuple[Failure, ...] = ()
    if step.loosens is not None:
        if step.loosens in opened:
            failures = (Failure(Flaw.LOOSENED_TWICE, index, step.loosens),)
        opened.add(step.loosens)
    if step.tightens is not None:
        opened.discard(step.tightens)
    return replace(trace, open=frozenset(opened), taken=(*trace.taken, index)), failures


def repeats(track: Track, index: int, before: int, has: frozenset[str], trace: Trace) -> tuple[Failure, ...]:
    """The failure of a step that does over again what step `before`, the last to touch its states, has done."""
    item = track.steps[index]
    leaves = {name: value for name, value in item.step.leaves.items() if name in has}
    states = dict(trace.states)
    if not leaves or item.step.when == ALWAYS or shape(track.steps[before]) != shape(item):
        return ()
    if any(states.get(name) != value for name, value in leaves.items()):
        return ()
    name, value = next(iter(leaves.items()))
    return (Failure(Flaw.REPEATED, index, name, value),)


def end(track: Track, cases: Mapping[str, str], trace: Trace) -> tuple[Failure, ...]:
    """What is not as it must be after the last step; a state that the bike does not have is always as it must be."""
    failures = [Failure(Flaw.OPEN, -1, name) for name in sorted(trace.open) if track.stays_on(name)]
    for name, value in trace.states:
        wanted = track.wanted_at_end(name)
        if value not in wanted and decided(track.library.states[name].when, cases) is True:
            failures.append(Failure(Flaw.NOT_READY, -1, name, " or ".join(wanted), value))
    return tuple(failures)
