"""Search for the cheapest sets of parts that make the lowest gear of a bike so much easier, with what each forces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from builder.checks.gear_range import GearSet, gear_set
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.library import Library
from builder.model.parts import Cassette, Crankset, Part, folder_of, roles_of
from builder.planning.plan import Plan
from builder.planning.planner import plan_job
from builder.planning.search import cost_eur
from builder.planning.worked_out import part_as

_MOST_SETS = 5
_PLACES: tuple[tuple[Role, ...], ...] = (
    (Role.CASSETTE,),
    (Role.CRANKSET,),
    (Role.CASSETTE, Role.CRANKSET),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lowering:
    """One set of parts: its plan, what it costs, and what it does to the gears.

    `easier_percent` is how much easier the lowest gear becomes, `top_percent` how much the highest gear changes;
    `price_eur` is None where a part has no price.
    """

    plan: Plan
    price_eur: float | None
    easier_percent: float
    top_percent: float
    range_before_percent: float
    range_after_percent: float


def lowerings(bike: Bike, by_percent: float, library: Library) -> tuple[Lowering, ...]:
    """The cheapest sets of known parts that make the lowest gear at least `by_percent` easier, the cheapest first.

    A set is cassette, crankset or both, with all that they force. Of sets with the same wanted parts there is one.

    Raises:
        LookupError: the chainrings or sprockets of the bike are not known; the message says which.
    """
    now = _gears(bike)
    if now is None:
        raise LookupError("the teeth of its chainrings and of its sprockets must be known: 'rings' and 'sprockets'")
    found = [
        lowering
        for wanted in _sets(bike, library)
        if _easier(bike, now, wanted) >= by_percent
        for lowering in (_lowering(bike, now, wanted, library),)
        if lowering is not None
    ]
    told: list[Lowering] = []
    for lowering in sorted(found, key=_cost):
        if not any(_does_as_much(earlier, lowering) for earlier in told):
            told.append(lowering)
    return tuple(told[:_MOST_SETS])


def _does_as_much(cheaper: Lowering, other: Lowering) -> bool:
    """Whether the cheaper set does as much without one of the other's wanted parts, or with another of its kind."""
    within = cheaper.plan.wanted.keys() <= other.plan.wanted.keys()
    return within and cheaper.easier_percent >= other.easier_percent - 1e-9 and cheaper.top_percent >= other.top_percent


def _cost(one: Lowering) -> tuple[float, int, float]:
    pieces = one.plan.pieces
    return cost_eur(pieces), len(pieces), -one.easier_percent


def _sets(bike: Bike, library: Library) -> Iterator[Mapping[Role, Part]]:
    """Every set of other parts that changes the lowest gear."""
    for places in _PLACES:
        choices = [
            tuple(
                part for part in library.parts.values() if role in roles_of(folder_of(part)) and part != bike.part(role)
            )
            for role in places
        ]
        for parts in product(*choices):
            yield dict(zip(places, parts, strict=True))


def _gears(bike: Bike, wanted: Mapping[Role, Part] | None = None) -> GearSet | None:
    parts = {**bike.parts, **(wanted or {})}
    cassette, crankset = parts.get(Role.CASSETTE), parts.get(Role.CRANKSET)
    if not isinstance(cassette, Cassette) or not isinstance(crankset, Crankset):
        return None
    if not cassette.sprockets or not crankset.rings:
        return None
    return gear_set(crankset.rings, cassette.sprockets)


def _easier(bike: Bike, now: GearSet, wanted: Mapping[Role, Part]) -> float:
    then = _gears(bike, wanted)
    return 0.0 if then is None else round(100 * (1 - then.lowest / now.lowest), 9)


def _lowering(bike: Bike, now: GearSet, wanted: Mapping[Role, Part], library: Library) -> Lowering | None:
    """The set with all that it forces; None where nothing known makes it fit, or where it can't be judged."""
    if not _of_one_kind(bike, wanted):
        return None
    plan = plan_job(bike, wanted, library)
    then = _gears(plan.after)
    if plan.trouble or plan.not_judged or then is None:
        return None
    prices = [part.price_eur for part in plan.pieces]
    return Lowering(
        plan=plan,
        price_eur=None if None in prices else sum(one for one in prices if one is not None),
        easier_percent=100 * (1 - then.lowest / now.lowest),
        top_percent=100 * (then.highest / now.highest - 1),
        range_before_percent=now.range_percent,
        range_after_percent=then.range_percent,
    )


def _of_one_kind(bike: Bike, wanted: Mapping[Role, Part]) -> bool:
    """Whether the sprockets' mount and count can be those of this bike, so that a search is worth while."""
    old, new = part_as(bike, Role.CASSETTE, Cassette), wanted.get(Role.CASSETTE)
    if old is None or not isinstance(new, Cassette):
        return True
    return old.mount is None or new.mount is None or old.mount == new.mount
