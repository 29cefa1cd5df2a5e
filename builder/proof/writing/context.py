"""What a rule may look at besides its subject: the library and the words that are known for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from builder.model.library import Library
from builder.proof.writing.lexicon import Lexicon, lexicon
from builder.proof.writing.prose import sentences


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """The library, its words, the words for unknown values, and the sentences of the cautions, each with its id."""

    library: Library
    lexicon: Lexicon
    unknown: Mapping[str, str]
    caution_sentences: tuple[tuple[str, str], ...]


def context_of(library: Library) -> Context:
    """The context in which the texts of `library` are judged."""
    unknown = {name: text.unknown for name, text in library.named_texts.items()}
    cautions = tuple(
        (name, sentence.text)
        for name, caution in library.cautions.items()
        for sentence in (*sentences(caution.text), *sentences(caution.short))
    )
    return Context(library=library, lexicon=lexicon(library), unknown=unknown, caution_sentences=cautions)
