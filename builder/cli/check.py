"""`spannerleaf check`: read every source and report every mistake in one run."""

from __future__ import annotations

from pathlib import Path

import click

from builder.build.examining import examined, is_sound
from builder.build.machine import cores
from builder.build.order import Quiet
from builder.build.remembering import load_remembered
from builder.build.stale import stale
from builder.cli.common import (
    Status,
    chosen_workspace,
    counted,
    finish,
    has_errors,
    json_option,
    list_waivers,
    show,
    tally,
    workspace_option,
)
from builder.diagnostics.diagnostic import Diagnostic, ordered
from builder.diagnostics.rendering import as_json as written_as_json
from builder.diagnostics.rendering import as_line
from builder.proof.waived import own_waivers, waived
from builder.sources.loaded import Loaded


@click.command("check")
@workspace_option
@json_option
@click.option("--lines", is_flag=True, help="Write one line for each mistake, without the source line.")
def command(workspace: Path | None, as_json: bool, lines: bool) -> None:
    """Read every source and report every mistake.

    The sources that come with Spannerleaf are read too, since your own are laid over them. What was proven before, from
    the same sources, is not proven again.

    Cards that 'spannerleaf printed' wrote down are held against the guides as they are now: a stale one is a warning.

    Rules and cautions that are set aside on purpose are listed with their reasons; in JSON they are notes of 'waived'.

    The exit status is 0 where nothing is wrong, 1 for mistakes, 2 for misuse. Warnings alone leave it 0.

    \b
    Example:
      spannerleaf check --workspace ~/our-workshop
    """
    loaded = load_remembered(chosen_workspace(workspace))
    told = (*examined(loaded, cores(), Quiet()), *stale(loaded, workspace), *_of_theme(loaded, workspace))
    found = ordered((*loaded.diagnostics, *told))
    aside = own_waivers(waived(loaded.library), loaded.laid_under)
    if as_json:
        click.echo(written_as_json((*found, *(one.as_note() for one in aside))))
    else:
        if lines:
            for diagnostic in found:
                click.echo(as_line(diagnostic))
        else:
            show(found, loaded.texts)
        list_waivers(aside)
        click.echo(f"{counted(len(loaded.texts), 'source file')} read: {tally(found)}")
        if not is_sound(loaded):
            click.echo("The proof and the writing rules wait until these are mended.")
    finish(Status.FINDINGS if has_errors(found) else Status.DONE)


def _of_theme(loaded: Loaded, workspace: Path | None) -> tuple[Diagnostic, ...]:
    """What is wrong with a workspace's own theme; nothing is read where it has none."""
    folder = chosen_workspace(workspace)
    if folder is None or not (folder / "theme").is_dir():
        return ()
    # Templates take longer to get ready than all else that is done where nothing has changed.
    from builder.build.dressing import dressed

    return dressed(loaded.library, (folder,)).findings
