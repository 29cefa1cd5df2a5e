"""`spannerleaf tried`: write down who tried a guide, how, and on exactly which text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import click

from builder.cli.common import chosen_workspace, counted, misused, workspace_option
from builder.cli.kept import day, keep, kept_records, listed
from builder.diagnostics.diagnostic import nearest
from builder.model.guide import Trial, TrialKind
from builder.model.library import Library
from builder.proof.revisions import text_code, written_steps
from builder.sources.text import hidden_in
from builder.sources.workspace import load, shipped_library

_HEAD = """\
# Who tried which guide, and on which text. Written by `spannerleaf tried`: what is typed here by hand is lost.
# A code stands for all that the reader sees of a step; it changes with its words, torques, tools and cautions.
"""


@click.command("tried")
@click.argument("guide_id", metavar="GUIDE")
@click.option("--by", required=True, metavar="NAME", help="Who tried it.")
@click.option(
    "--how",
    required=True,
    type=click.Choice([kind.value for kind in TrialKind]),
    help="Read through at a table, or done on a bicycle.",
)
@click.option("--bike", default="", metavar="TEXT", help="The bicycle; it must be named for a trial on one.")
@click.option("--date", metavar="YYYY-MM-DD", help="The day of the trial; without it, today.")
@click.option("--found", default="", metavar="TEXT", help="What was noticed.")
@workspace_option
def command(guide_id: str, by: str, how: str, bike: str, date: str | None, found: str, workspace: Path | None) -> None:
    """Write down that a guide was tried.

    The trial counts for the text as it stands now. When a step changes, the guide is unverified again, and
    'spannerleaf check' says what changed.

    \b
    Example:
      spannerleaf tried wider-range-cassette --by "A. Mechanic" --how on-bicycle --bike "the blue tourer"
    """
    folder = chosen_workspace(workspace)
    library = load(folder).library
    guide = library.guides.get(guide_id)
    if guide is None:
        near = nearest(guide_id, library.guides)
        misused(f"there is no guide '{guide_id}'" + (f"; did you mean '{near}'?" if near else ""))
    if not by.strip():
        misused("say who tried it: --by NAME")
    if how == TrialKind.ON_BICYCLE and not bike.strip():
        misused("say on which bicycle it was tried: --bike TEXT")
    if any(hidden_in(text) for text in (by, bike, found)):
        misused("a character that can not be seen stands in one of the texts; type it again")
    trial = Trial(
        by=by.strip(),
        date=day(date),
        how=TrialKind(how),
        bike=bike.strip(),
        proof_of=text_code(guide, library),
        steps=written_steps(guide, library),
        found=found.strip(),
    )
    path = (folder or shipped_library()) / "catalogue" / "tried.yaml"
    keep(path, _text(_with(trial, guide_id, path, library)))
    steps = counted(len(trial.steps) - 1, "step")
    click.echo(f"{guide_id} ({trial.proof_of}, {steps}) tried {how} by {trial.by} on {trial.date}: {path}")


def _with(trial: Trial, guide_id: str, path: Path, library: Library) -> Mapping[str, Any]:
    """What the file holds with the trial added; a workspace's file keeps the trials that the library came with."""
    records = _written(path)
    if guide_id in records:
        before = list(records[guide_id]["trials"])
    elif guide_id in library.tried:
        before = [_plain(one) for one in library.tried[guide_id].trials]
    else:
        before = []
    records[guide_id] = {"trials": [*before, _plain(trial)]}
    return dict(sorted(records.items()))


def _written(path: Path) -> dict[str, Any]:
    records = kept_records(path)
    if not all(_is_record(record) for record in records.values()):
        misused(f"{path} does not hold trials; 'spannerleaf check' says what is wrong with it")
    return records


def _is_record(record: object) -> bool:
    trials = record.get("trials") if isinstance(record, dict) else None
    return isinstance(trials, list) and all(
        isinstance(trial, dict)
        and all(isinstance(value, list if key == "steps" else str) for key, value in trial.items())
        for trial in trials
    )


def _plain(trial: Trial) -> dict[str, Any]:
    """A trial as a source file writes it, without what is empty."""
    written = {
        "by": trial.by,
        "date": trial.date,
        "how": trial.how.value,
        "bike": trial.bike,
        "found": trial.found,
        "proof-of": trial.proof_of,
        "steps": list(trial.steps),
    }
    return {key: value for key, value in written.items() if value}


def _text(records: Mapping[str, Any]) -> str:
    return _HEAD + "\n".join(_lines(records)) + "\n"


def _lines(records: Mapping[str, Any]) -> Iterator[str]:
    """A line for each step, so that a comparison of two versions shows which step changed."""
    for guide_id, record in records.items():
        yield f"{guide_id}:"
        yield "  trials:"
        yield from listed(record["trials"], str)
