"""A guide made ready for a walk: its steps, the rules that speak of them, and the ways on from each."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from builder.model.condition import ALWAYS, Condition, asked
from builder.model.guide import Guide
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.rules import Rule
from builder.proof.acts import Order, orders_of, ruled, rules_for
from builder.proof.configurations import Configurations, configurations, frozen
from builder.proof.known import Asked, Known

_NONE: frozenset[str] = frozenset()


@dataclass(slots=True)
class Track:
    """A guide as the walk needs it: its steps, their rules and the configurations."""

    guide: Guide
    library: Library
    steps: tuple[PlacedStep, ...]
    space: Configurations
    rules: tuple[tuple[Rule, ...], ...] = ()
    orders: tuple[Order, ...] = ()
    _spoken: tuple[tuple[str, ...], ...] = ()

    def __post_init__(self) -> None:
        self.orders = orders_of(self.steps, self.library)
        self.rules = tuple(rules_for(item.step, self.library) for item in self.steps)
        self._spoken = tuple(self._speaks_of(item.index) for item in self.steps)

    def start(self) -> dict[str, str]:
        """The value of every state before the first step."""
        begin = {name: state.ready[0] for name, state in self.library.states.items() if state.ready}
        return begin | {name: value for name, value in self.guide.begins.items() if name in begin}

    def speaks_of(self, index: int) -> tuple[str, ...]:
        """The states that a step or one of its rules speaks of."""
        return self._spoken[index]

    def _speaks_of(self, index: int) -> tuple[str, ...]:
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
        only = (one for rule in self.rules[index] if rule.only != ALWAYS for one in (rule.when, rule.only))
        touched = self.touched(index, self.library.states).values()
        conditions = (*self.steps[index].conditions, *touched, *orders, *only)
        return self.asked_by(conditions)

    def asked_by(self, conditions: Iterable[Condition]) -> tuple[str, ...]:
        """The attributes that conditions ask for."""
        names = (question.attribute for condition in conditions for question in asked(condition))
        return tuple(name for name in dict.fromkeys(names) if name in self.space.domains)

    def ready(self, conditions: Iterable[Condition]) -> tuple[Asked, ...]:
        """Conditions made ready to be answered for what is known."""
        return tuple(self.space.knowing.asked(condition) for condition in conditions)

    def stays_on(self, fastener: str) -> bool:
        """Whether a fastener belongs to what the bike still has after the job."""
        return self.library.fasteners[fastener].role not in self.guide.drops

    def wanted_at_end(self, name: str) -> tuple[str, ...]:
        """The values in which a state may be left."""
        return (self.guide.ends[name],) if name in self.guide.ends else self.library.states[name].ready


def shape(item: PlacedStep) -> tuple[object, ...]:
    """What two steps share that may do the same over again."""
    return item.section, item.uses, item.phase, frozen(item.step.leaves), item.step.loosens


def track_of(guide: Guide, library: Library) -> Track:
    """`guide` made ready for a walk."""
    return Track(guide, library, inlined(guide, library), configurations(guide, library))


class Transition(NamedTuple):
    """One way on from a step: all that is known by then, whether the step is done, what is worth knowing from here on.

    `has` are the states of the step that these bikes have, and the rules that hold for them; nobody asks where the
    step is not done.
    """

    added: Known
    done: bool
    has: frozenset[str]
    known: Known


def transitions(
    track: Track,
    conditions: tuple[Asked, ...],
    touched: Mapping[str, Asked],
    known: Known,
    later: tuple[Asked, ...],
) -> Iterator[Transition]:
    """Every way on from a step for bikes of which `known` is known; `later` are the conditions still to be asked."""
    knowing, matters = track.space.knowing, track.space.matters
    for settled in track.space.settled(known, conditions, all_of=False):
        done = all(knowing.answer(one, settled) is True for one in conditions)
        for wider in track.space.settled(settled, tuple(touched.values())) if done else (settled,):
            worth = matters(wider, knowing.having_a_say(later, wider))
            has = _NONE
            if done:
                has = frozenset([name for name, when in touched.items() if knowing.answer(when, wider) is True])
            yield Transition(wider, done, has, worth)
