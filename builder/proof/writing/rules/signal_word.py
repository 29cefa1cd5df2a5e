"""The signal word is worked out from harm, severity and likelihood; none is typed, and the three go together.

Harm to things alone is damage, and damage is no harm to a person.

Passes:
    {text: Keep oil away. A brake can fail., harm: rider, severity: death-or-serious-injury, likelihood: could}
Fails:
    {text: "WARNING: keep oil away.", harm: rider, severity: death-or-serious-injury, likelihood: could}
    {text: Keep oil away. A brake can fail., harm: rider, severity: damage, likelihood: could}
    {text: Do not clamp the tube. It can bend., harm: things, severity: minor-or-moderate-injury, likelihood: could}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import Caution, Harm, Severity, SignalWord
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "H07"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="ISO 3864-2 and ANSI Z535.6", locator="definitions of the four signal words", known=Known.RESTATED
)
LIMIT = "no typed signal word; harm to things with damage, harm to persons with an injury"
_CAPITALS = re.compile(rf"\b(?:{'|'.join(SignalWord)})\b")


def check(element: Element[Caution], context: Context) -> Iterator[Finding]:
    """A typed signal word, and a severity that does not go with who is harmed."""
    del context
    caution = element.record
    for text in (caution.text, caution.short):
        if _CAPITALS.search(text) or re.match(r"\s*(?:danger|warning|caution|notice)\s*[:!]", text, re.IGNORECASE):
            yield Finding(found="a typed signal word", repair="leave it out; the builder works it out and prints it")
    if (caution.harm is Harm.THINGS) != (caution.severity is Severity.DAMAGE):
        yield Finding(
            found=f"harm to '{caution.harm}' with severity '{caution.severity}'",
            repair="harm to things is 'damage'; harm to a person is an injury",
            at=caution.places.of("severity"),
        )
