"""A safety message says what may follow.

Passes:
    Keep oil away from the rotor. A brake with oil on it can fail.
Fails:
    Keep oil away from the rotor.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "H05"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="ASD-STE100, rule 7.3, and the hazard message of OASIS DITA (kind of hazard, consequence, how to avoid)",
    known=Known.RESTATED,
)
LIMIT = "the risk or the possible result"
KINDS = (TextKind.CAUTION,)
_MAY_FOLLOW = re.compile(
    r"\b(?:can|could|may|might|will|is|are|causes?|injures?|burns?|cuts?|ignites?|damages?|makes?|fails?|breaks?)\b",
    re.I,
)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """A message in which no sentence without a command of its own tells a result."""
    del context
    for sentence in text.sentences:
        if not sentence.commands and _MAY_FOLLOW.search(sentence.sentence.text):
            return
    yield Finding(found="the message does not say what may follow", repair="add it: “A brake with oil on it can fail.”")
