"""Find the fewest and then the cheapest changes after which every check passes.

A best-first search over sets of changes, ordered by their number and then their price. From a set that fails it
branches on the first failing question only, over every place that could cure it and every part on the shelf for that
place: some change in any sound set must cure that question, so that no sound set is missed, and the first sound set
that is taken from the queue is the best one.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import count

from builder.model.facts import Role
from builder.model.parts import Part
from builder.planning.asking import Answered

Parts = Mapping[Role, Part]
# Beyond this many changes a job is another job; it also bounds the search.
MOST_CHANGES = 5
# A part without a price is taken after every part with one.
_UNPRICED = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The best set of changes, and what still fails with it (nothing where it is sound)."""

    changes: Parts
    failing: tuple[Answered, ...]


def cost_eur(parts: Iterable[Part]) -> float:
    """What the parts cost together [€]; one without a price counts as dearer than all with one."""
    return sum(_UNPRICED if part.price_eur is None else part.price_eur for part in parts)


def price(parts: Parts) -> float:
    """What the parts in their places cost together [€]."""
    return cost_eur(parts.values())


def cheapest_cure(
    failing: Callable[[Parts], tuple[Answered, ...]],
    shelf: Callable[[Role], tuple[Part, ...]],
    fixed: frozenset[Role],
) -> Found:
    """The changes to make, besides the parts in `fixed` places, that leave nothing failing.

    Args:
        failing: what fails on the bike with these changes made.
        shelf: the parts in stock for a place.
        fixed: places whose part was asked for and is not searched for.

    Where no set is sound, the set with the least still failing is given, so that its trouble can be told.
    """
    order = count()
    queue: list[tuple[int, float, int, dict[Role, Part]]] = [(0, 0.0, next(order), {})]
    seen: set[frozenset[tuple[Role, str]]] = set()
    best: Found | None = None
    while queue:
        changed, _, _, changes = heapq.heappop(queue)
        key = frozenset((role, part.id) for role, part in changes.items())
        if key in seen:
            continue
        seen.add(key)
        left = failing(changes)
        if not left:
            return Found(changes=changes, failing=())
        if best is None or len(left) < len(best.failing):
            best = Found(changes=changes, failing=left)
        if changed == MOST_CHANGES:
            continue
        taken = fixed | changes.keys()
        if any(all(role in taken or not shelf(role) for role in answered.cures) for answered in left):
            continue  # something fails that no further change could cure
        for role, part in _cures(left, shelf, taken):
            wider = {**changes, role: part}
            heapq.heappush(queue, (changed + 1, price(wider), next(order), wider))
    assert best is not None
    return best


def _cures(
    left: tuple[Answered, ...], shelf: Callable[[Role], tuple[Part, ...]], taken: frozenset[Role]
) -> list[tuple[Role, Part]]:
    """Every change that could cure the first failing question that anything can cure."""
    for answered in left:
        found = [(role, part) for role in answered.cures if role not in taken for part in shelf(role)]
        if found:
            return found
    return []
