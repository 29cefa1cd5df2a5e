"""Step numbers are counted by the builder, never typed.

A step has another number on another bike's card.

Passes:
    Tighten the bolt again.
Fails:
    1. Tighten the bolt.
    Do step 4 again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, ON_CARD, Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S05"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="S1000D, where step numbers are generated", known=Known.RESTATED)
LIMIT = "no typed number of a step or a caution"
KINDS = (*ON_CARD, TextKind.TITLE, *CAUTIONS)
_NUMBERED = re.compile(r"^\s*(?:\d+|[a-z])[.)]\s+(?=[A-Z])|\bsteps?\s+(?:no\.?\s*)?\d+\b", re.IGNORECASE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """A number at the head of a text, and a step named by its number."""
    del context
    for found in _NUMBERED.finditer(text.text):
        yield Finding(
            found=f"a typed step number: “{found[0].strip()}”",
            repair="leave the number out; a fault names its step with 'step: <id>'",
        )
