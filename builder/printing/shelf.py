"""The shelf of pieces: what was laid out once, by what it was laid out from, for every card that shows it."""

from __future__ import annotations

import hashlib
import marshal
from collections import OrderedDict
from collections.abc import Iterable
from typing import Protocol

from builder.printing import piece as pieces
from builder.printing import typeface as typefaces
from builder.printing.block_document import BlockStyle
from builder.printing.piece import Piece
from builder.printing.typeface import Typeface

# So many stay in memory; a block has some 300 letters.
_MOST_IN_MEMORY = 256


class Keeper(Protocol):
    """Keeps bytes by key, from one process to the next; what it gives was put there by whoever runs this."""

    def get(self, key: str) -> bytes | None:
        """The bytes, or None."""

    def put(self, key: str, data: bytes) -> None:
        """Keep the bytes; where that is not possible, nothing happens."""


class Shelf:
    """Pieces and typefaces by key: the last of them in memory, all of them with a keeper where there is one.

    `setting` stands for all that decides how a block looks besides its own text: theme, pictures, the printing library.
    """

    def __init__(self, keeper: Keeper | None = None, setting: str = "") -> None:
        self._keeper, self._setting = keeper, setting
        self._pieces: OrderedDict[str, Piece] = OrderedDict()
        self._faces: dict[str, Typeface] = {}
        self._styles: dict[BlockStyle, bytes] = {}

    def key(self, style: BlockStyle, markup: str) -> str:
        """The key of a block in its style."""
        begun = self._styles.get(style)
        if begun is None:
            whole = "\n".join((self._setting, style.language, style.css))
            begun = self._styles[style] = hashlib.sha256(whole.encode()).digest()
        return hashlib.sha256(begun + markup.encode()).hexdigest()

    def piece(self, key: str) -> Piece | None:
        """The piece under `key`, with its faces; None where it, or one of them, is not there."""
        found = self._pieces.get(key)
        if found is not None:
            self._pieces.move_to_end(key)
            return found
        data = None if self._keeper is None else self._keeper.get(key)
        if data is None:
            return None
        found = pieces.unpacked(data)
        if any(self.known_face(name) is None for name in found.letters):
            return None
        self._remember(key, found)
        return found

    def holds(self, key: str) -> bool:
        """Whether a piece is on the shelf."""
        return key in self._pieces or (self._keeper is not None and self._keeper.get(key) is not None)

    def put_piece(self, key: str, piece: Piece) -> None:
        """Put a piece on the shelf; its faces are there."""
        self._remember(key, piece)
        if self._keeper is not None:
            self._keeper.put(key, pieces.packed(piece))

    def sides(self, key: str) -> list[Piece] | None:
        """The sides under `key`, with their faces; None where one of them is not there. They stay in no memory."""
        data = None if self._keeper is None else self._keeper.get(key)
        if data is None:
            return None
        found = [pieces.unpacked(one) for one in marshal.loads(data)]
        return found if all(self.known_face(name) for one in found for name in one.letters) else None

    def put_sides(self, key: str, sides: Iterable[Piece]) -> None:
        """Put the sides of an article on the shelf; their faces are there."""
        if self._keeper is not None:
            self._keeper.put(key, marshal.dumps([pieces.packed(one) for one in sides]))

    def face(self, name: str) -> Typeface:
        """The face of this name, which a piece on the shelf uses."""
        found = self.known_face(name)
        if found is None:
            raise KeyError(name)
        return found

    def put_face(self, name: str, face: Typeface) -> None:
        """Put a face on the shelf."""
        if name not in self._faces:
            self._faces[name] = face
            if self._keeper is not None:
                self._keeper.put(self._key_of_face(name), typefaces.packed(face))

    def notes(self, block: bytes) -> bytes:
        """What was noted of a block, by the digest of what stands in it; nothing where nothing was."""
        return (self._keeper and self._keeper.get(self._key_of_notes(block))) or b""

    def put_notes(self, block: bytes, notes: bytes) -> None:
        """Put notes of a block beside it."""
        if self._keeper is not None:
            self._keeper.put(self._key_of_notes(block), notes)

    def known_face(self, name: str) -> Typeface | None:
        """The face of this name; None where it is not on the shelf."""
        if name not in self._faces and self._keeper is not None:
            data = self._keeper.get(self._key_of_face(name))
            if data is not None:
                self._faces[name] = typefaces.unpacked(data)
        return self._faces.get(name)

    def _key_of_face(self, name: str) -> str:
        return hashlib.sha256(f"{self._setting}\nface {name}".encode()).hexdigest()

    def _key_of_notes(self, block: bytes) -> str:
        return hashlib.sha256(f"{self._setting}\nnotes {block.hex()}".encode()).hexdigest()

    def _remember(self, key: str, piece: Piece) -> None:
        self._pieces[key] = piece
        if len(self._pieces) > _MOST_IN_MEMORY:
            self._pieces.popitem(last=False)
