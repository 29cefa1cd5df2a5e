"""Every check of the trade by its name; a new family is one import and one line in `_FAMILIES`."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from types import MappingProxyType

from builder.checks import (
    bolts,
    brake_levers,
    brake_wear,
    brakes,
    chain,
    chain_ends,
    chain_growth,
    chain_supply,
    chain_wear,
    clamps,
    cockpit,
    contrast,
    cranks,
    derailleur,
    engagement,
    gear_range,
    gears,
    heads,
    hills,
    hubs,
    indexing,
    legibility,
    mounting,
    quick_release,
    slopes,
    spokes,
    sprockets,
    suspension,
    take_up,
    thread_hand,
    torque_tools,
    tyre_clearance,
    tyre_pressure,
    tyres,
    wheels,
    wrenches,
)
from builder.checks.result import Check

# Their order is that of the list for the reader.
_FAMILIES: tuple[tuple[Check, ...], ...] = (
    sprockets.CHECKS,
    chain.CHECKS,
    chain_ends.CHECKS,
    chain_supply.CHECKS,
    chain_growth.CHECKS,
    chain_wear.CHECKS,
    derailleur.CHECKS,
    take_up.CHECKS,
    indexing.CHECKS,
    mounting.CHECKS,
    gears.CHECKS,
    gear_range.CHECKS,
    hills.CHECKS,
    slopes.CHECKS,
    bolts.CHECKS,
    engagement.CHECKS,
    thread_hand.CHECKS,
    torque_tools.CHECKS,
    wrenches.CHECKS,
    heads.CHECKS,
    hubs.CHECKS,
    quick_release.CHECKS,
    spokes.CHECKS,
    wheels.CHECKS,
    tyres.CHECKS,
    tyre_pressure.CHECKS,
    tyre_clearance.CHECKS,
    brakes.CHECKS,
    brake_levers.CHECKS,
    brake_wear.CHECKS,
    cockpit.CHECKS,
    clamps.CHECKS,
    cranks.CHECKS,
    suspension.CHECKS,
    legibility.CHECKS,
    contrast.CHECKS,
)


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
