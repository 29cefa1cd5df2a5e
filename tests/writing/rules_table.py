"""Print, as a Markdown table, every rule for cards and what holds it: `python -m tests.writing.rules_table`."""

from __future__ import annotations

from builder.proof.writing import HELD, RULES
from builder.proof.writing.registry import (
    ON_CAUTION,
    ON_CONSUMABLE,
    ON_FASTENER,
    ON_GUIDE,
    ON_PASSAGE,
    ON_STEP,
)

_GROUPS = "WSAHNLD"
_FILES = {
    module.ID: module.__name__.rpartition(".")[2]  # type: ignore[attr-defined]
    for modules in (ON_PASSAGE, ON_STEP, ON_GUIDE, ON_CAUTION, ON_FASTENER, ON_CONSUMABLE)
    for module in modules
}


def table() -> str:
    """The table, one line a rule: by group, then by number."""
    rows = {
        rule.id: (" ".join(rule.title.split()), "a rule of writing", f"`rules/{_FILES[rule.id]}.py`") for rule in RULES
    }
    rows |= {rule.id: (rule.words, rule.by.value, rule.where) for rule in HELD}
    lines = ["| id | rule | held by | where |", "|---|---|---|---|"]
    for name in sorted(rows, key=lambda one: (_GROUPS.index(one[0]), one)):
        words, by, where = rows[name]
        lines.append(f"| {name} | {words} | {by} | {where} |")
    return "\n".join(lines)


if __name__ == "__main__":
    print(table())
