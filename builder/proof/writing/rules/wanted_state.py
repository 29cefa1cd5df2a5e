"""What proves a step names the state or the value that is wanted, never only "OK", "checked", "set" or "good".

Passes:
    The wheel runs free and no pad rubs.
    The gap is 5 to 6 mm.
Fails:
    OK.
    The brake is OK.
    The screws are set.
    Everything is good.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted

ID = "W24"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="Degani and Wiener 1990, NASA CR-177549", locator="appendix A, guideline 4", known=Known.RESTATED
)
LIMIT = "the state or the value that is wanted"
KINDS = (TextKind.RESULT, TextKind.STATE)
_EMPTY = re.compile(
    r"^(?:.*\b(?:is|are|looks?|seems?|works?)\s+)?(?:all\s+|now\s+)?"
    r"(?:ok|okay|fine|good|checked|done|set|right|correct|in order|normal|as it should be|as expected|properly"
    r"|correctly|(?:\w+ed|set|put|done) (?:properly|correctly|right|well))[.!]?$",
    re.IGNORECASE,
)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every sentence that judges and does not say what is seen."""
    del context
    for sentence in text.sentences:
        if _EMPTY.match(sentence.sentence.text):
            yield Finding(
                found=f"no state and no value: {quoted(sentence.sentence.text)}",
                repair="say what is seen, felt or measured when it is right",
            )
