"""Pictures beside the words of the guides: each drawing once, at the word that it is about."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.drawings.drawing_kind import DrawingError, DrawingKind
from builder.drawings.registry import DRAWING_KINDS
from builder.model.catalogue import Term
from builder.pages.figures import FigureView, view_of


@dataclass(frozen=True, slots=True, kw_only=True)
class WordPicture:
    """What is drawn for a word: a figure, or the word with the figure on which this one is seen too."""

    figure: FigureView | None = None
    at: Term | None = None


def word_pictures(glossary: Mapping[str, Term]) -> dict[str, WordPicture]:
    """The pictures by the id of the word. A drawing that only the numbers of a bike can make stands beside none."""
    shown: dict[str, WordPicture] = {}
    seen_at: dict[str, Term] = {}
    for kind in DRAWING_KINDS.values():
        words = [glossary[thing] for thing in kind.things if thing in glossary]
        new = next((word for word in words if word.id not in shown), None)
        if new is None or (figure := _figure(kind)) is None:
            continue
        shown[new.id] = WordPicture(figure=figure)
        for word in words:
            seen_at.setdefault(word.id, new)
    return {key: WordPicture(at=at) for key, at in seen_at.items()} | shown


def _figure(kind: DrawingKind) -> FigureView | None:
    """The drawing as it is where no bike says otherwise."""
    try:
        drawing = kind.draw(
            {parameter.name: parameter.usual for parameter in kind.parameters if parameter.usual is not None}
        )
    except DrawingError:
        return None
    return view_of(drawing, f"word-{kind.name}")
