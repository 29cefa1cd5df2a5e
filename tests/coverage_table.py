"""Print, as a Markdown table, how well every check is held from outside: `python -m tests.coverage_table`."""

from __future__ import annotations

from builder.checks.registry import CHECKS
from tests.published import Coverage, coverage

HEAD = "| check | published, seen | from memory | worked out | trade figures | libraries | tightest | loosest |"
RULE = "|---|--:|--:|--:|--:|---|--:|--:|"


def _share(tolerance: float | None) -> str:
    if tolerance is None:
        return "-"
    return "exact" if tolerance < 1e-12 else f"{100 * tolerance:.2g} %"


def _row(covered: Coverage) -> str:
    cells = (
        f"`{covered.check}`",
        str(covered.looked_up),
        str(covered.from_memory),
        str(covered.derivable),
        str(covered.common_practice),
        ", ".join(covered.libraries) or "-",
        _share(covered.tightest_rel),
        _share(covered.loosest_rel),
    )
    return f"| {' | '.join(cells)} |"


def table() -> str:
    """The table, one line a check, in the order of the registry; the counts are values, not entries."""
    return "\n".join([HEAD, RULE, *(_row(coverage(name)) for name in CHECKS)])


if __name__ == "__main__":
    print(table())
