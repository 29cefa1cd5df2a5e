"""Walk a guide through every configuration at once, and find each step that can go wrong.

What a step needs of one state hangs on the steps that touch that state and on nothing else, so that the guide is walked
once for each state and each fastener, past the steps that touch it. On such a walk bikes that have come to the same
step in the same state, with the same knowledge about what is still asked, walk on together. The work grows with what
differs and not with the number of configurations, and a counter-example tells only of steps that have to do with it. Of
the walks that meet, the one with the fewest steps is kept.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial

from builder.model.condition import ALWAYS, Condition, asked
from builder.model.deciding import decided
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.rules import Rule
from builder.proof.acts import rules_for
from builder.proof.configurations import Cases, Configurations, configurations, frozen
from builder.tailoring.inlining import PlacedStep, inlined


class Flaw(StrEnum):
    """The ways in which a path can go wrong."""

    NEED = "need"
    LOOSENED_TWICE = "loosened-twice"
    OPEN = "left-open"
    NOT_READY = "not-ready"
    REPEATED = "repeated"
    RULE_NEED = "rule-need"
    RULE_LEAVES = "rule-leaves"
    RULE_ONLY = "rule-only"


@dataclass(frozen=True, slots=True)
class Failure:
    """A flaw at a step (its index; -1 for the end of the guide).

    `name` is the state or the fastener, `rule` the rule of the trade that asks for it, '' where the step itself does.
    """

    flaw: Flaw
    step: int
    name: str
    wanted: str = ""
    found: str = ""
    rule: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Walker:
    """Where a group of configurations has come to.

    `cases` is all that was asked of them on the way, `taken` the steps that they did, by index.
    """

    states: Cases
    open: frozenset[str] = frozenset()
    cases: Cases = ()
    taken: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Walked:
    """What a walk over all configurations found: each failure with the shortest walk to it, and what was reached."""

    failures: Mapping[Failure, Walker]
    reached: frozenset[int]
    asked: tuple[str, ...]
    configurations: int
    paths: int


@dataclass(slots=True)
class Course:
    """A guide as the walk needs it: its steps, their rules and the configurations."""

    guide: Guide
    library: Library
    steps: tuple[PlacedStep, ...]
    space: Configurations
    rules: tuple[tuple[Rule, ...], ...] = ()

    def __post_init__(self) -> None:
        self.rules = tuple(rules_for(item.step, self.library) for item in self.steps)

    def start(self) -> dict[str, str]:
        """The value of every state before the first step."""
        begin = {name: state.ready[0] for name, state in self.library.states.items() if state.ready}
        return begin | {name: value for name, value in self.guide.begins.items() if name in begin}

    def speaks_of(self, index: int) -> tuple[str, ...]:
        """The states that a step or one of its rules speaks of."""
        step = self.steps[index].step
        names = dict.fromkeys((*step.needs, *step.leaves))
        for rule in self.rules[index]:
            names |= dict.fromkeys((*rule.needs, *rule.leaves))
        return tuple(name for name in names if name in self.library.states)

    def touched(self, index: int, states: Container[str]) -> dict[str, Condition]:
        """What must be decided about a step besides its own conditions, as far as it speaks of `states`.

        For each of these states whether a bike has it, and for each rule that speaks of one whether it holds.
        """
        found = {name: self.library.states[name].when for name in self.speaks_of(index) if name in states}
        for rule in self.rules[index]:
            if any(name in states for name in (*rule.needs, *rule.leaves)):
                found[_ruled(rule)] = rule.when
        return found

    def attributes(self, index: int) -> tuple[str, ...]:
        """The attributes that a step asks for: its own conditions', and those of its states."""
        conditions = (*self.steps[index].conditions, *self.touched(index, self.library.states).values())
        return self.asked_by(conditions)

    def asked_by(self, conditions: Iterable[Condition]) -> tuple[str, ...]:
        """The attributes that conditions ask for."""
        names = (question.attribute for condition in conditions for question in asked(condition))
        return tuple(name for name in dict.fromkeys(names) if name in self.space.domains)

    def settled(
        self, cases: Mapping[str, str], conditions: tuple[Condition, ...], *, all_of: bool = True
    ) -> Iterator[dict[str, str]]:
        """`cases` with whatever more the conditions ask, once for each way to answer.

        Without `all_of` the asking ends at the first condition that does not hold, as it does for a step.
        """
        for condition in conditions:
            answer = decided(condition, cases)
            if answer is None:
                name = next(
                    question.attribute
                    for question in asked(condition)
                    if question.attribute not in cases and question.attribute in self.space.domains
                )
                for case in self.space.choices(name, cases):
                    yield from self.settled({**cases, name: case}, conditions, all_of=all_of)
                return
            if answer is False and not all_of:
                break
        yield dict(cases)

    def wanted_at_end(self, name: str) -> tuple[str, ...]:
        """The values in which a state may be left."""
        return (self.guide.ends[name],) if name in self.guide.ends else self.library.states[name].ready


