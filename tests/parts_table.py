"""Print, as a Markdown table, which checks judge each kind of part: `python -m tests.parts_table`."""

from __future__ import annotations

from builder.checks.check import Force
from builder.planning.judged_kinds import judging

HEAD = "| kind of part | whether it fits | its state |"
RULE = "|---|---|---|"


def rows() -> list[str]:
    """One row for each kind of part."""
    return [
        f"| {kind} | {', '.join(f'`{check.name}`' for check in by_force[Force.MISFIT]) or 'none'} "
        f"| {', '.join(f'`{check.name}`' for check in by_force[Force.CONDITION]) or 'none'} |"
        for kind, by_force in judging().items()
    ]


if __name__ == "__main__":
    print("\n".join((HEAD, RULE, *rows())))
