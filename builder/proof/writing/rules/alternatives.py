"""Alternatives are two or more, each an instruction of its own, so that only what was done is ticked.

Passes:
    {do: Join the chain., choose: [{do: Install a quick link.}, {do: Drive a joining pin in.}]}
Fails:
    {do: Join the chain., choose: [{do: Install a quick link.}]}
    {do: Join the chain., choose: [{do: Install a quick link.}, {do: Install a quick link.}]}
    {do: Install a quick link. Alternatively drive a joining pin in.}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Step
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S12"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="DOE-STD-1029-92", locator="section 4, example 4-10", known=Known.LOOKED_UP)
LIMIT = "two or more ways, each under 'choose'"
_IN_TEXT = re.compile(r"\b(?:alternatively|or else|either (?:\w+ ){1,8}?or|one of the following)\b", re.IGNORECASE)


def check(element: Element[Step], context: Context) -> Iterator[Finding]:
    """A lone alternative, two that are the same, and alternatives that are hidden in the text."""
    del context
    step = element.record
    at = step.places.of("choose")
    if len(step.choose) == 1:
        yield Finding(found="one alternative alone", repair="add the other one, or make a plain step of it", at=at)
    if len({choice.do for choice in step.choose}) < len(step.choose):
        yield Finding(found="two alternatives with the same text", repair="leave one out", at=at)
    if not step.choose and (found := _IN_TEXT.search(step.do)):
        yield Finding(
            found=f"alternatives in the text: “{found[0]}”",
            repair="write each one under 'choose', so that each has its tick box",
            at=step.places.of("do"),
        )
