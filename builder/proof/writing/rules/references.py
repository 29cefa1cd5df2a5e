"""No text sends the reader elsewhere for what must be done now.

What several guides share is a procedure, which the builder places inline. The maker's instructions may be named.

Passes:
    Obey the maker's instructions.
    Compare the new parts with the list on this card.
Fails:
    Remove the wheel (see the guide for wheels).
    Adjust the gears as described in section 4.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S15"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="DOE-STD-1029 and NUREG-0899, advice to limit branching",
    locator="depth 1 is our own",
    known=Known.FROM_MEMORY,
)
LIMIT = "no “see elsewhere”; shared steps are placed inline with 'use'"
KINDS = (TextKind.INSTRUCTION, TextKind.REASON)
_ELSEWHERE = re.compile(
    r"\b(?:see|refer to|consult|go to|as (?:described|shown|explained|told) (?:in|on|under))\b[^.]*?"
    r"\b(?:section|chapter|page|step|guide|procedure|other card|another card|elsewhere|appendix|above|below)\b",
    re.IGNORECASE,
)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every reference to another place."""
    del context
    for found in _ELSEWHERE.finditer(text.plain):
        yield Finding(
            found=f"the reader is sent elsewhere: “{found[0]}”", repair="place the steps with 'use: <procedure>'"
        )
