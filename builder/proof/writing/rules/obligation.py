"""What must be done is an imperative or "must"; a step has no "should".

Passes:
    The ends must suit the joiner.
Fails:
    You should clean the thread.
    The ends have to suit the joiner.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted

ID = "W23"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="ASD-STE100, rule 3.4, and the shall, will and may of procedure standards", known=Known.OWN)
LIMIT = "an imperative or “must”; no “should”, “shall”, “ought to”, “have to” or “need to”"
KINDS = ON_CARD
_WORDS = re.compile(r"\b(?:should|shall|ought to|ha(?:ve|s) to|needs? to)\b", re.IGNORECASE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every weak word of obligation."""
    del context
    for sentence in text.sentences:
        for found in _WORDS.finditer(sentence.sentence.text):
            yield Finding(
                found=f"“{found[0]}” leaves open whether it is a duty: {quoted(sentence.sentence.text)}",
                repair="write “must”, or the command itself",
            )
