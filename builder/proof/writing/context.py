"""What a rule may look at besides its subject: the library and the words that are known for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.model.library import Library
from builder.proof.writing.lexicon import Lexicon, lexicon


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """The library, its words, and the words that stand for each value where it is not known."""

    library: Library
    lexicon: Lexicon
    unknown: Mapping[str, str]


def context_of(library: Library) -> Context:
    """The context in which the texts of `library` are judged."""
    unknown = {name: text.unknown for name, text in library.named_texts.items()}
    return Context(library=library, lexicon=lexicon(library), unknown=unknown)
