"""Whether the readings of a wear book can follow each other: days and distances rise, and no part grows whole again."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.bike import Bike, Wearing, WearReading
from builder.model.units import Unit, write_quantity

# Two readings of the same thing may differ by so much; more than that, and something new was fitted. Common practice.
_CHAIN_NOISE_PERCENT = 0.1
_THICKNESS_NOISE_MM = 0.15


def check_wear_book(bike: Bike) -> Iterator[Diagnostic]:
    """Every entry of the wear book that can't follow those above it."""
    for earlier, later in pairwise(bike.wear):
        if later.date <= earlier.date:
            yield Diagnostic(
                rule="order",
                message=f"the entry of {later.date} stands below that of {earlier.date}",
                at=later.places.of("date"),
                hints=("write the wear book in the order of its days, one entry a day",),
            )
    yield from _distances(bike.wear)
    for wearing in Wearing:
        yield from _whole_again(bike.wear, wearing)


def _distances(entries: tuple[WearReading, ...]) -> Iterator[Diagnostic]:
    known = [(entry, entry.distance_km) for entry in entries if entry.distance_km is not None]
    for (_, before), (entry, distance) in pairwise(known):
        if distance < before:
            yield Diagnostic(
                rule="order",
                message=f"{write_quantity(distance, Unit.KILOMETRE, 0)} is less than the distance of the entry above, "
                f"{write_quantity(before, Unit.KILOMETRE, 0)}",
                at=entry.places.of("distance"),
                hints=("count the distance from when the bike was new, also over a new odometer",),
            )


def _whole_again(entries: tuple[WearReading, ...], wearing: Wearing) -> Iterator[Diagnostic]:
    """A part that lost its wear without being new."""
    chain = wearing is Wearing.CHAIN
    unit, noise = (Unit.PERCENT, _CHAIN_NOISE_PERCENT) if chain else (Unit.MILLIMETRE, _THICKNESS_NOISE_MM)
    key = {Wearing.CHAIN: "chain-wear"}.get(wearing, wearing.value)
    last: float | None = None
    for entry in entries:
        if wearing in entry.renewed:
            last = None
        measure = entry.of(wearing)
        if measure is None:
            continue
        value = measure.value
        if last is not None and (last - value if chain else value - last) > noise:
            yield Diagnostic(
                rule="wear",
                message=f"{key} goes back from {write_quantity(last, unit, 2)} to {write_quantity(value, unit, 2)}",
                at=entry.places.of(key),
                hints=(f"add 'renewed: [{wearing.value}]' to this entry if a new one was fitted; else measure again",),
            )
        last = value
