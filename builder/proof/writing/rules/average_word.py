"""The words of a guide have at most 1.60 syllables on average; 1.50 or fewer are better. Technical names don't count.

Passes:
    (a guide whose words have 1.4 syllables on average)
Fails:
    (a guide whose words have 1.7 syllables on average)
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide
from builder.proof.writing.context import Context
from builder.proof.writing.lexicon import covered
from builder.proof.writing.passages import Element
from builder.proof.writing.prose import Kind, syllables
from builder.proof.writing.rule import Finding, Known, RuleSource
from builder.proof.writing.whole import card_sentences

ID = "W05"
GRAVITY = Gravity.NOTE
SOURCE = RuleSource(title="MIL-DTL-81927C(AS)", locator="p. 15, item a", known=Known.LOOKED_UP)
MOST_ON_AVERAGE, DESIRED = 1.60, 1.50
LIMIT = f"at most {MOST_ON_AVERAGE:.2f} syllables a word on average, {DESIRED:.2f} or fewer desired"


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """An average that is too high."""
    counts: list[int] = []
    for sentence in card_sentences(element, context):
        named = covered(sentence.lower, context.lexicon)
        for place, token in enumerate(sentence.tokens):
            if token.kind is Kind.WORD and place not in named:
                counts.append(syllables(token.text))
    average = sum(counts) / len(counts) if counts else 0.0
    if average > MOST_ON_AVERAGE:
        yield Finding(found=f"{average:.2f} syllables a word on average", repair="choose shorter words")
