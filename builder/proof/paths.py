"""Count the distinct paths through a guide, and say which steps some bike reaches."""

from __future__ import annotations

from builder.model.condition import Condition
from builder.model.deciding import decided
from builder.proof.configurations import Cases
from builder.proof.course import Course, Move, moves


def is_reached(track: Course, index: int) -> bool:
    """Whether some configuration does step `index`."""
    conditions = track.steps[index].conditions
    return any(
        all(decided(condition, cases) is True for condition in conditions)
        for cases in track.settled({}, conditions, all_of=False)
    )


def distinct_paths(track: Course) -> int:
    """How many different sequences of steps there are over all configurations.

    A sequence is told by which of the guide's conditions hold. They are taken in an order in which attributes are soon
    done with; configurations for which the same of them hold go on as one group.
    """
    waiting = list(dict.fromkeys(item.conditions for item in track.steps if item.conditions))
    order: list[tuple[Condition, ...]] = []
    known: set[str] = set()
    while waiting:
        following = min(waiting, key=lambda one: (len(set(track.asked_by(one)) - known), len(track.asked_by(one))))
        waiting.remove(following)
        order.append(following)
        known |= set(track.asked_by(following))
    later: list[tuple[Condition, ...]] = [()]
    for conditions in reversed(order):
        later.insert(0, tuple(dict.fromkeys((*conditions, *later[0]))))
    groups: dict[frozenset[Cases], int] = {frozenset({()}): 1}
    for place, conditions in enumerate(order):
        split: dict[Cases, tuple[Move, ...]] = {}
        following_groups: dict[frozenset[Cases], int] = {}
        for group, count in groups.items():
            done: set[Cases] = set()
            left: set[Cases] = set()
            for cases in group:
                if cases not in split:
                    split[cases] = tuple(moves(track, conditions, {}, dict(cases), later[place + 1]))
                for move in split[cases]:
                    (done if move.done else left).add(move.known)
            for side in (done, left):
                if side:
                    key = frozenset(side)
                    following_groups[key] = following_groups.get(key, 0) + count
        groups = following_groups
    return sum(groups.values())
