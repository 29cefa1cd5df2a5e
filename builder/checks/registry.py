"""Every check of the trade by its name; a new family is one import and one line in `_FAMILIES`."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType

from builder.checks.result import Check

_FAMILIES: tuple[tuple[Check, ...], ...] = ()


def _by_name(families: tuple[tuple[Check, ...], ...]) -> Mapping[str, Check]:
    found: dict[str, Check] = {}
    for family in families:
        for check in family:
            if check.name in found:
                raise ValueError(f"two checks are called '{check.name}'")
            found[check.name] = check
    return MappingProxyType(found)


CHECKS: Mapping[str, Check] = _by_name(_FAMILIES)


class UnknownCheck(LookupError):
    """There is no check of that name; the message names the nearest one."""


def find_check(name: str) -> Check:
    """The check called `name`.

    Raises:
        UnknownCheck: there is none; the message is one line with the nearest known name.
    """
    if name in CHECKS:
        return CHECKS[name]
    near = get_close_matches(name, CHECKS, n=1, cutoff=0.5)
    hint = f"did you mean '{near[0]}'?" if near else "'reckon --list' names them all"
    raise UnknownCheck(f"unknown check '{name}'; {hint}")
