"""Limits are written as a range, "5 to 6 N·m", with a decimal point; never as "5 ± 1".

Passes:
    The gap is 5 to 6 mm.
    The rotor is at least 1.5 mm thick.
Fails:
    The gap is 5 ± 1 mm.
    The rotor is at least 1,5 mm thick.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "N08"
GRAVITY = Gravity.WARNING
SOURCE = RuleSource(title="ISO 80000-1", known=Known.FROM_MEMORY)
LIMIT = "“5 to 6 N·m”, with a decimal point"
KINDS = (*ON_CARD, TextKind.UNTIL, TextKind.FRAGMENT, TextKind.REFERENCE)
_PLUS_MINUS = re.compile(r"[\d⟧]\s*(?:\w+\s*)?(?:±|\+/-|\+/−)\s*\d*")
_COMMA = re.compile(r"\b\d+,\d{1,2}\b(?!,)")


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every "±" and every decimal comma."""
    del context
    for found in _PLUS_MINUS.finditer(text.plain):
        yield Finding(found=f"“{found[0]}” gives limits by a tolerance", repair="write the range: “4 to 6 mm”")
    for found in _COMMA.finditer(text.plain):
        yield Finding(found=f"a decimal comma: “{found[0]}”", repair=f"write “{found[0].replace(',', '.')}”")
