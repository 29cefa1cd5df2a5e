"""A consumable says how much of it is used.

Passes:
    {name: assembly grease, amount: a film on the thread}
Fails:
    {name: assembly grease}
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import Consumable
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S03"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="S1000D supplies with quantity and unit; schema.org HowToSupply", known=Known.RESTATED)
LIMIT = "a name and an amount"


def check(element: Element[Consumable], context: Context) -> Iterator[Finding]:
    """A consumable without an amount."""
    del context
    if not element.record.amount.strip():
        yield Finding(found="no amount", repair="add 'amount', such as 'one' or 'about 20 ml'")
