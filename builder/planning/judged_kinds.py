"""For each kind of part the checks that judge it, as follows from the facts that the checks read."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from builder.checks.check import AnyCheck, Force
from builder.model.parts import KINDS, roles_of
from builder.planning.asking import checks_of_bikes


@cache
def judging() -> Mapping[str, Mapping[Force, tuple[AnyCheck, ...]]]:
    """Each kind of part, as its folder is called, with the checks about it by what a bad answer comes to."""
    found: dict[str, Mapping[Force, tuple[AnyCheck, ...]]] = {}
    for kind in KINDS:
        places = frozenset(roles_of(kind))
        about = {placed.check.name: placed.check for placed in checks_of_bikes() if placed.about & places}
        found[kind] = MappingProxyType(
            {
                force: tuple(check for check in about.values() if check.asked.force is force)
                for force in (Force.MISFIT, Force.CONDITION)
            }
        )
    return MappingProxyType(found)
