"""Whether a composed card breaks no rule of print, told from what is known of its blocks.

    facts of each block, its place, the texts in it ─► sound, or to be read letter by letter (`legibility.check_card`)

Which rules the texts of a block break hangs on the block and on these texts alone: that they break none is remembered,
and kept beside the block for whoever prints it next, since it takes as long to find out as all else of a card whose
blocks are there. Sound is told only of a card on which `check_card` finds nothing; of any other, and where that is not
known, no.
"""

from __future__ import annotations

import hashlib
from bisect import bisect_right
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate
from typing import Any, Protocol

from builder.composing import Place
from builder.diagnostics.diagnostic import Diagnostic
from builder.pages.sides import Composed
from builder.printing.legibility import (
    MARGIN_SLACK_PT,
    MOST_ACCENTS,
    CardTexts,
    Margins,
    cautions_with_steps,
    check_lines,
    check_sizes,
    told_apart,
)
from builder.printing.pdf_text import PT_PER_MM
from builder.printing.piece import Piece
from builder.printing.sheet import squeezed

# Of so many blocks it is remembered at a time; a block has some ten verdicts.
_MOST_BLOCKS = 5_000
_MARK_BYTES = 16


class Notes(Protocol):
    """Keeps what is known of a block, by its digest."""

    def notes(self, block: bytes) -> bytes:
        """What is kept of it; nothing where nothing is."""

    def put_notes(self, block: bytes, notes: bytes) -> None:
        """Keep it."""


class Verdicts:
    """Remembers which texts break no rule in which blocks, each by a mark of what was asked."""

    def __init__(self, notes: Notes | None = None) -> None:
        self._notes = notes
        self._sound: dict[bytes, set[bytes]] = {}
        self._grown: set[bytes] = set()

    def keep(self) -> None:
        """Keep what was found out since the last time."""
        for block in self._grown:
            if self._notes is not None:
                self._notes.put_notes(block, b"".join(sorted(self._sound[block])))
        self._grown.clear()
        if len(self._sound) > _MOST_BLOCKS:
            self._sound.clear()

    def is_sound(self, card: Composed, bands: Sequence[Piece], texts: CardTexts) -> bool:
        """Whether a card whose sides have these bands surely breaks no rule.

        Blocks are judged as they are laid out: printed larger, and read from as much farther, they are as legible. Of
        what is printed smaller nothing is told.
        """
        pieces: list[Piece] = [galley.page for galley in card.galleys]
        scale = card.leaf.scale
        if scale > 1.0:
            texts = texts.read_from(texts.distance_mm / scale)
        return (
            scale >= 1.0
            and all(piece.facts.is_sound for piece in (*pieces, *bands))
            and _stand_within(card, pieces, bands, texts.margins)
            and len(told_apart(dict.fromkeys(one for piece in (*pieces, *bands) for one in piece.facts.colours)))
            <= MOST_ACCENTS
            and all(squeezed(mark) in band.facts.written for mark in texts.marks for band in bands)
            and self._texts_are_sound(pieces, card.places, texts)
        )

    def _texts_are_sound(self, pieces: Sequence[Piece], places: Sequence[Place], texts: CardTexts) -> bool:
        where = _Places(pieces)
        if any(where.count(torque) < 2 for torque in dict.fromkeys(texts.torques)):
            return False
        face = replace(texts, steps=(), headings=(), cautions=(), guarded=(), torques=(), marks=())
        for kind in ("steps", "headings", "cautions"):
            for text in dict.fromkeys(getattr(texts, kind)):
                if not any(self._is_large(pieces[number], kind, text, face) for number in where.blocks(text)):
                    return False
        here: dict[int, dict[str, None]] = {}
        for text in dict.fromkeys((*texts.steps, *texts.cautions)):
            for number in where.blocks(text):
                here.setdefault(number, {})[text] = None
        if not all(self._has_good_lines(pieces[number], tuple(found)) for number, found in here.items()):
            return False
        return all(
            any(
                self._goes_before(pieces[step], caution, deed)
                if step == ahead
                else ahead < step and places[ahead].side == places[step].side
                for step in where.blocks(deed)
                for ahead in where.blocks(caution)
            )
            for caution, deed in dict.fromkeys(texts.guarded)
        )

    def _is_large(self, piece: Piece, kind: str, text: str, face: CardTexts) -> bool:
        def check() -> bool:
            wanted: dict[str, Any] = {kind: (text,)}
            return _is_silent(check_sizes((piece.sheet,), replace(face, **wanted)))

        return self._known_or(piece, ("size", kind, text, face), check)

    def _has_good_lines(self, piece: Piece, texts: tuple[str, ...]) -> bool:
        def check() -> bool:
            return _is_silent(check_lines((piece.sheet,), CardTexts(steps=texts)))

        return self._known_or(piece, ("lines", texts), check)

    def _goes_before(self, piece: Piece, caution: str, step: str) -> bool:
        def check() -> bool:
            return _is_silent(cautions_with_steps(((caution, step),), (piece.sheet,)))

        return self._known_or(piece, ("before", caution, step), check)

    def _known_or(self, piece: Piece, asked: Hashable, check: Callable[[], bool]) -> bool:
        block = piece.facts.digest
        known = self._sound.get(block)
        if known is None:
            kept = b"" if self._notes is None else self._notes.notes(block)
            known = self._sound[block] = {
                kept[start : start + _MARK_BYTES] for start in range(0, len(kept), _MARK_BYTES)
            }
        mark = hashlib.blake2b(repr(asked).encode(), digest_size=_MARK_BYTES).digest()
        if mark in known:
            return True
        if not check():
            return False
        known.add(mark)
        self._grown.add(block)
        return True


