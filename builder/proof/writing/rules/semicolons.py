"""No semicolons: two thoughts are two sentences.

Passes:
    The thread is fine. It crosses easily.
Fails:
    The thread is fine; it crosses easily.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste

ID = "W13"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 8.1")
LIMIT = "no semicolons"
KINDS = (*ON_CARD, TextKind.REFERENCE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every sentence with a semicolon."""
    del context
    for sentence in text.sentences:
        if any(token.is_mark(";") for token in sentence.tokens):
            yield Finding(
                found=f"a semicolon: {quoted(sentence.sentence.text)}", repair="end the sentence there with a full stop"
            )
