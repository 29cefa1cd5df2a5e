"""Which torque applies: the figure of the part's own maker, else the typical one of the catalogue."""

from __future__ import annotations

from builder.model.bike import Bike
from builder.model.catalogue import Fastener
from builder.model.units import Range


def torque_of(fastener: Fastener, bike: Bike) -> tuple[Range | None, str]:
    """The torque of `fastener` on `bike` [N·m] and the maker's source; the source is empty for the typical figure."""
    part = bike.part(fastener.role) if fastener.role is not None else None
    if part is not None and fastener.id in part.torques_nm:
        return part.torques_nm[fastener.id], part.torque_source or f"maker of {part.name}"
    return fastener.torque_nm, ""
