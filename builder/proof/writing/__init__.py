"""Rules of writing: house rules after published rules for procedures, judged on every text for the reader.

    Library ─► passages ─► findings ─► less waivers ─► diagnostics

A rule is a file under `rules`; `registry` lists them; `engine` knows none of them by name. A rule that is set aside at
an element takes a waiver with the rule, the reason and who answers for it.
"""

from builder.proof.writing.engine import ListedWaiver, check_guide, check_texts, check_writing, waivers
from builder.proof.writing.held import HELD, HeldBy, HeldRule
from builder.proof.writing.registry import RULES
from builder.proof.writing.rule import Rule

__all__ = [
    "HELD",
    "RULES",
    "HeldBy",
    "HeldRule",
    "ListedWaiver",
    "Rule",
    "check_guide",
    "check_texts",
    "check_writing",
    "waivers",
]
