"""What all commands share: the workspace, exit statuses, and how diagnostics are printed."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Mapping
from enum import IntEnum
from pathlib import Path
from typing import Any, NoReturn, TypeVar

import click

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.diagnostics.rendering import Tone, as_text

_Command = TypeVar("_Command", bound=Callable[..., Any])

# What makes a folder a workspace, so that it need not be named when a command is run inside it.
SIGNS = ("workshop.yaml", "bikes", "procedures", "parts", "catalogue")
_STYLES: Mapping[Tone, dict[str, Any]] = {
    Tone.PLACE: {"bold": True},
    Tone.ERROR: {"fg": "red", "bold": True},
    Tone.WARNING: {"fg": "yellow", "bold": True},
    Tone.NOTE: {"fg": "cyan", "bold": True},
    Tone.MESSAGE: {"bold": True},
    Tone.MARGIN: {"fg": "blue"},
    Tone.CARETS: {"fg": "red"},
    Tone.HINT: {"fg": "green"},
}


class Status(IntEnum):
    """Exit statuses."""

    DONE = 0
    FINDINGS = 1
    MISUSE = 2


def workspace_option(command: _Command) -> _Command:
    """`--workspace DIR`, given to the command as `workspace`."""
    return click.option(
        "--workspace",
        metavar="DIR",
        type=click.Path(exists=True, file_okay=False, path_type=Path),
        help="The folder with your own sources; without it the current folder, where that is a workspace.",
    )(command)


def new_workspace_option(command: _Command) -> _Command:
    """`--workspace DIR` of a command that may make the folder, given to the command as `workspace`."""
    return click.option(
        "--workspace",
        metavar="DIR",
        type=click.Path(file_okay=False, path_type=Path),
        help="The folder for your own sources, made where it is not there; without it the current folder.",
    )(command)


def json_option(command: _Command) -> _Command:
    """`--json`, given to the command as `as_json`."""
    return click.option("--json", "as_json", is_flag=True, help="Write JSON, for other programs.")(command)


def chosen_workspace(workspace: Path | None) -> Path | None:
    """The workspace to read: the one named, or the current folder where it looks like one, or none."""
    if workspace is not None:
        return workspace
    try:
        here = Path.cwd()
    except OSError:  # the folder is no longer there
        return None
    return here if is_workspace(here) else None


def is_workspace(folder: Path) -> bool:
    """Whether the folder looks like one with sources."""
    return any((folder / sign).exists() for sign in SIGNS)


def painted(tone: Tone, text: str) -> str:
    """The text in the colour of its tone; click takes the colour away where the output is no terminal."""
    return click.style(text, **_STYLES[tone])


def show(diagnostics: Iterable[Diagnostic], texts: Mapping[str, str], *, err: bool = False) -> None:
    """Print diagnostics with their source lines, an empty line between two."""
    for diagnostic in diagnostics:
        click.echo(as_text(diagnostic, texts, painted), err=err)
        click.echo(err=err)


def has_errors(diagnostics: Iterable[Diagnostic]) -> bool:
    """Whether any of them makes the exit status 1."""
    return any(diagnostic.gravity is Gravity.ERROR for diagnostic in diagnostics)


def counted(number: int, one: str, many: str = "") -> str:
    """`1 guide`, `2 guides`."""
    return f"{number:,} {one if number == 1 else many or f'{one}s'}"


def tally(diagnostics: Iterable[Diagnostic]) -> str:
    """How many diagnostics of each gravity there are, in words."""
    gravities = [diagnostic.gravity for diagnostic in diagnostics]
    counts = ((gravity, gravities.count(gravity)) for gravity in Gravity)
    return ", ".join(counted(count, gravity.value) for gravity, count in counts if count) or "no mistakes"


def list_waivers(aside: Iterable[object], *, err: bool = False) -> None:
    """Print what was set aside on purpose: a count, and a line each."""
    lines = [str(one) for one in aside]
    if lines:
        click.echo(f"{counted(len(lines), 'waiver')}, each with its reason:", err=err)
        for line in lines:
            click.echo(f"  {line}", err=err)


def misused(message: str) -> NoReturn:
    """End with a message about how the command was called."""
    raise click.UsageError(message)


def finish(status: Status) -> NoReturn:
    """End with an exit status."""
    sys.exit(status)
