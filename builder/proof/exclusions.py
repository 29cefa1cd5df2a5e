"""What the exclusions leave over: a case that no bike can have any more hides every bike that has it."""

from __future__ import annotations

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.condition import Condition, Not, asked
from builder.model.deciding import decided
from builder.model.library import Library
from builder.proof.configurations import Configurations


def exclusions_leave_bikes(library: Library) -> tuple[Diagnostic, ...]:
    """Every case of an attribute that no bike can have, since exclusions together rule it out."""
    domains = {name: tuple(attribute.cases) for name, attribute in library.attributes.items()}
    rules: tuple[Condition, ...] = tuple(
        Not(exclusion.never)
        for exclusion in library.exclusions
        if all(question.attribute in domains for question in asked(exclusion.never))
    )
    space = Configurations(domains=domains, rules=rules)
    return tuple(
        Diagnostic(
            rule="excluded-case",
            message=f"no bike can be '{name}: {case}', since the exclusions rule it out",
            at=attribute.places.of(f"cases.{case}"),
            gravity=Gravity.WARNING,
            hints=(
                "mend the exclusion that goes too far; these ask the attribute: "
                + "; ".join(
                    str(one.places.at)
                    for one in library.exclusions
                    if any(question.attribute == name for question in asked(one.never))
                ),
            ),
        )
        for name, attribute in library.attributes.items()
        for case in attribute.cases
        if not space.feasible({name: case}) and not _ruled_out_by_one(name, case, rules)
    )


def _ruled_out_by_one(name: str, case: str, rules: tuple[Condition, ...]) -> bool:
    """Whether one exclusion speaks of this case alone: then it is meant, since a list of words is shared by places."""
    return any(isinstance(rule, Not) and decided(rule.part, {name: case}) is True for rule in rules)
