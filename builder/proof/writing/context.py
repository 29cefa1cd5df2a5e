"""What a rule may look at besides its subject: the library and the words that are known for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields

from builder.model.library import Library
from builder.proof.writing.lexicon import Lexicon, lexicon
from builder.proof.writing.prose import sentences
from builder.proof.writing.tagging import Tagged, tagged


@dataclass(frozen=True, slots=True)
class CautionSentence:
    """A sentence of a caution, named by its id, and its words, which tell most other sentences from it at a glance."""

    caution: str
    text: str
    words: frozenset[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """The library, its words, the words for unknown values, and the sentences of the cautions."""

    library: Library
    lexicon: Lexicon
    unknown: Mapping[str, str]
    caution_sentences: tuple[CautionSentence, ...]
    # A step of a procedure stands in many guides: its sentences are read once.
    _read: dict[tuple[str, bool], tuple[Tagged, ...]] = field(default_factory=dict, compare=False, repr=False)

    def tagged(self, text: str, *, instruction: bool) -> tuple[Tagged, ...]:
        """The sentences of a text with the tags of their words."""
        key = (text, instruction)
        if key not in self._read:
            self._read[key] = tuple(tagged(part, self.lexicon, instruction=instruction) for part in sentences(text))
        return self._read[key]


def words_of(context: Context) -> tuple[object, ...]:
    """Everything that a text is judged by but for the records themselves, in an order of its own."""
    lexicon = (getattr(context.lexicon, one.name) for one in fields(context.lexicon))
    sorted_ = (sorted(one.items()) if isinstance(one, Mapping) else one for one in lexicon)
    return (*sorted_, sorted(context.unknown.items()), context.caution_sentences)


def words_in(sentence: str) -> frozenset[str]:
    """The words of a sentence in small letters, each once."""
    return frozenset(sentence.lower().split())


def context_of(library: Library) -> Context:
    """The context in which the texts of `library` are judged."""
    unknown = {name: text.unknown for name, text in library.named_texts.items()}
    cautions = tuple(
        CautionSentence(name, sentence.text, words_in(sentence.text))
        for name, caution in library.cautions.items()
        for sentence in (*sentences(caution.text), *sentences(caution.short))
    )
    return Context(library=library, lexicon=lexicon(library), unknown=unknown, caution_sentences=cautions)
