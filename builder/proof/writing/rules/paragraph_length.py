"""A paragraph that explains has at most six sentences.

Passes:
    The thread is fine and crosses easily. Start it by hand.
Fails:
    The thread is fine. It crosses easily. A crossed thread binds. It binds after half a turn. A tool hides this. The
    hand does not. So the hand starts it.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.prose import paragraphs, sentences
from builder.proof.writing.rule import Finding, ste

ID = "W03"
GRAVITY = Gravity.WARNING
SOURCE = ste("rule 6.6")
MOST_SENTENCES = 6
LIMIT = f"at most {MOST_SENTENCES} sentences in a paragraph"
KINDS = (TextKind.REASON, TextKind.RESULT, TextKind.DESCRIPTION, TextKind.REFERENCE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every paragraph that is too long; the items of a vertical list are not counted."""
    del context
    for paragraph in paragraphs(text.text):
        count = sum(not sentence.item for sentence in sentences(paragraph))
        if count > MOST_SENTENCES:
            yield Finding(
                found=f"{count} sentences in one paragraph", repair="part it with a blank line, or shorten it"
            )
