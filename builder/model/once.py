"""What one run makes of many things that are alike, made once: by all that it hangs on."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import TypeVar

Made = TypeVar("Made")


class Once:
    """Holds what was made for as long as itself is held: who runs long makes a new one for each run.

    A key may name a value by its number (`id`) where the value is given beside it, so that it is held as well. With
    `most`, all is forgotten when so much is held, and made anew.
    """

    def __init__(self, most: int | None = None) -> None:
        self._most = most
        self._made: dict[Hashable, tuple[object, object]] = {}

    def of(self, key: Hashable, make: Callable[[], Made], held: object = None) -> Made:
        """What `make` makes, or made before under `key`; `held` are the values that the key names by number."""
        kept = self._made.get(key)
        if kept is None:
            if self._most is not None and len(self._made) >= self._most:
                self._made.clear()
            kept = self._made[key] = (held, make())
        return kept[1]  # type: ignore[return-value]

    def forget(self, key: Hashable) -> None:
        """Hold no longer what was made under `key`."""
        self._made.pop(key, None)
