"""A step that is repeated says when to stop.

Passes:
    {do: Repeat the last two steps until no bubble comes.}
    {do: Repeat the last two steps., until: No bubble comes.}
    {do: Squeeze the lever ten times.}
Fails:
    {do: Repeat the last two steps.}
    {do: Squeeze the lever several times.}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Step
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S14"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="DOE-STD-1029-92", locator="section 4, example 4-14", known=Known.LOOKED_UP)
LIMIT = "“until ...”, or a number of times"
_REPEATED = re.compile(
    r"\brepeat\b|\bagain and again\b|\b(?:several|a few|many|some|a couple of) times\b"
    r"|\brepeatedly\b|\bkeep (?:on )?\w+ing\b",
    re.IGNORECASE,
)
_ENDS = re.compile(
    r"\buntil\b|\b(?:once|twice|(?:\d+|two|three|four|five|six|ten|twelve|twenty) times)\b", re.IGNORECASE
)


def check(element: Element[Step], context: Context) -> Iterator[Finding]:
    """A repetition without an end."""
    del context
    step = element.record
    if step.until:
        return
    for at, text in ((step.places.of("do"), step.do), *((step.places.of("choose"), way.do) for way in step.choose)):
        found = _REPEATED.search(text)
        if found and not _ENDS.search(text):
            yield Finding(found=f"“{found[0]}” has no end", repair="add “until ...” or a number of times", at=at)
