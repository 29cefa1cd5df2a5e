"""Which steps are shown where a bike is not, or not wholly, known: those that some bike has for which the guide is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from builder.model.condition import Condition, asked
from builder.model.deciding import decided
from builder.model.library import Library


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
    never = [
        one.never
        for one in library.exclusions
        if all(part.attribute in names or part.attribute in known for part in asked(one.never))
    ]

    def met(left: tuple[str, ...], cases: dict[str, str]) -> bool:
        """Whether the attributes still left can be answered so that all holds; a dead end is left at once."""
        if any(decided(part, cases) is False for part in wanted) or any(decided(one, cases) is True for one in never):
            return False
        if not left:
            return True
        return any(met(left[1:], {**cases, left[0]: case}) for case in library.attributes[left[0]].cases)

    return met(tuple(name for name in names if name not in known), dict(known))
