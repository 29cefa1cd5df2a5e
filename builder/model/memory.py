"""What a process made before, so that who runs it for long, as a preview does, makes again only what changed."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import TypeVar

Made = TypeVar("Made")


class Memory:
    """Results of functions from values to values, by what they were given.

    Records are known again by being the same object, which costs nothing to compare; a record that is read again from
    the same lines is the same object, since the reading remembers too. What nobody asked for since the last `turn` is
    forgotten.
    """

    def __init__(self) -> None:
        self._now: dict[Hashable, tuple[tuple[object, ...], object]] = {}
        self._before: dict[Hashable, tuple[tuple[object, ...], object]] = {}
        self.made: list[str] = []

    def of(self, what: str, values: Hashable, records: tuple[object, ...], make: Callable[[], Made]) -> Made:
        """What `make` makes, or made before from equal `values` and the very same `records`."""
        key = (what, values, *map(id, records))
        # The records are held beside the result, so that their numbers are not given to others.
        kept = self._now.get(key) or self._before.get(key)
        if kept is None:
            self.made.append(what)
            kept = (records, make())
        self._now[key] = kept
        return kept[1]  # type: ignore[return-value]

    def same(self, name: Hashable, made: Made) -> Made:
        """What was made under this name before, where it equals what is made now; so it is the very same object."""
        key = ("same", name)
        kept = self._now.get(key) or self._before.get(key)
        if kept is None or kept[1] != made:
            kept = ((), made)
        self._now[key] = kept
        return kept[1]  # type: ignore[return-value]

    def turn(self) -> None:
        """Forget what was not asked for since the last turn."""
        self._before, self._now, self.made = self._now, {}, []
