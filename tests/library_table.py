"""Print, as a Markdown table, what each guide of the library comes to: `python -m tests.library_table`.

Checks are those that judge a measurement of the guide, and those that the jobs of the fleet put to a bike. Fasteners
are those that a step loosens or tightens in any branch. Figures are drawings that a step asks for.
"""

from __future__ import annotations

from builder.model.guide import Guide
from builder.model.inlining import inlined
from builder.model.library import Library
from builder.proof.jobs import Ready, wanted_jobs, work_out
from builder.proof.proving import prove
from builder.sources.workspace import load

HEAD = "| guide | steps | configurations | bikes | checks used | fasteners | figures |"
RULE = "|---|--:|--:|--:|---|---|---|"


def _row(guide: Guide, library: Library) -> str:
    proof = prove(guide, library)
    steps = [placed.step for placed in inlined(guide, library)]
    outcomes = [work_out(job, library) for job in wanted_jobs(library, guides=(guide.id,), every=True)]
    ready = [outcome.tailored for outcome in outcomes if isinstance(outcome, Ready) and outcome.job.bike is not None]
    checks = {library.measurements[step.measure].check for step in steps if step.measure}
    checks |= {result.check for tailored in ready if guide.wants for result in tailored.checks}
    cells = (
        f"`{guide.id}`{'' if not proof.diagnostics else ' **not proven**'}",
        str(proof.steps),
        f"{proof.configurations:,}",
        str(len(ready)),
        ", ".join(sorted(checks - {""})) or "none",
        ", ".join(sorted({name for step in steps for name in (step.loosens, step.tightens) if name})) or "none",
        ", ".join(sorted({step.figure for step in steps if step.figure})) or "none",
    )
    return f"| {' | '.join(cells)} |"


def main() -> None:
    """Print the table."""
    library = load(None).library
    print("\n".join((HEAD, RULE, *(_row(guide, library) for guide in library.guides.values()))))


if __name__ == "__main__":
    main()
