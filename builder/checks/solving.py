"""Root finding for the checks: the pure core has no numerical library, and the roots here are tame."""

from __future__ import annotations

from collections.abc import Callable

_MOST_HALVINGS = 200


def root_between(function: Callable[[float], float], low: float, high: float) -> float:
    """The place between `low` and `high` where `function` passes through zero, to the last bit.

    The interval is halved until no number is left inside it, so that it can neither miss nor run away.

    Raises:
        ValueError: the function has the same sign at both ends.
    """
    at_low, at_high = function(low), function(high)
    if at_low == 0:
        return low
    if at_high == 0:
        return high
    if (at_low < 0) == (at_high < 0):
        raise ValueError(f"no change of sign between {low:g} and {high:g}")
    for _ in range(_MOST_HALVINGS):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        value = function(middle)
        if value == 0:
            return middle
        if (value < 0) == (at_low < 0):
            low = middle
        else:
            high = middle
    return (low + high) / 2
