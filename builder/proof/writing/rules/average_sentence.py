"""The sentences of a guide have at most 20 words on average; 17 or fewer are better.

Passes:
    (a guide whose sentences have 11 words on average)
Fails:
    (a guide whose sentences have 22 words on average)
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.prose import word_count
from builder.proof.writing.rule import Finding, Known, RuleSource
from builder.proof.writing.whole import card_sentences

ID = "W04"
GRAVITY = Gravity.NOTE
SOURCE = RuleSource(title="MIL-DTL-81927C(AS)", locator="p. 15, item b", known=Known.LOOKED_UP)
MOST_ON_AVERAGE, DESIRED = 20.0, 17.0
LIMIT = f"at most {MOST_ON_AVERAGE:g} words a sentence on average, {DESIRED:g} or fewer desired"


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """An average that is too high."""
    counts = [word_count(sentence.sentence.text) for sentence in card_sentences(element, context)]
    average = sum(counts) / len(counts) if counts else 0.0
    if average > MOST_ON_AVERAGE:
        yield Finding(found=f"{average:.1f} words a sentence on average", repair="shorten the longest sentences")