def _ruled(rule: Rule) -> str:
    return f"rule {rule.id}"


def _shape(item: PlacedStep) -> tuple[object, ...]:
    """What two steps share that may do the same over again."""
    return item.section, item.uses, item.stretch, frozen(item.step.leaves), item.step.loosens


def course(guide: Guide, library: Library) -> Course:
    """`guide` made ready for a walk."""
    return Course(guide, library, inlined(guide, library), configurations(guide, library))


# --- one step ------------------------------------------------------------------------------------


def act(track: Course, index: int, has: frozenset[str], walker: Walker) -> tuple[Walker, tuple[Failure, ...]]:
    """Do step `index` on bikes that have the states, and for which the rules hold, that are in `has`."""
    step, states = track.steps[index].step, dict(walker.states)
    failures = [
        Failure(Flaw.NEED, index, name, wanted, states.get(name, ""))
        for name, wanted in step.needs.items()
        if name in has and states.get(name) != wanted
    ]
    for rule in (rule for rule in track.rules[index] if _ruled(rule) in has):
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
    moved = replace(walker, states=frozen({**states, **leaves}), taken=(*walker.taken, index))
    return moved, tuple(failures)


def turn(track: Course, index: int, walker: Walker) -> tuple[Walker, tuple[Failure, ...]]:
    """Turn the fastener of step `index`."""
    step, opened = track.steps[index].step, set(walker.open)
    failures: tuple[Failure, ...] = ()
    if step.loosens is not None:
        if step.loosens in opened:
            failures = (Failure(Flaw.LOOSENED_TWICE, index, step.loosens),)
        opened.add(step.loosens)
    if step.tightens is not None:
        opened.discard(step.tightens)
    return replace(walker, open=frozenset(opened), taken=(*walker.taken, index)), failures


def repeats(track: Course, index: int, before: int, has: frozenset[str], walker: Walker) -> tuple[Failure, ...]:
    """The failure of a step that does over again what step `before`, the last to touch its states, has done."""
    item = track.steps[index]
    leaves = {name: value for name, value in item.step.leaves.items() if name in has}
    states = dict(walker.states)
    if not leaves or item.step.when == ALWAYS or _shape(track.steps[before]) != _shape(item):
        return ()
    if any(states.get(name) != value for name, value in leaves.items()):
        return ()
    name, value = next(iter(leaves.items()))
    return (Failure(Flaw.REPEATED, index, name, value),)


def end(track: Course, cases: Mapping[str, str], walker: Walker) -> tuple[Failure, ...]:
    """What is not as it must be after the last step; a state that the bike does not have is always as it must be."""
    failures = [Failure(Flaw.OPEN, -1, name) for name in sorted(walker.open)]
    for name, value in walker.states:
        wanted = track.wanted_at_end(name)
        if value not in wanted and decided(track.library.states[name].when, cases) is True:
            failures.append(Failure(Flaw.NOT_READY, -1, name, " or ".join(wanted), value))
    return tuple(failures)


# --- the walks -----------------------------------------------------------------------------------

_Key = tuple[Cases, Cases, frozenset[str], int]
_Act = Callable[[int, frozenset[str], Walker], tuple[Walker, tuple[Failure, ...]]]


def walk(track: Course) -> Walked:
    """Walk every configuration through the guide. Where the rules leave none, nothing is found and nothing reached."""
    if not track.space.feasible({}):
        return Walked(failures={}, reached=frozenset(), asked=(), configurations=0, paths=0)
    failures: dict[Failure, Walker] = {}
    for found, walker in _all_walks(track):
        if found not in failures or len(walker.taken) < len(failures[found].taken):
            failures[found] = walker
    names = tuple(dict.fromkeys(name for index in range(len(track.steps)) for name in track.attributes(index)))
    return Walked(
        failures=failures,
        reached=frozenset(index for index in range(len(track.steps)) if _is_reached(track, index)),
        asked=names,
        configurations=track.space.count(names),
        paths=_paths(track),
    )


