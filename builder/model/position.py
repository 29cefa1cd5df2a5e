"""Where in a source file something stands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Position:
    """A place in a source file: its path as shown to the user, line and column from 1."""

    file: str
    line: int
    column: int
    length: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


NOWHERE = Position("", 0, 0)


@dataclass(frozen=True, slots=True)
class Places:
    """The place of a record and of each value in it, by YAML key; items of a list under `key.0`, `key.1`, ..."""

    at: Position = NOWHERE
    keys: tuple[tuple[str, Position], ...] = ()

    def of(self, key: str) -> Position:
        """The place of the value at `key`; where the key is not written, the place of the record."""
        for name, position in self.keys:
            if name == key:
                return position
        return self.at
