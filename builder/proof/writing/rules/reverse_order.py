"""No "install in reverse order": the steps are written, since torque and cautions differ.

Passes:
    Insert the axle.
Fails:
    Install the parts in reverse order.
    Installation is the reverse of removal.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage
from builder.proof.writing.rule import Finding, RuleSource

ID = "S16"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource()
LIMIT = "every step written out"
KINDS = ON_CARD
_REVERSE = re.compile(
    r"\b(?:in|by|the)\s+(?:the\s+)?(?:reverse|opposite|reversed|inverse)\s+(?:the\s+)?"
    r"(?:order|sequence|procedure|process|steps|of\s+(?:the\s+)?(?:removal|disassembly|dismantling))\b"
    r"|\breverse the (?:steps|procedure|sequence|order)\b",
    re.IGNORECASE,
)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every appeal to the reverse order."""
    del context
    for found in _REVERSE.finditer(text.plain):
        yield Finding(found=f"“{found[0]}”", repair="write the steps of installation, with their torque and cautions")
