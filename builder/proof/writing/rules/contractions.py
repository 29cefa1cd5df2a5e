"""No contractions: "do not", never "don't".

Passes:
    Do not turn the bolt's head too far.
Fails:
    Don't turn the bolt.
    Turn it until it's firm.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import EVERY_KIND, Passage
from builder.proof.writing.rule import Finding, ste

ID = "W12"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 4.2")
LIMIT = "no contractions"
KINDS = EVERY_KIND
_CONTRACTION = re.compile(
    r"\b(?:\w+n['’]t|\w+['’](?:re|ve|ll|m|d)|(?:it|that|there|here|what|who|he|she|let|where|how)['’]s)\b",
    re.IGNORECASE,
)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every contraction."""
    del context
    for found in _CONTRACTION.finditer(text.plain):
        yield Finding(found=f"the contraction “{found[0]}”", repair="write both words in full")