def _all_walks(track: Course) -> Iterator[tuple[Failure, Walker]]:
    start, count = track.start(), range(len(track.steps))
    touching = {name: tuple(i for i in count if name in track.speaks_of(i)) for name in track.library.states}
    for name, steps in touching.items():
        if name in start and (steps or start[name] not in track.wanted_at_end(name)):
            first = Walker(states=((name, start[name]),))
            yield from _walk_past(track, steps, {name}, first, partial(act, track))
    yield from (found for index in count for found in _only(track, index))
    turned = dict.fromkeys(name for item in track.steps for name in (item.step.loosens, item.step.tightens) if name)
    for name in turned:
        steps = tuple(i for i in count if name in (track.steps[i].step.loosens, track.steps[i].step.tightens))
        yield from _walk_past(track, steps, (), Walker(states=()), lambda i, _, walker: turn(track, i, walker))
    shapes = Counter(_shape(item) for item in track.steps)
    twins = {frozenset(item.step.leaves) for item in track.steps if shapes[_shape(item)] > 1 and item.step.leaves}
    for states in sorted(twins, key=sorted):
        names = tuple(name for name in sorted(states) if name in start)
        steps = tuple(i for i in count if states & set(track.speaks_of(i)))
        first = Walker(states=tuple((name, start[name]) for name in names))
        yield from _walk_past(track, steps, states, first, partial(_act_again, track, states), ends=False)


def _only(track: Course, index: int) -> Iterator[tuple[Failure, Walker]]:
    """Bikes that do a step and for which a rule says that nobody does it."""
    conditions = track.steps[index].conditions
    for rule in track.rules[index]:
        if rule.only == ALWAYS:
            continue
        for cases in track.settled({}, (*conditions, rule.when, rule.only)):
            done = all(decided(condition, cases) is True for condition in (*conditions, rule.when))
            if done and decided(rule.only, cases) is False:
                yield (
                    Failure(Flaw.RULE_ONLY, index, "", rule=rule.id),
                    Walker(states=(), cases=frozen(cases), taken=(index,)),
                )
                break


def _act_again(
    track: Course, states: frozenset[str], index: int, has: frozenset[str], walker: Walker
) -> tuple[Walker, tuple[Failure, ...]]:
    """Do a step on a walk that only looks for steps done over again."""
    moved, _ = act(track, index, has, walker)
    if not walker.taken or set(track.steps[index].step.leaves) != states:
        return moved, ()
    return moved, repeats(track, index, walker.taken[-1], has, walker)


def _walk_past(
    track: Course, steps: tuple[int, ...], states: Collection[str], first: Walker, do: _Act, *, ends: bool = True
) -> Iterator[tuple[Failure, Walker]]:
    """Walk every configuration past some steps, those that touch what the walk is about, and then to the end."""
    asks = [(track.steps[index].conditions, track.touched(index, states)) for index in steps]
    closing = tuple(track.library.states[name].when for name in states if name in track.library.states)
    later = [track.asked_by(closing)]
    for conditions, touched in reversed(asks):
        later.insert(0, tuple(dict.fromkeys((*track.asked_by((*conditions, *touched.values())), *later[0]))))
    ways: dict[tuple[int, Cases], tuple[_Move, ...]] = {}
    crowd: dict[_Key, Walker] = {((), first.states, first.open, -1): first}
    for place, index in enumerate(steps):
        following: dict[_Key, Walker] = {}
        for (known, *_), walker in crowd.items():
            if (place, known) not in ways:
                ways[place, known] = tuple(_moves(track, *asks[place], dict(known), later[place + 1]))
            for move in ways[place, known]:
                moved = replace(walker, cases=(*walker.cases, *move.added)) if move.added else walker
                if move.done:
                    moved, found = do(index, move.has, moved)
                    yield from ((failure, moved) for failure in found)
                key = (move.known, moved.states, moved.open, -1 if ends or not moved.taken else moved.taken[-1])
                if key not in following or len(moved.taken) < len(following[key].taken):
                    following[key] = moved
        crowd = following
    if not ends:
        return
    for (known, *_), walker in crowd.items():
        unready = tuple(
            track.library.states[name].when for name, value in walker.states if value not in track.wanted_at_end(name)
        )
        for cases in track.settled(dict(known), unready):
            wider = replace(walker, cases=frozen({**dict(walker.cases), **cases}))
            yield from ((failure, wider) for failure in end(track, cases, walker))


