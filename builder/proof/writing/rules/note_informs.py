"""A reason or a note informs; it gives no instruction.

An instruction in the small print under a step is missed. It is a step of its own.

Passes:
    The thread is fine and crosses easily.
    Grease keeps water out of the thread.
Fails:
    Grease the thread first.
    The thread is fine. If it is dry, apply grease.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste

ID = "W19"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 5.5")
LIMIT = "no instruction in a reason, a result or a note"
KINDS = (TextKind.REASON, TextKind.RESULT, TextKind.STATE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every sentence of an explanation that tells the reader to act."""
    del context
    for sentence in text.sentences:
        if sentence.commands:
            verb = sentence.tokens[sentence.commands[0]].text
            yield Finding(
                found=f"an instruction (“{verb} ...”) where only information stands: {quoted(sentence.sentence.text)}",
                repair="make it a step of its own, or say what is so",
            )
