"""A safety sign is a number of the ISO 7010 table, and the sign for gear that the text tells to wear is there.

Passes:
    {text: Wear gloves. The fluid can irritate skin., harm: mechanic, severity: minor-or-moderate-injury,
     likelihood: could, signs: [M009]}
Fails:
    {text: Wear gloves. The fluid can irritate skin., harm: mechanic, severity: minor-or-moderate-injury,
     likelihood: could, signs: [M999]}
    {text: Wear gloves. The fluid can irritate skin., harm: mechanic, severity: minor-or-moderate-injury,
     likelihood: could, signs: [W001]}
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity, nearest
from builder.model.catalogue import Caution
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource
from builder.proof.writing.signs import SIGNS

ID = "H14"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="ISO 7010:2019", locator="numbers and titles from an open package of drawings", known=Known.RESTATED
)
LIMIT = "a number of the sign table; gear that is worn with its sign"
# Words of gear and the sign for it.
_GEAR = {r"gloves": "M009", r"eye protection": "M004", r"mask": "M016", r"ear protection": "M003"}


def check(element: Element[Caution], context: Context) -> Iterator[Finding]:
    """Every unknown sign, and gear without its sign."""
    del context
    caution = element.record
    at = caution.places.of("signs")
    for number in caution.signs:
        if number not in SIGNS:
            near = nearest(number, SIGNS)
            hint = f"did you mean {near}, “{SIGNS[near].title}”?" if near else "see the table of signs"
            yield Finding(found=f"unknown safety sign {number}", repair=hint, at=at)
    for gear, sign in _GEAR.items():
        worn = re.search(rf"(?<!not )\bwear\b[^.]*\b{gear}\b", caution.text, re.IGNORECASE)
        if worn and sign not in caution.signs:
            yield Finding(
                found=f"the text tells to wear {gear} and has no sign {sign}",
                repair=f"add {sign}, “{SIGNS[sign].title}”, to 'signs'",
                at=at,
            )
