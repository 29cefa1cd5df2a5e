"""No long italics: at most three words side by side.

Passes:
    Turn the *left* pedal.
Fails:
    *Turn the left pedal to the front.*
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import EVERY_KIND, Passage
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted

ID = "L13"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="Degani 1992, NASA CR-177605",
    locator="recommendations 1, 11 and 12; the number of three is our own",
    known=Known.RESTATED,
)
MOST_WORDS = 3
LIMIT = f"at most {MOST_WORDS} words in italics side by side"
KINDS = EVERY_KIND
_ITALIC = re.compile(r"(?<![*_\w])([*_])(?![*_\s])(.+?)(?<![*_\s])\1(?![*_\w])")


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every long run of italics; bold is no italic."""
    del context
    for found in _ITALIC.finditer(text.text):
        if len(found[2].split()) > MOST_WORDS:
            yield Finding(found=f"long italics: {quoted(found[2])}", repair="write it upright, or in bold")
