"""No chains of helping verbs: "should be set", "has been moved", "can be removed".

The imperative, the simple present, the simple past and the simple future say all that a card needs.

Passes:
    The clutch holds the cage.
    The chain must have 112 links.
    The bolt will turn.
Fails:
    The cage can be moved with one hand.
    The pads have been pushed apart.
    The pedals have tightened the freewheel.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing import english
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage
from builder.proof.writing.rule import Finding, quoted, ste
from builder.proof.writing.tagging import Tag, Tagged

ID = "W11"
GRAVITY = Gravity.ERROR
SOURCE = ste("rules 3.2 and 3.4")
LIMIT = "one verb form at a time: imperative, simple present, past or future"
KINDS = ON_CARD


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every chain of helping verbs."""
    del context
    for sentence in text.sentences:
        for start, end in _chains(sentence):
            chain = " ".join(token.text for token in sentence.tokens[start : end + 1])
            yield Finding(
                found=f"a chain of helping verbs, “{chain}”: {quoted(sentence.sentence.text)}",
                repair="use one verb: “you can move the cage”, “the pads came apart”",
            )


def _chains(sentence: Tagged) -> Iterator[tuple[int, int]]:
    for start, tag in enumerate(sentence.tags):
        if tag is Tag.MODAL:
            be = _next(sentence, start)
            if be is not None and sentence.lower[be] in ("be", "have"):
                end = _next(sentence, be)
                if end is not None and (
                    sentence.tags[end] in (Tag.PARTICIPLE, Tag.ING) or sentence.lower[end] == "been"
                ):
                    yield start, end
        elif tag is Tag.HAVE and not (start and sentence.tags[start - 1] is Tag.MODAL):
            end = _next(sentence, start)
            if end is None:
                continue
            if sentence.lower[end] == "been" or (sentence.tags[end] is Tag.PARTICIPLE and _verb_like(sentence, end)):
                yield start, end
        elif tag is Tag.BE and start + 1 < len(sentence.lower) and sentence.lower[start + 1] == "being":
            yield start, start + 1


def _next(sentence: Tagged, place: int) -> int | None:
    """The next word that is no adverb."""
    for further in range(place + 1, len(sentence.tags)):
        if sentence.tags[further] is not Tag.ADVERB and sentence.lower[further] != "not":
            return further
    return None


def _verb_like(sentence: Tagged, place: int) -> bool:
    """Whether a participle after "have" is a verb ("have moved the lever") and not what a noun is like."""
    after = sentence.lower[place + 1] if place + 1 < len(sentence.lower) else ""
    tag = sentence.tags[place + 1] if place + 1 < len(sentence.tags) else Tag.MARK
    return tag not in (Tag.NOUN, Tag.ADJECTIVE) or after in english.ARTICLES
