"""What a process made before, so that who runs it for long, as a preview does, makes again only what changed."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

from builder.model.once import Once
from builder.model.position import Places, Position

Made = TypeVar("Made")
Entry = tuple[str, Hashable, tuple[object, ...], object]


class Standing:
    """Stands for many records, by being itself."""


class Memory:
    """Results of functions from values to values, by what they were given.

    Records are known again by being the same object, which costs nothing to compare; a record that is read again from
    the same lines is the same object, since the reading remembers too. What nobody asked for since the last `turn` is
    forgotten.
    """

    def __init__(self, *, lasting: bool = True) -> None:
        """Who makes everything once, and is gone then, needs no memory that lasts: what was made is not held."""
        self._lasting = lasting
        self._now: dict[tuple[Any, ...], tuple[tuple[object, ...], object]] = {}
        self._before: dict[tuple[Any, ...], tuple[tuple[object, ...], object]] = {}
        self.made: list[str] = []
        # What is made of things that are alike, until the next turn.
        self.once = Once()

    @property
    def is_lasting(self) -> bool:
        """Whether what was made is held."""
        return self._lasting

    def of(self, what: str, values: Hashable, records: tuple[object, ...], make: Callable[[], Made]) -> Made:
        """What `make` makes, or made before from equal `values` and the very same `records`."""
        key = (what, values, *map(id, records))
        # The records are held beside the result, so that their numbers are not given to others.
        kept = self._now.get(key) or self._before.get(key)
        if kept is None:
            self.made.append(what)
            if not self._lasting:
                return make()
            kept = (records, make())
        self._now[key] = kept
        return kept[1]  # type: ignore[return-value]

    def standing_for(self, records: tuple[object, ...]) -> object:
        """An object that stands for all of `records` in a key: the same as long as they are the very same."""
        return self.of("standing for", (), records, Standing)

    def same(self, name: Hashable, made: Made) -> Made:
        """What was made under this name before, where it equals what is made now; so it is the very same object.

        What stands at other lines now is another, since whoever tells of it names the line.
        """
        key = ("same", name)
        kept = self._now.get(key) or self._before.get(key)
        if kept is None or kept[1] != made or not _at_the_same_places(kept[1], made):
            kept = ((), made)
        self._now[key] = kept
        return kept[1]  # type: ignore[return-value]

    def entries(self) -> Iterator[Entry]:
        """What was made or asked for since the last turn: what it is, from which values and records, and the result."""
        for key, (records, made) in self._now.items():
            what, values = key[:2]
            yield what, values, records, made

    def recall(self, entries: Iterable[Entry]) -> None:
        """Take in what a memory of another process held; its records are those of `entries` from now on."""
        for what, values, records, made in entries:
            self._now[what, values, *map(id, records)] = (records, made)

    def turn(self) -> None:
        """Forget what was not asked for since the last turn."""
        self._before, self._now, self.made, self.once = self._now, {}, [], Once()


def _at_the_same_places(one: object, other: object) -> bool:
    """Whether two equal records, and all records in them, stand at the same lines."""
    if one is other:
        return True
    pairs: Iterable[tuple[object, object]]
    match one, other:
        case (Places(), Places()) | (Position(), Position()):
            return one == other
        case Mapping(), Mapping():
            pairs = zip(one.values(), other.values(), strict=True)
        case tuple(), tuple():
            pairs = zip(one, other, strict=True)
        case _ if is_dataclass(one):
            names = [field.name for field in fields(one)]
            pairs = ((getattr(one, name), getattr(other, name)) for name in names)
        case _:
            return True
    return all(_at_the_same_places(left, right) for left, right in pairs)
