"""The sides of articles that were laid out apart, one after another: their numbers, and what is told of them.

the sides of each article ─► the sides of the file ─► overflows and findings, each with the number of its side
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from builder.diagnostics.diagnostic import Diagnostic
from builder.printing.article_document import ArticleDocument
from builder.printing.legibility import SAFETY_PT, CardTexts, check_card, text_sizes
from builder.printing.overflow import Overflow
from builder.printing.piece import Piece, blank_side
from builder.printing.sheet import places_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """The sides of a file, blank backs among them, and on which of them, from 0, each article stands."""

    sides: tuple[Piece, ...]
    where: tuple[range, ...]

    @property
    def overflows(self) -> Iterator[Overflow]:
        """What sticks out of the sides."""
        for number, side in enumerate(self.sides, 1):
            yield from (replace(one, side=number) for one in side.overflows)


def stacked(document: ArticleDocument, laid: Iterable[Sequence[Piece]]) -> Stack:
    """Put the sides of each article behind those of the one before; the back of a leaf that is not printed is blank."""
    sides: list[Piece] = []
    where = []
    for own in laid:
        if document.on_leaves and len(sides) % 2:
            sides.append(blank_side(sides[-1]))
        where.append(range(len(sides), len(sides) + len(own)))
        sides += own
    return Stack(sides=tuple(sides), where=tuple(where))


def stack_findings(stack: Stack, texts: CardTexts) -> Iterator[Diagnostic]:
    """What breaks a rule of print. A safety message must stand on one article, and be large wherever it stands."""
    lacking = dict.fromkeys(texts.cautions)
    for numbers in stack.where:
        # The letters of one article at a time: those of a whole fleet take more memory than all else.
        sheets = tuple(replace(stack.sides[number].sheet, number=number + 1) for number in numbers)
        here = tuple(text for text in texts.cautions if next(places_of(text, sheets), None) is not None)
        for text in here:
            lacking.pop(text, None)
        yield from check_card(sheets, replace(texts, cautions=here))
    yield from text_sizes("L06", lacking, SAFETY_PT, (), "a safety message")
