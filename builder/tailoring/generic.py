"""Which steps are shown where a bike is not, or not wholly, known: those that some bike has for which the guide is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import product
from types import MappingProxyType

from builder.model.condition import Condition, asked, holds
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
    each = ((known[name],) if name in known else tuple(library.attributes[name].cases) for name in names)
    for chosen in product(*each):
        cases = {**known, **dict(zip(names, chosen, strict=True))}
        if all(holds(part, cases) for part in wanted) and not any(holds(part, cases) for part in never):
            return True
    return False
