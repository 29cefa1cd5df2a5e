"""One unit for each kind of quantity, with its symbol and a space: N·m, mm, bar.

Torque stands in N·m, length in mm (m and km for long ways), pressure in bar or kPa with psi second in parentheses. How
much wider, longer or higher something is has a unit too.

Passes:
    Cut the cable 30 mm behind the clamp bolt.
    Inflate the tyre to 3.5 bar (51 psi).
Fails:
    Cut the cable 30mm behind the clamp bolt.
    Tighten the bolt to 5 Nm.
    Tighten the bolt to 44 in-lb.
    Inflate the tyre to 50 psi.
    Take a tyre that is at most 8 wider.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "N01"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="SI Brochure, 9th edition, and ISO 80000-1", locator="5.4.3: a space before the unit", known=Known.FROM_MEMORY
)
LIMIT = "N·m, mm (m, km), bar or kPa, with a space before the symbol"
KINDS = (*ON_CARD, TextKind.UNTIL, TextKind.FRAGMENT, TextKind.REFERENCE)
_NUMBER = r"\d+(?:[.,]\d+)?"
_NO_SPACE = re.compile(rf"\b{_NUMBER}(?:N·m|Nm|mm|cm|km|bar|kPa|psi|kg|ml)\b")
_OTHER_SYMBOL = re.compile(
    rf"\b{_NUMBER}\s?(?P<unit>Nm|N m|N\.m|N-m|newton[- ]?met(?:er|re)s?|in[.·-]?\s?lbf?s?|ft[.·-]?\s?lbf?s?"
    r"|inch[- ]pounds|foot[- ]pounds|kgf?[.·-]?c?m|cm|inch(?:es)?|mms|millimet(?:er|re)s?|Bar|BAR"
    r"|PSI|atm|lbs?)(?![\w·])"
)
_INSTEAD = {
    "cm": "mm",
    "inch": "mm",
    "inches": "mm",
    "mms": "mm",
    "Bar": "bar",
    "BAR": "bar",
    "PSI": "bar",
    "atm": "bar",
}
_BARE = re.compile(
    rf"\b{_NUMBER} (?:wider|narrower|longer|shorter|higher|lower|deeper|thicker|thinner|larger|smaller)\b",
    re.IGNORECASE,
)
_PSI = re.compile(rf"(?<!\()\b{_NUMBER}\s?psi\b")


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every quantity with another unit, another symbol or no space."""
    del context
    plain = text.plain
    for found in _NO_SPACE.finditer(plain):
        yield Finding(found=f"no space before the unit: “{found[0]}”", repair="put a space between number and unit")
    for found in _OTHER_SYMBOL.finditer(plain):
        unit = found["unit"]
        use = _INSTEAD.get(unit, "mm" if unit.startswith("millimet") else "kg" if unit.startswith("lb") else "N·m")
        yield Finding(found=f"“{found[0]}” is not in the unit that cards use", repair=f"write the value in {use}")
    for found in _BARE.finditer(plain):
        yield Finding(found=f"“{found[0]}” has no unit", repair="write the number with its unit, such as 8 mm wider")
    for found in _PSI.finditer(plain):
        yield Finding(found=f"“{found[0]}” stands first", repair="write bar first and psi second: 3.5 bar (51 psi)")
