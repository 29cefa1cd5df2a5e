"""Which rules of the trade speak of a step: by what it does, and by the fastener that it turns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from builder.model.condition import ALWAYS, Condition
from builder.model.guide import Step
from builder.model.inlining import PlacedStep
from builder.model.library import Library
from builder.model.rules import Deed, Rule
from builder.tailoring.hazards import Handling, handlings


def rules_for(step: Step, library: Library) -> tuple[Rule, ...]:
    """The rules for the act of `step` itself, without its choices, in the catalogue's order."""
    handled = _handled(step, library)
    return tuple(rule for rule in library.rules.values() if _speaks_of(rule, step, handled))


def ruled(rule: Rule) -> str:
    """The name under which a step's rule stands among its states."""
    return f"rule {rule.id}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """A rule with `first` or `then`: the steps, by index, that it speaks of, that come first, and that follow."""

    rule: Rule
    acts: frozenset[int]
    first: frozenset[int]
    then: frozenset[int]

    @property
    def steps(self) -> tuple[int, ...]:
        """Every step that has to do with the rule, in the order of the guide."""
        return tuple(sorted(self.acts | self.first | self.then))

    def asks(self, index: int) -> Mapping[str, Condition]:
        """What must be decided about a step: whether the rule holds, where it speaks of the step."""
        return {ruled(self.rule): self.rule.when} if index in self.acts else {}


def orders_of(steps: tuple[PlacedStep, ...], library: Library) -> tuple[Order, ...]:
    """The rules of order that speak of some of the steps."""
    handled = [_handled(item.step, library) for item in steps]
    found = []
    for rule in library.rules.values():
        if rule.first is None and rule.then is None:
            continue
        acts = frozenset(item.index for item in steps if _speaks_of(rule, item.step, handled[item.index]))
        if acts:
            found.append(
                Order(rule=rule, acts=acts, first=_of_kind(rule.first, handled), then=_of_kind(rule.then, handled))
            )
    return tuple(found)


def _handled(step: Step, library: Library) -> tuple[Handling, ...]:
    return handlings(replace(step, choose=()), library)


def _of_kind(deed: Deed | None, handled: list[tuple[Handling, ...]]) -> frozenset[int]:
    if deed is None:
        return frozenset()
    return frozenset(
        index
        for index, acts in enumerate(handled)
        if any((not deed.verbs or act.verb in deed.verbs) and act.thing in deed.things for act in acts)
    )


def _speaks_of(rule: Rule, step: Step, handled: tuple[Handling, ...]) -> bool:
    if rule.fasteners:
        loosened = "loosen" in rule.verbs and step.loosens in rule.fasteners
        tightened = "tighten" in rule.verbs and step.tightens in rule.fasteners
        # A bolt that is only tried must be there too, though nothing about it changes.
        tried = rule.only != ALWAYS and "tighten" in rule.verbs and not set(rule.fasteners).isdisjoint(step.tries)
        return loosened or tightened or tried
    return any((not rule.verbs or act.verb in rule.verbs) and act.thing in rule.things for act in handled)