def _is_silent(found: Iterable[Diagnostic]) -> bool:
    return next(iter(found), None) is None


class _Places:
    """In which blocks each text of a card stands."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self._written = "\n".join(piece.facts.written for piece in pieces)
        self._starts = [0, *accumulate(len(piece.facts.written) + 1 for piece in pieces)]
        self._found: dict[str, tuple[int, ...]] = {}

    def blocks(self, text: str) -> tuple[int, ...]:
        """The numbers of the blocks that a text stands in, whole."""
        if text not in self._found:
            self._found[text] = tuple(dict.fromkeys(bisect_right(self._starts, at) - 1 for at in self._each(text)))
        return self._found[text]

    def count(self, text: str) -> int:
        """How often a text stands on the card."""
        return sum(1 for _ in self._each(text))

    def _each(self, text: str) -> Iterator[int]:
        wanted = squeezed(text)
        at = self._written.find(wanted) if wanted else -1
        while at >= 0:
            yield at
            at = self._written.find(wanted, at + len(wanted))


def _stand_within(card: Composed, pieces: Sequence[Piece], bands: Sequence[Piece], margins: Margins) -> bool:
    """Whether all letters keep out of the margins."""
    leaf = card.leaf
    scale = leaf.scale
    wide, high = leaf.width_mm * scale * PT_PER_MM, leaf.height_mm * scale * PT_PER_MM
    placed = [
        (piece, place.side + 1, leaf.left_mm(place) * PT_PER_MM, (leaf.top_mm + place.top_mm) * PT_PER_MM)
        for piece, place in zip(pieces, card.places, strict=True)
    ]
    placed += [(band, side, 0.0, 0.0) for side, band in enumerate(bands, 1)]
    for piece, side, x, y in placed:
        facts = piece.facts
        if not facts.written:
            continue
        left, top, right, bottom = margins.room_pt(side, wide, high)
        over = max(
            left - scale * (facts.left_pt + x),
            scale * (facts.right_pt + x) - right,
            top - scale * (facts.top_pt + y),
            scale * (facts.bottom_pt + y) - bottom,
        )
        if over > MARGIN_SLACK_PT - 0.01:
            return False
    return True
