"""A card before it is laid out, and how full it is by the heights that are reckoned of it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from builder.composing import Block, Frame
from builder.pages.card_block import CardBlock
from builder.pages.leaf import Leaf

_SECTION = re.compile(r'<section class="galley [^>]*>(.*?)</section>', re.DOTALL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A card that is not laid out: its blocks, its document with a section for each, and its leaf.

    `letter_width` says how wide its letters are against those of the shipped face.
    """

    blocks: Sequence[CardBlock]
    html: str
    leaf: Leaf
    letter_width: float = 1.0

    def sections(self) -> Iterator[tuple[CardBlock, str]]:
        """Each block with its markup."""
        return zip(self.blocks, (section[1] for section in _SECTION.finditer(self.html)), strict=True)


def filled_sides(blocks: Iterable[Block], frame: Frame) -> float:
    """How many sides blocks would take if columns could end anywhere."""
    used_mm = sum((block.height_mm + block.gap_mm) * (frame.columns if block.spans else 1) for block in blocks)
    return used_mm / (frame.height_mm * frame.columns)
