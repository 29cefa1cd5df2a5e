"""A sentence that tells the reader to act has at most 20 words.

A number, a unit, an identifier, a hyphenated word and all that stands in parentheses count as one word each.
A value `{{ name }}` counts as one word, and is counted again with the words that stand for it where it is not known.

Passes:
    Turn the high-limit screw until the guide pulley is straight below the smallest sprocket.
    Tighten the lockring to {{ torque }} with the torque wrench (10 to 60 N·m, drive of half an inch).
Fails:
    Turn the high-limit screw with a small screwdriver in short turns to the right until the guide pulley of the rear
    derailleur stands straight below the smallest sprocket.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage, TextKind, with_unknown_words
from builder.proof.writing.prose import word_count
from builder.proof.writing.rule import Finding, quoted, ste

ID = "W01"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 5.1; counting after rules 8.4 to 8.7")
MOST_WORDS = 20
LIMIT = f"at most {MOST_WORDS} words in a sentence that tells the reader to act"
KINDS = (TextKind.INSTRUCTION, *CAUTIONS, TextKind.UNTIL)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every sentence that is too long, as written or with the words for unknown values."""
    spelled = with_unknown_words(text, context)
    for sentence, in_words in zip(text.sentences, spelled, strict=False):
        count, count_in_words = word_count(sentence.sentence.text), word_count(in_words)
        if count > MOST_WORDS:
            yield Finding(
                found=f"{count} words in one sentence: {quoted(sentence.sentence.text)}",
                repair="make two sentences of it, or move the reason to 'why'",
            )
        elif count_in_words > MOST_WORDS:
            yield Finding(
                found=f"{count_in_words} words in one sentence where a value is not known: {quoted(in_words)}",
                repair="shorten the sentence, or the value's 'unknown' words in the catalogue",
            )
