"""Text is in mixed case; at most three words side by side are in capitals.

Passes:
    Set the switch to OFF.
Fails:
    DO NOT SQUEEZE THE LEVER.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import EVERY_KIND, Passage
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted

ID = "L12"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="Degani 1992, NASA CR-177605",
    locator="recommendations 4 and 5; the number of three is our own",
    known=Known.RESTATED,
)
MOST_WORDS = 3
LIMIT = f"at most {MOST_WORDS} words in capitals side by side"
KINDS = EVERY_KIND
_RUN = re.compile(r"\b[A-Z]{2,}\b(?:[\s,]+[A-Z]+\b(?![a-z]))+")


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every run of too many words in capitals."""
    del context
    for found in _RUN.finditer(text.plain):
        if len(re.findall(r"[A-Z]+", found[0])) > MOST_WORDS:
            yield Finding(found=f"words in capitals: {quoted(found[0])}", repair="write them in small letters")
