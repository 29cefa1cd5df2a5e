"""Which steps are shown where a bike is not, or not wholly, known: those that some bike has for which the guide is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from builder.model.condition import All, Condition, Is, asked
from builder.model.deciding import decided, still_open
from builder.model.library import Library

Conditions = tuple[Condition, ...]


def possible(
    conditions: Iterable[Condition], library: Library, known: Mapping[str, str] = MappingProxyType({})
) -> bool:
    """Whether some bike that has the `known` cases meets all of the conditions.

    Only exclusions that speak of nothing but the attributes asked are looked at: a few cases are tried, not all bikes,
    and a step that is shown too often does no harm.
    """
    wanted = tuple(conditions)
    names = tuple(dict.fromkeys(question.attribute for part in wanted for question in asked(part)))
    if any(name not in library.attributes for name in names):
        return True
    known_or_asked = {*names, *known}
    never = tuple(
        one.never for one in library.exclusions if all(part.attribute in known_or_asked for part in asked(one.never))
    )
    return _met(wanted, never, dict(known), library)


def _met(wanted: Conditions, never: Conditions, cases: Mapping[str, str], library: Library) -> bool:
    """Whether what is open can be answered so that all that is wanted holds, and nothing that never holds.

    Only what the cases leave open goes down to the next level, and a dead end is left at once.
    """
    asked_for, forbidden = _open(wanted, cases, False), _open(never, cases, True)
    if asked_for is None or forbidden is None:
        return False
    if not asked_for and not forbidden:
        return True
    # What must all hold is taken apart.
    wanted = tuple(part for one in asked_for for part in (one.parts if isinstance(one, All) else (one,)))
    never = forbidden
    # One that only a few cases meet leaves the fewest ways to try.
    plain = next((one for one in wanted if isinstance(one, Is)), None)
    name = plain.attribute if plain is not None else next(asked((*wanted, *never)[0])).attribute
    tried = library.attributes[name].cases
    return any(
        _met(wanted, never, {**cases, name: case}, library) for case in tried if plain is None or case in plain.cases
    )


def _open(conditions: Conditions, cases: Mapping[str, str], dead_end: bool) -> Conditions | None:
    """What the cases leave open of the conditions; None where one of them comes to a dead end."""
    found: list[Condition] = []
    for one in conditions:
        answer = decided(one, cases)
        if answer is dead_end:
            return None
        if answer is None:
            found.append(still_open(one, cases))
    return tuple(found)