@dataclass(frozen=True, slots=True)
class _Move:
    """One way on from a step: what was asked besides, whether the step is done, what is worth knowing from here on.

    `has` are the states of the step that these bikes have, and the rules that hold for them.
    """

    added: Cases
    done: bool
    has: frozenset[str]
    known: Cases


def _moves(
    track: Course,
    conditions: tuple[Condition, ...],
    touched: Mapping[str, Condition],
    known: dict[str, str],
    later: tuple[str, ...],
) -> Iterator[_Move]:
    for cases in track.settled(known, conditions, all_of=False):
        done = all(decided(condition, cases) is True for condition in conditions)
        for wider in track.settled(cases, tuple(touched.values())) if done else (cases,):
            yield _Move(
                added=frozen({name: case for name, case in wider.items() if name not in known}),
                done=done,
                has=frozenset(name for name, when in touched.items() if decided(when, wider) is True),
                known=track.space.matters(wider, later),
            )


def _is_reached(track: Course, index: int) -> bool:
    conditions = track.steps[index].conditions
    return any(
        all(decided(condition, cases) is True for condition in conditions)
        for cases in track.settled({}, conditions, all_of=False)
    )


def _paths(track: Course) -> int:
    """How many different sequences of steps there are over all configurations.

    A sequence is told by which of the guide's conditions hold. They are taken in an order in which attributes are soon
    done with; configurations for which the same of them hold go on as one group.
    """
    waiting = list(dict.fromkeys(item.conditions for item in track.steps if item.conditions))
    order: list[tuple[Condition, ...]] = []
    known: set[str] = set()
    while waiting:
        following = min(waiting, key=lambda one: (len(set(track.asked_by(one)) - known), len(track.asked_by(one))))
        waiting.remove(following)
        order.append(following)
        known |= set(track.asked_by(following))
    later: list[tuple[str, ...]] = [()]
    for conditions in reversed(order):
        later.insert(0, tuple(dict.fromkeys((*track.asked_by(conditions), *later[0]))))
    groups: dict[frozenset[Cases], int] = {frozenset({()}): 1}
    for place, conditions in enumerate(order):
        split: dict[Cases, tuple[_Move, ...]] = {}
        following_groups: dict[frozenset[Cases], int] = {}
        for group, count in groups.items():
            done: set[Cases] = set()
            left: set[Cases] = set()
            for cases in group:
                if cases not in split:
                    split[cases] = tuple(_moves(track, conditions, {}, dict(cases), later[place + 1]))
                for move in split[cases]:
                    (done if move.done else left).add(move.known)
            for side in (done, left):
                if side:
                    key = frozenset(side)
                    following_groups[key] = following_groups.get(key, 0) + count
        groups = following_groups
    return sum(groups.values())


def single(track: Course, cases: Mapping[str, str]) -> tuple[tuple[int, ...], tuple[Failure, ...]]:
    """The steps and the failures for one full configuration: what the walks must agree with."""
    walker = Walker(states=frozen(track.start()), cases=frozen(cases))
    failures: list[Failure] = []
    for index, item in enumerate(track.steps):
        if all(decided(condition, cases) is True for condition in item.conditions):
            touched = track.touched(index, track.library.states)
            has = frozenset(name for name, when in touched.items() if decided(when, cases) is True)
            before = [i for i in walker.taken if set(item.step.leaves) & set(track.speaks_of(i))]
            if before:
                failures.extend(repeats(track, index, before[-1], has, walker))
            failures += [
                Failure(Flaw.RULE_ONLY, index, "", rule=rule.id)
                for rule in track.rules[index]
                if decided(rule.when, cases) is True and decided(rule.only, cases) is False
            ]
            moved, found = act(track, index, has, walker)
            failures.extend(found)
            moved, found = turn(track, index, replace(moved, taken=walker.taken))
            failures.extend(found)
            walker = moved
    failures.extend(end(track, cases, walker))
    return walker.taken, tuple(failures)
