"""A torque is one datum: the text shows it as `{{ torque }}`, never as typed figures.

Step, torque table and record box then print the same figure, and a part's own figure goes first everywhere.

Passes:
    Tighten the lockring to {{ torque }}.
Fails:
    Tighten the lockring to 40 N·m.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage, TextKind
from builder.proof.writing.rule import Finding, RuleSource

ID = "N07"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource()
LIMIT = "every torque from the fastener's record, shown as {{ torque }}"
KINDS = (TextKind.INSTRUCTION, TextKind.REASON, TextKind.RESULT, TextKind.UNTIL, TextKind.STATE, *CAUTIONS)
_TORQUE = re.compile(
    r"\d+(?:[.,]\d+)?\s*(?:N·m|Nm|N m|N\.m|newton[- ]?met(?:er|re)s?|in[.·-]?\s?lbf?s?\b|ft[.·-]?\s?lbf?s?\b)"
)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every typed torque."""
    del context
    for found in _TORQUE.finditer(text.plain):
        yield Finding(
            found=f"a typed torque: “{found[0]}”",
            repair="name the fastener with 'tightens', give its torque in the catalogue, and write {{ torque }}",
        )
