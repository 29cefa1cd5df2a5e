"""The gears of a bike, each with what it uses of the derailleur's take-up."""

from __future__ import annotations

from builder.checks.take_up import TakeUpCell, take_up_grid
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.parts import Cassette, Chain, Crankset, Frame, RearDerailleur
from builder.planning.worked_out import axle_growth_mm, circumference_mm


def gears_of(bike: Bike) -> tuple[TakeUpCell, ...]:
    """Every gear, largest ring and largest sprocket first; none where rings, sprockets or wheel are not known."""
    crankset, cassette = bike.part(Role.CRANKSET), bike.part(Role.CASSETTE)
    round_mm = circumference_mm(bike)
    if not isinstance(crankset, Crankset) or not isinstance(cassette, Cassette) or round_mm is None:
        return ()
    if not crankset.rings or not cassette.sprockets:
        return ()
    derailleur, frame, chain = bike.part(Role.REAR_DERAILLEUR), bike.part(Role.FRAME), bike.part(Role.CHAIN)
    stay = frame.chainstay_mm if isinstance(frame, Frame) else None
    growth = axle_growth_mm(bike)
    return take_up_grid(
        crankset.rings,
        cassette.sprockets,
        derailleur.capacity_teeth if isinstance(derailleur, RearDerailleur) else None,
        circumference_mm=round_mm.value,
        chainstay_mm=stay.value if stay is not None else None,
        growth_mm=growth.value if growth is not None else 0.0,
        # A chain that is bought longer is cut to length, so that only a chain that was measured on the bike counts.
        links=bike.measured.chain_links if isinstance(chain, Chain) else None,
    )
