"""A bike with other parts tried on: what planning holds the checks against."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from builder.model.bike import MEASURED_ON, Bike, Measurements
from builder.model.catalogue import Fastener, Standard
from builder.model.facts import Role
from builder.model.library import Library
from builder.model.parts import Part
from builder.model.paths import field_of
from builder.model.units import Range

_UNMEASURED = Measurements()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """`found` is the bike as it stands, `bike` the same with the parts in `replaced` put on.

    `wrenches_nm` are the ranges of the workshop's torque wrenches [N·m], `bits` the heads that its tools
    drive or hold. `fastener` is the one that a check about fasteners is asked for; `standards` are the
    workshop's own.
    """

    found: Bike
    bike: Bike
    replaced: frozenset[Role] = frozenset()
    wrenches_nm: tuple[Range, ...] = ()
    bits: frozenset[str] = frozenset()
    fastener: Fastener | None = None
    standards: Mapping[str, Standard] = field(default_factory=dict)

    def part(self, role: Role) -> Part | None:
        """The part in `role`, with the changes made."""
        return self.bike.part(role)


def as_found(bike: Bike, library: Library | None = None) -> Fitting:
    """The bike as it stands, with the workshop's tools at hand."""
    if library is None:
        return Fitting(found=bike, bike=bike)
    tools = [tool for name in library.workshop.tools if (tool := library.tools.get(name)) is not None]
    return Fitting(
        found=bike,
        bike=bike,
        wrenches_nm=tuple(tool.torque_nm for tool in tools if tool.torque_nm is not None),
        standards=library.standards,
        bits=frozenset(head for tool in tools for head in tool.fits),
    )


def without_parts(bike: Bike, roles: Iterable[Role]) -> Bike:
    """The bike with nothing in `roles`."""
    gone = frozenset(roles)
    kept = {role: part for role, part in bike.parts.items() if role not in gone}
    return replace(bike, parts=kept, without=bike.without | gone)


def with_parts(fitting: Fitting, parts: Mapping[Role, Part]) -> Fitting:
    """The bike as found with `parts` put on; what was measured on a part that goes is forgotten with it."""
    found = fitting.found
    forgotten = {
        name: getattr(_UNMEASURED, name)
        for key, roles in MEASURED_ON.items()
        if any(role in parts for role in roles) and (name := field_of(Measurements, key)) is not None
    }
    bike = replace(
        found,
        parts={**found.parts, **parts},
        without=found.without - parts.keys(),
        measured=replace(found.measured, **forgotten),
    )
    return replace(fitting, bike=bike, replaced=frozenset(parts))
