"""Walk a guide through every configuration at once, and find each step that can go wrong.

What a step needs of one state hangs on the steps that touch that state and on nothing else, so that the guide is walked
once for each state and each fastener, past the steps that touch it. On such a walk bikes that have come to the same
step in the same state, with the same knowledge about what is still asked, walk on together. The work grows with what
differs and not with the number of configurations, and a counter-example tells only of steps that have to do with it. Of
the walks that meet, the one with the fewest steps is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from builder.model.condition import ALWAYS, Condition
from builder.model.deciding import decided
from builder.proof.configurations import Cases, frozen
from builder.proof.failures import Failure, Flaw, Trace
from builder.proof.known import NOTHING, Asked, Known
from builder.proof.orders import keep, out_of_order, still_owed
from builder.proof.paths import distinct_paths, is_reached
from builder.proof.steps import act, end, repeats, turn
from builder.proof.track import Track, Transition, shape, transitions


@dataclass(frozen=True, slots=True, kw_only=True)
class Walked:
    """What a walk over all configurations found: each failure with the shortest walk to it, and what was reached."""

    failures: Mapping[Failure, Trace]
    reached: frozenset[int]
    asked: tuple[str, ...]
    configurations: int
    paths: int


_Key = tuple[Known, Cases, frozenset[str], int]
_Act = Callable[[int, frozenset[str], Trace], tuple[Trace, tuple[Failure, ...]]]
_Asks = Callable[[int], Mapping[str, Condition]]
_IsIdle = Callable[[int, Trace], bool]
_End = Callable[[Track, Mapping[str, str], Trace], tuple[Failure, ...]]


def walk(track: Track, *, counting: bool = True) -> Walked:
    """Walk every configuration through the guide. Where the rules leave none, nothing is found and nothing reached.

    Without `counting` the numbers of configurations and of paths are 0.
    """
    if not track.space.feasible({}):
        return Walked(failures={}, reached=frozenset(), asked=(), configurations=0, paths=0)
    failures: dict[Failure, Trace] = {}
    for found, trace in _all_walks(track):
        if found not in failures or len(trace.taken) < len(failures[found].taken):
            failures[found] = trace
    names = tuple(dict.fromkeys(name for index in range(len(track.steps)) for name in track.attributes(index)))
    return Walked(
        failures=failures,
        reached=frozenset(index for index in range(len(track.steps)) if is_reached(track, index)),
        asked=names,
        configurations=track.space.count(names) if counting else 0,
        paths=distinct_paths(track) if counting else 0,
    )


def _all_walks(track: Track) -> Iterator[tuple[Failure, Trace]]:
    start, count = track.start(), range(len(track.steps))
    touching = {name: tuple(i for i in count if name in track.speaks_of(i)) for name in track.library.states}
    for name, steps in touching.items():
        if name in start and (steps or start[name] not in track.wanted_at_end(name)):
            first = Trace(states=((name, start[name]),))
            yield from _walk_past(track, steps, {name}, first, partial(act, track), idle=partial(_idle, track, name))
    yield from (found for index in count for found in _only(track, index))
    for order in track.orders:
        none = Trace(states=())
        yield from _walk_past(
            track, order.steps, (), none, partial(keep, order), asks=order.asks, finish=partial(still_owed, order)
        )
    turned = dict.fromkeys(name for item in track.steps for name in (item.step.loosens, item.step.tightens) if name)
    for name in turned:
        steps = tuple(i for i in count if name in (track.steps[i].step.loosens, track.steps[i].step.tightens))
        yield from _walk_past(track, steps, (), Trace(states=()), lambda i, _, trace: turn(track, i, trace))
    twins: dict[object, list[int]] = {}
    for item in track.steps:
        if item.step.leaves:
            twins.setdefault(shape(item), []).append(item.index)
    for alike in (found for found in twins.values() if len(found) > 1):
        states = frozenset(track.steps[alike[0]].step.leaves)
        steps = tuple(i for i in range(alike[0], alike[-1] + 1) if states & set(track.speaks_of(i)))
        first = Trace(states=tuple((name, start[name]) for name in sorted(states) if name in start))
        yield from _walk_past(track, steps, states, first, partial(_act_again, track, states), finish=None)


def _idle(track: Track, name: str, index: int, trace: Trace) -> bool:
    """Whether a step neither changes the one state of a walk nor finds it wrong, on whatever bike it is done."""
    step, ((_, value),) = track.steps[index].step, trace.states
    return (
        name not in step.leaves
        and step.needs.get(name, value) == value
        and all(rule.needs.get(name, value) == value == rule.leaves.get(name, value) for rule in track.rules[index])
    )


def _only(track: Track, index: int) -> Iterator[tuple[Failure, Trace]]:
    """Bikes that do a step and for which a rule says that nobody does it."""
    answer = track.space.knowing.answer
    conditions = track.ready(track.steps[index].conditions)
    for rule in track.rules[index]:
        if rule.only == ALWAYS:
            continue
        holds, only = track.ready((rule.when, rule.only))
        for known in track.space.settled(NOTHING, (*conditions, holds, only)):
            done = all(answer(one, known) is True for one in (*conditions, holds))
            if done and answer(only, known) is False:
                yield (
                    Failure(Flaw.RULE_ONLY, index, "", rule=rule.id),
                    Trace(states=(), cases=known, taken=(index,)),
                )
                break


def _act_again(
    track: Track, states: frozenset[str], index: int, has: frozenset[str], trace: Trace
) -> tuple[Trace, tuple[Failure, ...]]:
    """Do a step on a walk that only looks for steps done over again."""
    moved, _ = act(track, index, has, trace)
    if not trace.taken or set(track.steps[index].step.leaves) != states:
        return moved, ()
    return moved, repeats(track, index, trace.taken[-1], has, trace)


def _walk_past(
    track: Track,
    steps: tuple[int, ...],
    states: Collection[str],
    first: Trace,
    do: _Act,
    *,
    asks: _Asks | None = None,
    idle: _IsIdle | None = None,
    finish: _End | None = end,
) -> Iterator[tuple[Failure, Trace]]:
    """Walk every configuration past some steps, those that touch what the walk is about, and then to the end.

    `asks` gives what must be decided about a step besides its own conditions, where that is not about `states`. Past
    steps that are `idle` for a trace nothing is asked of it, and they are not on its way. With no
    `finish`, traces whose last step differs do not walk on together.
    """
    ask = asks or partial(track.touched, states=states)
    asked = [_ready(track, track.steps[index].conditions, ask(index)) for index in steps]
    later = [track.ready(track.library.states[name].when for name in states if name in track.library.states)]
    for conditions, touched in reversed(asked):
        later.insert(0, tuple(dict.fromkeys((*conditions, *touched.values(), *later[0]))))
    knowing = track.space.knowing
    ways: dict[tuple[int, Known], tuple[Transition, ...]] = {}
    frontier: dict[_Key, Trace] = {(NOTHING, first.states, first.open, -1): first}
    for place, index in enumerate(steps):
        following: dict[_Key, Trace] = {}
        for (known, *_), trace in frontier.items():
            if idle is not None and idle(index, trace):
                worth = track.space.matters(known, knowing.having_a_say(later[place + 1], known))
                _keep_shorter(following, (worth, trace.states, trace.open, -1), trace)
                continue
            if (place, known) not in ways:
                ways[place, known] = tuple(transitions(track, *asked[place], known, later[place + 1]))
            for move in ways[place, known]:
                moved = Trace(states=trace.states, open=trace.open, cases=trace.cases | move.added, taken=trace.taken)
                if move.done:
                    moved, found = do(index, move.has, moved)
                    yield from ((failure, moved) for failure in found)
                key = (move.known, moved.states, moved.open, -1 if finish or not moved.taken else moved.taken[-1])
                _keep_shorter(following, key, moved)
        frontier = following
    if finish is None:
        return
    for (known, *_), trace in frontier.items():
        unready = track.ready(
            track.library.states[name].when for name, value in trace.states if value not in track.wanted_at_end(name)
        )
        for settled in track.space.settled(known, unready):
            wider = replace(trace, cases=trace.cases | settled)
            cases = knowing.named(settled)
            yield from ((failure, wider) for failure in finish(track, cases, trace))


def _keep_shorter(frontier: dict[_Key, Trace], key: _Key, trace: Trace) -> None:
    if key not in frontier or len(trace.taken) < len(frontier[key].taken):
        frontier[key] = trace


def _ready(
    track: Track, conditions: tuple[Condition, ...], touched: Mapping[str, Condition]
) -> tuple[tuple[Asked, ...], dict[str, Asked]]:
    """A step's conditions, and what must be decided about it besides, made ready to be answered."""
    return track.ready(conditions), dict(zip(touched, track.ready(touched.values()), strict=True))


