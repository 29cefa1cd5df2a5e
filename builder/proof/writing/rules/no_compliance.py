"""No text claims to comply with a standard of writing or to be certified; it says "house rules after ...".

Passes:
    The texts follow house rules after ASD-STE100.
Fails:
    This card is STE compliant.
    The guide conforms to S1000D.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import EVERY_KIND, Passage
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted

ID = "D06"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="discussion among technical writers on claims of conformance, 2025", known=Known.RESTATED)
LIMIT = "“house rules after ...”"
KINDS = EVERY_KIND
_STANDARD = r"(?:ASD|STE|S1000D|ANSI|ISO|IEC|EN|DIN|DITA|MIL|WCAG|PDF/UA)"
_CLAIM = r"(?:compliant|compliance|compl(?:y|ies)|conform(?:s|ant|ity|ance)?|certified|approved)"
_CLAIMS = re.compile(rf"\b{_STANDARD}\b[\w\s./-]{{0,30}}?\b{_CLAIM}\b|\b{_CLAIM}\b[\w\s]{{0,20}}?\b{_STANDARD}\b")


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every claim of conformance."""
    del context
    for found in _CLAIMS.finditer(text.plain):
        yield Finding(found=f"a claim of conformance: {quoted(found[0])}", repair="write “house rules after ...”")
