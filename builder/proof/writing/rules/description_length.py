"""A sentence that explains has at most 25 words.

Passes:
    A loose lockring lets the sprockets work against the freehub body and notch it.
Fails:
    A lockring that was not tightened to its torque lets the sprockets work to and fro against the freehub body of the
    rear hub, and after some months of that they notch it.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind, with_unknown_words
from builder.proof.writing.prose import word_count
from builder.proof.writing.rule import Finding, quoted, ste

ID = "W02"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 6.3")
MOST_WORDS = 25
LIMIT = f"at most {MOST_WORDS} words in a sentence that explains"
KINDS = (
    TextKind.REASON,
    TextKind.RESULT,
    TextKind.STATE,
    TextKind.CONDITION,
    TextKind.DESCRIPTION,
    TextKind.REFERENCE,
)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every sentence that is too long with the words for unknown values."""
    for sentence in with_unknown_words(text, context):
        count = word_count(sentence)
        if count > MOST_WORDS:
            yield Finding(found=f"{count} words in one sentence: {quoted(sentence)}", repair="make two sentences of it")
