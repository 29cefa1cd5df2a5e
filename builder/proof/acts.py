"""Which rules of the trade speak of a step: by what it does, and by the fastener that it turns."""

from __future__ import annotations

from dataclasses import replace

from builder.model.guide import Step
from builder.model.library import Library
from builder.model.rules import Rule
from builder.tailoring.hazards import Handling, handlings


def rules_for(step: Step, library: Library) -> tuple[Rule, ...]:
    """The rules for the act of `step` itself, without its choices, in the catalogue's order."""
    handled = handlings(replace(step, choose=()), library)
    return tuple(rule for rule in library.rules.values() if _speaks_of(rule, step, handled))


def _speaks_of(rule: Rule, step: Step, handled: tuple[Handling, ...]) -> bool:
    if rule.fasteners:
        loosened = "loosen" in rule.verbs and step.loosens in rule.fasteners
        tightened = "tighten" in rule.verbs and step.tightens in rule.fasteners
        return loosened or tightened
    return any((not rule.verbs or act.verb in rule.verbs) and act.thing in rule.things for act in handled)
