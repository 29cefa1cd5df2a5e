"""Whether what the files say can be true: each bike as it stands against every check."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from builder.checks.check import Force
from builder.checks.result import Verdict
from builder.diagnostics.diagnostic import Diagnostic
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.library import Library
from builder.planning.asking import Answered, answers
from builder.planning.fitting import as_found


def standing_diagnostics(library: Library) -> tuple[Diagnostic, ...]:
    """Every bike whose parts can't be together as its file says."""
    return tuple(found for bike in library.bikes.values() for found in _of_bike(bike, library))


def _of_bike(bike: Bike, library: Library) -> Iterator[Diagnostic]:
    """What does not fit, though it is on the bike; asked as if each part had just been put on."""
    standing = replace(as_found(bike, library), replaced=frozenset(bike.parts))
    for answered in answers(standing, Role):
        wrong = answered.result.verdict is Verdict.DOES_NOT_FIT and answered.fails
        if wrong and answered.check.asked.force is Force.MISFIT:
            role = _place(answered, bike)
            where = f" ({answered.where.replace('-', ' ')})" if answered.where else ""
            yield Diagnostic(
                rule="standing",
                message=f"'{bike.id}' can't be as its file says: {answered.check.title}{where} does not fit",
                at=bike.places.of("" if role is None else f"parts.{role.value}"),
                label="; ".join(answered.result.working),
                hints=(answered.result.advice, "correct what the file says, or the part that it names"),
            )


def _place(answered: Answered, bike: Bike) -> Role | None:
    """The part to point at: the one that would be changed, else any that the check is about."""
    about = (*answered.cures, *sorted(answered.roles))
    return next((role for role in about if role in bike.parts), None)
