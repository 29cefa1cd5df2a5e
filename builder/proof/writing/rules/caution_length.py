"""A safety message is short: at most three sentences, and no procedure.

Passes:
    Wear gloves. Keep your hands out of the path of the tool. A tool that slips can push your hand into the teeth.
Fails:
    Wear gloves. Hold the tool. Push it in. Turn it slowly. A tool that slips can push your hand into the teeth.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "H10"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="EN 82079-1, as quoted in an encyclopedia (“must be concise”)",
    locator="the numbers are our own",
    known=Known.RESTATED,
)
MOST_SENTENCES = 3
MOST_COMMANDS = 2
LIMIT = f"at most {MOST_SENTENCES} sentences, with at most {MOST_COMMANDS} that tell the reader to act"
KINDS = CAUTIONS


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """A message that is too long, or that is a procedure."""
    del context
    sentences = len(text.sentences)
    if sentences > MOST_SENTENCES:
        yield Finding(found=f"{sentences} sentences in one message", repair="shorten it, or make steps of it")
        return
    commands = sum(bool(sentence.commands) for sentence in text.sentences)
    if commands > MOST_COMMANDS:
        yield Finding(found=f"{commands} sentences that tell the reader to act", repair="make steps of them")
