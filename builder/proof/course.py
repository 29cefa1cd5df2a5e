"""A guide made ready for a walk: its steps, the rules that speak of them, and the ways on from each."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from builder.model.condition import Condition, asked
from builder.model.deciding import decided, deciding
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.rules import Rule
from builder.proof.acts import Order, orders_of, ruled, rules_for
from builder.proof.configurations import Cases, Configurations, configurations, frozen
from builder.tailoring.inlining import PlacedStep, inlined


@dataclass(slots=True)
class Course:
    """A guide as the walk needs it: its steps, their rules and the configurations."""

    guide: Guide
    library: Library
    steps: tuple[PlacedStep, ...]
    space: Configurations
    rules: tuple[tuple[Rule, ...], ...] = ()
    orders: tuple[Order, ...] = ()
    # What was worked out for a condition of the guide or the library, by its identity: they outlive the course.
    _asks: dict[int, tuple[str, ...]] = field(default_factory=dict)
    _deciding: dict[tuple[int, tuple[str | None, ...]], dict[str, None]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.orders = orders_of(self.steps, self.library)
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
                found[ruled(rule)] = rule.when
        return found

    def attributes(self, index: int) -> tuple[str, ...]:
        """The attributes that a step asks for: its own conditions', and those of its states and of its rules' order."""
        orders = (rule.when for rule in self.rules[index] if rule.first or rule.then)
        conditions = (*self.steps[index].conditions, *self.touched(index, self.library.states).values(), *orders)
        return self.asked_by(conditions)

    def asked_by(self, conditions: Iterable[Condition]) -> tuple[str, ...]:
        """The attributes that conditions ask for."""
        names = (question.attribute for condition in conditions for question in asked(condition))
        return tuple(name for name in dict.fromkeys(names) if name in self.space.domains)

    def deciding(self, conditions: Iterable[Condition], cases: Mapping[str, str]) -> tuple[str, ...]:
        """The attributes that have a say in conditions, now that `cases` are known."""
        names: dict[str, None] = {}
        for condition in conditions:
            asks = self._asks.get(id(condition))
            if asks is None:
                asks = self._asks[id(condition)] = self.asked_by((condition,))
            key = (id(condition), tuple([cases.get(name) for name in asks]))
            found = self._deciding.get(key)
            if found is None:
                sound = (name for name in deciding(condition, cases) if name in self.space.domains)
                found = self._deciding[key] = dict.fromkeys(sound)
            names |= found
        return tuple(names)

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


def shape(item: PlacedStep) -> tuple[object, ...]:
    """What two steps share that may do the same over again."""
    return item.section, item.uses, item.stretch, frozen(item.step.leaves), item.step.loosens


def course(guide: Guide, library: Library) -> Course:
    """`guide` made ready for a walk."""
    return Course(guide, library, inlined(guide, library), configurations(guide, library))


@dataclass(frozen=True, slots=True)
class Move:
    """One way on from a step: what was asked besides, whether the step is done, what is worth knowing from here on.

    `has` are the states of the step that these bikes have, and the rules that hold for them.
    """

    added: Cases
    done: bool
    has: frozenset[str]
    known: Cases


def moves(
    track: Course,
    conditions: tuple[Condition, ...],
    touched: Mapping[str, Condition],
    known: dict[str, str],
    later: tuple[Condition, ...],
) -> Iterator[Move]:
    """Every way on from a step for bikes of which `known` is known; `later` are the conditions still to be asked."""
    for cases in track.settled(known, conditions, all_of=False):
        done = all(decided(condition, cases) is True for condition in conditions)
        for wider in track.settled(cases, tuple(touched.values())) if done else (cases,):
            yield Move(
                added=frozen({name: case for name, case in wider.items() if name not in known}),
                done=done,
                has=frozenset(name for name, when in touched.items() if decided(when, wider) is True),
                known=track.space.matters(wider, track.deciding(later, wider)),
            )
