"""What is asked of a bike's own facts: by the gate for all bikes, and by itself for one that is told of later."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from builder.diagnostics.diagnostic import Diagnostic, ordered
from builder.model.bike import Bike
from builder.model.library import Library
from builder.proof.fleet import bikes_make_sense
from builder.proof.part_records import parts_make_sense
from builder.proof.standing import standing_diagnostics

OF_BIKES: tuple[Callable[[Library], tuple[Diagnostic, ...]], ...] = (bikes_make_sense, standing_diagnostics)


def gate_for_bike(bike: Bike, library: Library) -> tuple[Diagnostic, ...]:
    """What is wrong with a bike that was told of after the library went through the gate."""
    alone = replace(library, guides={}, parts={}, bikes={bike.id: bike})
    return ordered(diagnostic for one in (parts_make_sense, *OF_BIKES) for diagnostic in one(alone))
