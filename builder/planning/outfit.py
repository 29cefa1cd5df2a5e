"""A bike with other parts on it: what planning tries out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.parts import Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Outfit:
    """`found` is the bike as it stands, `bike` the same with the parts in `replaced` put on."""

    found: Bike
    bike: Bike
    replaced: frozenset[Role] = frozenset()

    def part(self, role: Role) -> Part | None:
        """The part in `role`, with the changes made."""
        return self.bike.part(role)


def outfit(found: Bike, parts: Mapping[Role, Part]) -> Outfit:
    """The bike `found` with `parts` put on; what was measured on a part that goes is forgotten with it."""
    measured = found.measured
    if Role.CHAIN in parts:
        measured = replace(measured, chain_length_mm=None, chain_length_links=None, chain_links=None)
    if Role.FRONT_ROTOR in parts:
        measured = replace(measured, front_rotor_mm=None)
    if Role.REAR_ROTOR in parts:
        measured = replace(measured, rear_rotor_mm=None)
    if Role.FRONT_PADS in parts:
        measured = replace(measured, front_pads_mm=None)
    if Role.REAR_PADS in parts:
        measured = replace(measured, rear_pads_mm=None)
    if Role.REAR_TYRE in parts:
        measured = replace(measured, wheel_circumference_mm=None)
    bike = replace(found, parts={**found.parts, **parts}, without=found.without - parts.keys(), measured=measured)
    return Outfit(found=found, bike=bike, replaced=frozenset(parts))
