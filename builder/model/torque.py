"""Which torque applies: the figure of the part that a fastener sits in goes first, the typical one stands in for it."""

from __future__ import annotations

from collections.abc import Iterator

from builder.model.bike import Bike
from builder.model.catalogue import Fastener
from builder.model.library import Library
from builder.model.parts import Part
from builder.model.units import Range


def torque_of(fastener: Fastener, bike: Bike) -> tuple[Range | None, str]:
    """The torque of `fastener` on `bike` [N·m] and the maker's source; the source is empty for the typical figure."""
    part = bike.part(fastener.role) if fastener.role is not None else None
    if part is not None and fastener.id in part.torques_nm:
        return part.torques_nm[fastener.id], part.torque_source or f"maker of {part.name}"
    return fastener.torque_nm, ""


def own_figures(library: Library) -> Iterator[tuple[Part, Fastener, Range]]:
    """Every figure [N·m] that a part carries for one of its fasteners: of known parts, then those in bikes' files."""
    parts = [*library.parts.values()]
    for bike in library.bikes.values():
        parts += [part for part in bike.parts.values() if part.id not in library.parts]
    for part in parts:
        for name, torque in part.torques_nm.items():
            if name in library.fasteners:
                yield part, library.fasteners[name], torque
