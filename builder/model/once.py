"""What one run makes of many things that are alike, made once: by all that it hangs on."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import TypeVar

Made = TypeVar("Made")


class Once:
    """Holds what was made for as long as itself is held: who runs long makes a new one for each run.

    A key may name a value by its number (`id`) where the value is given beside it, so that it is held as well.
    """

    def __init__(self) -> None:
        self._made: dict[Hashable, tuple[object, object]] = {}

    def of(self, key: Hashable, make: Callable[[], Made], held: object = None) -> Made:
        """What `make` makes, or made before under `key`; `held` are the values that the key names by number."""
        kept = self._made.get(key)
        if kept is None:
            kept = self._made[key] = (held, make())
        return kept[1]  # type: ignore[return-value]
