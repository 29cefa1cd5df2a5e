"""What is asked of the paper that cards are printed on, alike for one card and for a build of all."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from builder.cli.common import misused
from builder.pages.leaf import Holes
from builder.pages.paper import Paper
from builder.printing.sheets_to_cut import no_room

_Command = TypeVar("_Command", bound=Callable[..., Any])


def paper_options(command: _Command) -> _Command:
    """`--holes`, `--sheet`, `--round-corners` and `--single-sided`, given to the command under these names."""
    options = (
        click.option(
            "--holes",
            type=click.Choice([holes.value for holes in Holes], case_sensitive=False),
            help="Keep an edge free for two holes or four: the left one of fronts and right one of backs, or the top.",
        ),
        click.option(
            "--sheet",
            type=click.Choice([paper.value for paper in Paper], case_sensitive=False),
            help="Put several sides on sheets of this paper, with marks to cut along; turn them over the upright edge.",
        ),
        click.option("--round-corners", is_flag=True, help="With --sheet: mark where corners are cut round."),
        click.option("--single-sided", is_flag=True, help="Print on one side of the paper: every side is a front."),
    )
    for option in reversed(options):
        command = option(command)
    return command


def holes_of(holes: str | None) -> Holes | None:
    """The edge that is kept free."""
    return None if holes is None else Holes(holes)


def sheet_of(sheet: str | None, papers: tuple[Paper, ...], *, round_corners: bool) -> Paper | None:
    """The sheets that cards of these papers are put on; ends the command where that is not possible."""
    if sheet is None:
        if round_corners:
            misused("--round-corners marks cards on sheets to cut; name their paper with --sheet")
        return None
    for paper in papers:
        if why := no_room(paper, Paper(sheet)):
            misused(why)
    return Paper(sheet)