def single(
    track: Track, cases: Mapping[str, str], steps: Collection[int] | None = None
) -> tuple[tuple[int, ...], tuple[Failure, ...]]:
    """The steps and the failures for one full configuration: what the walks must agree with.

    With `steps` only these are done, which is enough for a failure that they are `about`.
    """
    trace = Trace(states=frozen(track.start()), cases=track.space.knowing.coded(cases))
    failures: list[Failure] = []
    for index, item in enumerate(track.steps):
        if steps is not None and index not in steps:
            continue
        if all(decided(condition, cases) is True for condition in item.conditions):
            touched = track.touched(index, track.library.states)
            has = frozenset(name for name, when in touched.items() if decided(when, cases) is True)
            before = [i for i in trace.taken if set(item.step.leaves) & set(track.speaks_of(i))]
            if before:
                failures.extend(repeats(track, index, before[-1], has, trace))
            failures += [
                Failure(Flaw.RULE_ONLY, index, "", rule=rule.id)
                for rule in track.rules[index]
                if decided(rule.when, cases) is True and decided(rule.only, cases) is False
            ]
            moved, found = act(track, index, has, trace)
            failures.extend(found)
            moved, found = turn(track, index, replace(moved, taken=trace.taken))
            failures.extend(found)
            trace = moved
    failures.extend(end(track, cases, trace))
    failures.extend(out_of_order(track, trace.taken, cases))
    return trace.taken, tuple(failures)


def about(track: Track, failure: Failure) -> frozenset[int]:
    """The steps that a failure hangs on: those of its state, of its fastener or of its rule."""
    count = range(len(track.steps))
    match failure.flaw:
        case Flaw.OPEN | Flaw.LOOSENED_TWICE:
            return frozenset(
                i for i in count if failure.name in (track.steps[i].step.loosens, track.steps[i].step.tightens)
            )
        case Flaw.RULE_FIRST | Flaw.RULE_THEN:
            return frozenset(i for order in track.orders if order.rule.id == failure.rule for i in order.steps)
        case Flaw.RULE_ONLY:
            return frozenset({failure.step})
        case Flaw.REPEATED:
            states = set(track.steps[failure.step].step.leaves)
            return frozenset(i for i in count if states & set(track.speaks_of(i)))
        case _:
            return frozenset(i for i in count if failure.name in track.speaks_of(i))
