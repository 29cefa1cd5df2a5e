"""A guide says how many persons it takes; one is written as 1.

Passes:
    (persons: 1)
Fails:
    (persons: 0)
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S20"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="OASIS DITA 1.3, task requirements domain", locator="reqpers, perskill, esttime", known=Known.LOOKED_UP
)
LIMIT = "at least one person"


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """No persons."""
    del context
    guide = element.record
    if guide.persons < 1:
        yield Finding(found=f"{guide.persons} persons", repair="write 1 or more", at=guide.places.of("persons"))
