"""Every check of the trade by its name: a check is known as soon as a module of this room holds it."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from importlib import import_module
from types import MappingProxyType

from builder import checks
from builder.checks.check import AnyCheck, Check, Family

# What comes first in the list for the reader, so that it reads from the sprockets on; the rest follows by name.
_FIRST = ("sprockets", "mounting", "chain", "chain_ends", "chain_supply", "chain_growth", "chain_wear", "derailleur")


def _all_checks() -> Iterator[AnyCheck]:
    modules = sorted(one.name for one in pkgutil.iter_modules(checks.__path__))
    for module in sorted(modules, key=lambda one: _FIRST.index(one) if one in _FIRST else len(_FIRST)):
        name = f"{checks.__name__}.{module}"
        if name != __name__:
            found = vars(import_module(name)).values()
            yield from (one for one in found if isinstance(one, Check) and one.function.__module__ == name)


def _by_name() -> Mapping[str, AnyCheck]:
    """The checks by family, in the order of their modules and of the lines in them."""
    found: dict[str, AnyCheck] = {}
    order = list(Family)
    for check in sorted(_all_checks(), key=lambda one: order.index(one.family)):
        if check.name in found:
            raise ValueError(f"two checks are called '{check.name}'")
        found[check.name] = check
    return MappingProxyType(found)


CHECKS: Mapping[str, AnyCheck] = _by_name()


class UnknownCheck(LookupError):
    """There is no check of that name; the message names the nearest one."""


def find_check(name: str) -> AnyCheck:
    """The check called `name`.

    Raises:
        UnknownCheck: there is none; the message is one line with the nearest known name.
    """
    if name in CHECKS:
        return CHECKS[name]
    near = get_close_matches(name, CHECKS, n=1, cutoff=0.6)
    hint = f"did you mean '{near[0]}'?" if near else "'reckon --list' names them all"
    raise UnknownCheck(f"unknown check '{name}'; {hint}")
