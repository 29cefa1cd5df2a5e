"""Walk a guide through every configuration at once, and find each step that can go wrong.

Bikes that have come to the same step in the same state, with the same knowledge about what is still asked, walk on
together, so that the work grows with what differs and not with the number of configurations. Of the walks that meet,
the one with the fewest steps is kept, for the shortest counter-example.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

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


@dataclass(frozen=True, slots=True)
class Move:
    """One way on from a step: what was asked besides, whether the step is done, what is worth knowing from here on.

    `has` are the states of the step that these bikes have.
    """

    added: Cases
    done: bool
    has: frozenset[str]
    known: Cases


@dataclass(slots=True)
class Course:
    """A guide as the walk needs it; what it works out about a step is worked out once."""

    guide: Guide
    library: Library
    steps: tuple[PlacedStep, ...]
    space: Configurations
    _later: tuple[tuple[str, ...], ...] = ()
    _moves: dict[tuple[int, Cases], tuple[Move, ...]] = field(default_factory=dict)
    _twins: tuple[bool, ...] = ()
    _asked_last: tuple[bool, ...] = ()
    _rules: tuple[tuple[Rule, ...], ...] = ()

    def __post_init__(self) -> None:
        count = len(self.steps)
        self._rules = tuple(rules_for(item.step, self.library) for item in self.steps)
        ending = (question.attribute for state in self.library.states.values() for question in asked(state.when))
        later: list[tuple[str, ...]] = [()] * (count + 1)
        later[count] = tuple(dict.fromkeys(name for name in ending if name in self.space.domains))
        for index in reversed(range(count)):
            later[index] = tuple(dict.fromkeys((*self.attributes(index), *later[index + 1])))
        self._later = tuple(later)
        self._asked_last = tuple(len(later[index]) > len(later[index + 1]) for index in range(count))
        shapes = Counter(_shape(item) for item in self.steps)
        self._twins = tuple(shapes[_shape(item)] > 1 for item in self.steps)

    def start(self) -> dict[str, str]:
        """The value of every state before the first step."""
        begin = {name: state.ready[0] for name, state in self.library.states.items() if state.ready}
        return begin | {name: value for name, value in self.guide.begins.items() if name in begin}

    def touched(self, index: int) -> dict[str, Condition]:
        """The states that a step and its rules speak of, each with the condition on which a bike has it.

        A rule that holds for some bikes only is there too, under its id.
        """
        step, rules = self.steps[index].step, self._rules[index]
        names = dict.fromkeys((*step.needs, *step.leaves))
        for rule in rules:
            names |= dict.fromkeys((*rule.needs, *rule.leaves))
        states = {name: self.library.states[name].when for name in names if name in self.library.states}
        return states | {_ruled(rule): rule.when for rule in rules}

    def rules(self, index: int) -> tuple[Rule, ...]:
        """The rules of the trade for the act of a step."""
        return self._rules[index]

    def attributes(self, index: int) -> tuple[str, ...]:
        """The attributes that a step asks for: its own conditions', and those of its states."""
        conditions = (*self.steps[index].conditions, *self.touched(index).values())
        names = (question.attribute for condition in conditions for question in asked(condition))
        return tuple(name for name in dict.fromkeys(names) if name in self.space.domains)

    def moves(self, index: int, known: Cases) -> tuple[Move, ...]:
        """Every way on from step `index` for bikes of which `known` is known."""
        key = (index, known)
        if key not in self._moves:
            self._moves[key] = tuple(self._ways(index, dict(known)))
        return self._moves[key]

    def _ways(self, index: int, known: dict[str, str]) -> Iterator[Move]:
        conditions, touched = self.steps[index].conditions, self.touched(index)
        for cases in self.settled(known, conditions, all_of=False):
            done = all(decided(condition, cases) is True for condition in conditions)
            for wider in self.settled(cases, tuple(touched.values())) if done else (cases,):
                yield Move(
                    added=frozen({name: case for name, case in wider.items() if name not in known}),
                    done=done,
                    has=frozenset(name for name, when in touched.items() if decided(when, wider) is True),
                    known=self._known(index, known, wider),
                )

    def _known(self, index: int, before: dict[str, str], after: dict[str, str]) -> Cases:
        """What is worth knowing behind a step; where nothing was asked and nothing was asked last, it is as before."""
        if len(before) == len(after) and not self._asked_last[index]:
            return frozen(after)
        return self.space.matters(after, self._later[index + 1])

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

    def last_worth_telling(self, walker: Walker) -> int:
        """The last step where a step that does the same may follow it; -1 else, so that walks can meet."""
        return walker.taken[-1] if walker.taken and self._twins[walker.taken[-1]] else -1


def _ruled(rule: Rule) -> str:
    return f"rule {rule.id}"


def _shape(item: PlacedStep) -> tuple[object, ...]:
    """What two steps share that may do the same over again."""
    return item.section, item.uses, item.stretch, frozen(item.step.leaves), item.step.loosens


def course(guide: Guide, library: Library) -> Course:
    """`guide` made ready for a walk."""
    return Course(guide, library, inlined(guide, library), configurations(guide, library))


