"""Compressed air cleans only below 30 psi (2.07 bar), with a chip guard and eye protection.

Passes:
    Clean the hub with compressed air below 1.5 bar.
Fails:
    Clean the hub with compressed air at 6 bar.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.units import Unit, read_value
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "H16"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="29 CFR 1910.242(b) and 29 CFR 1917.154 (United States)", known=Known.LOOKED_UP)
BELOW_PSI = 30.0
BELOW_BAR = read_value(f"{BELOW_PSI:g} psi", Unit.BAR)
LIMIT = f"below {BELOW_PSI:g} psi ({BELOW_BAR:.2f} bar) for cleaning, with a chip guard and eye protection"
KINDS = (TextKind.INSTRUCTION, TextKind.REASON, TextKind.CAUTION)
_PRESSURE = re.compile(r"(\d+(?:\.\d+)?)\s?(bar|kPa|psi|MPa)\b")
_CLEANS = re.compile(r"\b(?:clean|cleans|cleaned|dry|blow|dust)\b", re.IGNORECASE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """A pressure that is too high, and a caution that leaves out the guard or the eyes."""
    del context
    plain = text.plain
    if "compressed air" not in plain.lower() or not _CLEANS.search(plain):
        return
    for number, unit in _PRESSURE.findall(plain):
        if read_value(f"{number} {unit}", Unit.BAR) >= BELOW_BAR:
            yield Finding(found=f"compressed air at {number} {unit}", repair=f"stay below {BELOW_BAR:.2f} bar")
    if text.kind in CAUTIONS and not ("chip guard" in plain and "eye" in plain):
        yield Finding(
            found="the caution on compressed air leaves out the chip guard or the eye protection", repair="name both"
        )
