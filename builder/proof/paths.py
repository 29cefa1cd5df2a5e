"""Count the distinct paths through a guide, and say which steps some bike reaches."""

from __future__ import annotations

from builder.model.condition import Condition
from builder.proof.known import NOTHING, Asked, Known
from builder.proof.track import Track, Transition, transitions


def is_reached(track: Track, index: int) -> bool:
    """Whether some configuration does step `index`."""
    return track.space.meets(track.ready(track.steps[index].conditions))


def distinct_paths(track: Track) -> int:
    """How many different sequences of steps there are over all configurations.

    A sequence is told by which of the guide's conditions hold. They are taken in an order in which attributes are soon
    done with; configurations for which the same of them hold go on as one group.
    """
    waiting = list(dict.fromkeys(item.conditions for item in track.steps if item.conditions))
    order: list[tuple[Condition, ...]] = []
    seen: set[str] = set()
    while waiting:
        following = min(waiting, key=lambda one: (len(set(track.asked_by(one)) - seen), len(track.asked_by(one))))
        waiting.remove(following)
        order.append(following)
        seen |= set(track.asked_by(following))
    asked = [track.ready(conditions) for conditions in order]
    later: list[tuple[Asked, ...]] = [()]
    for conditions in reversed(asked):
        later.insert(0, tuple(dict.fromkeys((*conditions, *later[0]))))
    groups: dict[frozenset[Known], int] = {frozenset({NOTHING}): 1}
    for place, conditions in enumerate(asked):
        split: dict[Known, tuple[Transition, ...]] = {}
        following_groups: dict[frozenset[Known], int] = {}
        for group, count in groups.items():
            done: set[Known] = set()
            left: set[Known] = set()
            for one in group:
                if one not in split:
                    split[one] = tuple(transitions(track, conditions, {}, one, later[place + 1]))
                for move in split[one]:
                    (done if move.done else left).add(move.known)
            for side in (done, left):
                if side:
                    key = frozenset(side)
                    following_groups[key] = following_groups.get(key, 0) + count
        groups = following_groups
    return sum(groups.values())