def act(track: Course, index: int, has: frozenset[str], walker: Walker) -> tuple[Walker, tuple[Failure, ...]]:
    """Do step `index` on bikes that have the states `has` of those that it speaks of."""
    step, states = track.steps[index].step, dict(walker.states)
    failures = [
        Failure(Flaw.NEED, index, name, wanted, states.get(name, ""))
        for name, wanted in step.needs.items()
        if name in has and states.get(name) != wanted
    ]
    rules = [rule for rule in track.rules(index) if _ruled(rule) in has]
    failures += [
        Failure(Flaw.RULE_NEED, index, name, wanted, states.get(name, ""), rule.id)
        for rule in rules
        for name, wanted in rule.needs.items()
        if name in has and states.get(name) != wanted and step.needs.get(name) != wanted
    ]
    failures += [
        Failure(Flaw.RULE_LEAVES, index, name, wanted, step.leaves.get(name, states.get(name, "")), rule.id)
        for rule in rules
        for name, wanted in rule.leaves.items()
        if name in has and step.leaves.get(name, states.get(name)) != wanted
    ]
    opened = set(walker.open)
    if step.loosens is not None:
        if step.loosens in opened:
            failures.append(Failure(Flaw.LOOSENED_TWICE, index, step.loosens))
        opened.add(step.loosens)
    if step.tightens is not None:
        opened.discard(step.tightens)
    leaves = {name: value for name, value in step.leaves.items() if name in has}
    if leaves and _repeats(track, index, walker, leaves, states):
        name, value = next(iter(leaves.items()))
        failures.append(Failure(Flaw.REPEATED, index, name, value))
    moved = replace(walker, states=frozen({**states, **leaves}), open=frozenset(opened), taken=(*walker.taken, index))
    return moved, tuple(failures)


def _repeats(track: Course, index: int, walker: Walker, leaves: Mapping[str, str], states: Mapping[str, str]) -> bool:
    """Whether the step does over again what the step before it in the same stretch of text has just done."""
    if not walker.taken or track.steps[index].step.when == ALWAYS:
        return False
    same = _shape(track.steps[walker.taken[-1]]) == _shape(track.steps[index])
    return same and all(states.get(name) == value for name, value in leaves.items())


def end(track: Course, cases: Mapping[str, str], walker: Walker) -> tuple[Failure, ...]:
    """What is not as it must be after the last step; a state that the bike does not have is always as it must be."""
    failures = [Failure(Flaw.OPEN, -1, name) for name in sorted(walker.open)]
    states = dict(walker.states)
    for name, state in track.library.states.items():
        wanted = track.wanted_at_end(name)
        if states.get(name) not in wanted and decided(state.when, cases) is True:
            failures.append(Failure(Flaw.NOT_READY, -1, name, " or ".join(wanted), states.get(name, "")))
    return tuple(failures)


Key = tuple[Cases, Cases, frozenset[str], int]


def walk(track: Course) -> Walked:
    """Walk every configuration through the guide. Where the rules leave none, nothing is found and nothing reached."""
    if not track.space.feasible({}):
        return Walked(failures={}, reached=frozenset(), asked=(), configurations=0, paths=0)
    first = Walker(states=frozen(track.start()))
    crowd: dict[Key, Walker] = {((), first.states, first.open, -1): first}
    failures: dict[Failure, Walker] = {}
    reached: set[int] = set()
    for index in range(len(track.steps)):
        following: dict[Key, Walker] = {}
        for (known, *_), walker in crowd.items():
            for move in track.moves(index, known):
                moved = replace(walker, cases=(*walker.cases, *move.added)) if move.added else walker
                if move.done:
                    reached.add(index)
                    moved, found = act(track, index, move.has, moved)
                    _note(failures, found, moved)
                key = (move.known, moved.states, moved.open, track.last_worth_telling(moved))
                if key not in following or len(moved.taken) < len(following[key].taken):
                    following[key] = moved
        crowd = following
    for (known, *_), walker in crowd.items():
        states = dict(walker.states)
        open_questions = tuple(
            state.when
            for name, state in track.library.states.items()
            if states.get(name) not in track.wanted_at_end(name)
        )
        for cases in track.settled(dict(known), open_questions):
            wider = replace(walker, cases=frozen({**dict(walker.cases), **cases}))
            _note(failures, end(track, cases, walker), wider)
    names = tuple(dict.fromkeys(name for index in range(len(track.steps)) for name in track.attributes(index)))
    return Walked(
        failures=failures,
        reached=frozenset(reached),
        asked=names,
        configurations=track.space.count(names),
        paths=_paths(track),
    )


def _note(failures: dict[Failure, Walker], found: tuple[Failure, ...], walker: Walker) -> None:
    for failure in found:
        if failure not in failures or len(walker.taken) < len(failures[failure].taken):
            failures[failure] = walker


def _paths(track: Course) -> int:
    """How many different sequences of steps there are over all configurations.

    Two configurations with the same steps are one path: the count goes on with the set of all that share their steps.
    """
    groups: dict[frozenset[Cases], int] = {frozenset({()}): 1}
    for index in range(len(track.steps)):
        following: dict[frozenset[Cases], int] = {}
        for group, count in groups.items():
            done: set[Cases] = set()
            left: set[Cases] = set()
            for known in group:
                for move in track.moves(index, known):
                    (done if move.done else left).add(move.known)
            for side in (done, left):
                if side:
                    key = frozenset(side)
                    following[key] = following.get(key, 0) + count
        groups = following
    return sum(groups.values())


def single(track: Course, cases: Mapping[str, str]) -> tuple[tuple[int, ...], tuple[Failure, ...]]:
    """The steps and the failures for one full configuration: what the crowd's walk must agree with."""
    walker = Walker(states=frozen(track.start()), cases=frozen(cases))
    failures: list[Failure] = []
    for index, item in enumerate(track.steps):
        if all(decided(condition, cases) is True for condition in item.conditions):
            has = frozenset(name for name, when in track.touched(index).items() if decided(when, cases) is True)
            walker, found = act(track, index, has, walker)
            failures.extend(found)
    failures.extend(end(track, cases, walker))
    return walker.taken, tuple(failures)
