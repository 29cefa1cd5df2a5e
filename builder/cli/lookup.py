"""Names and parts as they are asked for on the command line, found in the library or refused in one line."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TypeVar

import click

from builder.build.remembering import load_remembered
from builder.cli.common import Status, chosen_workspace, finish, has_errors, misused, show, tally
from builder.diagnostics.nearness import alike, nearest
from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.sources.hints import HOW_TO_ADD
from builder.sources.loaded import Loaded

_Item = TypeVar("_Item")
_MOST_LISTED = 12


def loaded_soundly(workspace: Path | None) -> Loaded:
    """Read the sources; where one has a mistake, show every mistake and end with status 1."""
    loaded = load_remembered(chosen_workspace(workspace))
    if has_errors(loaded.diagnostics):
        show(loaded.diagnostics, loaded.texts, err=True)
        click.echo(f"{tally(loaded.diagnostics)} in the sources: nothing was made", err=True)
        finish(Status.FINDINGS)
    return loaded


def found(what: str, name: str, items: Mapping[str, _Item]) -> _Item:
    """The item of that name; misuse where there is none."""
    if name not in items:
        near = nearest(name, items)
        misused(f"unknown {what} '{name}'; " + (f"did you mean '{near}'?" if near else _known(what, name, items)))
    return items[name]


def _known(what: str, name: str, items: Mapping[str, _Item]) -> str:
    """What there is instead of an unknown name, and how to come to one's own."""
    some = tuple(items) if len(items) <= _MOST_LISTED else alike(name, items)
    told = f"{'known' if len(items) <= _MOST_LISTED else 'those that begin alike'}: {', '.join(some)}" if some else ""
    return "; ".join(words for words in (told or ("" if items else "there is none"), HOW_TO_ADD[f"{what}s"]) if words)


def parts_for(bike: Bike, guide: Guide | None, named: tuple[str, ...]) -> tuple[str, ...]:
    """The parts named on the command line, or those that the bike's file plans for the guide."""
    if named or guide is None:
        return named
    return next((job.parts for job in bike.jobs if job.guide == guide.id), ())
