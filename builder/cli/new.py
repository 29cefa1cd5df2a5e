"""`spannerleaf new`: write a file to start from, which `check` accepts."""

from __future__ import annotations

import re
import shlex
import sys
import unicodedata
from pathlib import Path

import click

from builder.cli.asking import ask_bike, ask_name
from builder.cli.common import misused, workspace_option
from builder.cli.facts import FactError, Facts
from builder.model.parts import KINDS
from builder.sources.reading import Misread, read_name
from builder.sources.references import choices
from builder.sources.starters import bike_start, guide_start, part_start, workshop_start
from builder.sources.workspace import load

_ID = "ID"


@click.group("new")
def command() -> None:
    """Write a commented file to start from.

    \b
    Example:
      spannerleaf new workspace our-workshop
      cd our-workshop
      spannerleaf new bike
    """


def _ask_option(command: click.decorators.FC) -> click.decorators.FC:
    return click.option(
        "--ask/--no-ask", default=None, help="Ask questions, or ask none; without either, on a terminal only."
    )(command)


@command.command()
@click.argument("folder", metavar="[DIR]", default=".", type=click.Path(file_okay=False, path_type=Path))
@click.option("--name", help="The workshop's name, for the cards.")
@_ask_option
def workspace(folder: Path, name: str | None, ask: bool | None) -> None:
    """Make a folder for your own sources, laid over those that come with Spannerleaf.

    \b
    Example:
      spannerleaf new workspace our-workshop --name "Our workshop"
    """
    if name is None:
        name = ask_name("What is the workshop called?", "Our workshop") if _asks(ask) else "Our workshop"
    _write(folder / "workshop.yaml", workshop_start(name))
    inside = [] if folder.resolve() == Path.cwd() else [f"cd {shlex.quote(str(folder))}"]
    _next(*inside, "spannerleaf new bike")


@command.command()
@click.argument("guide_id", metavar=_ID)
@click.option("--title", help="The guide's title; without it, made from the id.")
@workspace_option
def guide(guide_id: str, title: str | None, workspace: Path | None) -> None:
    """Start a guide.

    \b
    Example:
      spannerleaf new guide saddle-height --title "Set the saddle's height"
    """
    _check_id(guide_id)
    _write(_folder(workspace) / f"{guide_id}.yaml", guide_start(title or _title(guide_id)))
    _next(f"spannerleaf check{_named(workspace)}", f"spannerleaf build{_named(workspace)} --guide {guide_id}")


@command.command()
@click.argument("bike_id", metavar=f"[{_ID}]", required=False)
@click.option("--name", help="What the bike is called.")
@click.option("--tag", default="", help="The number that hangs on it.")
@click.option(
    "--set",
    "facts",
    multiple=True,
    metavar="KEY=VALUE",
    help="A fact, such as rear-hub.axle=nutted, cassette=my-cassette, front-derailleur=none or 'rider.mass=75 kg'.",
)
@_ask_option
@workspace_option
def bike(
    bike_id: str | None, name: str | None, tag: str, facts: tuple[str, ...], ask: bool | None, workspace: Path | None
) -> None:
    """Describe a bike. On a terminal, questions are asked; each may be left open.

    \b
    Example:
      spannerleaf new bike heron --name Heron --set rear-hub.axle=quick-release \\
          --set 'frame.chainstay=432 ± 1 mm' --set crankset.rings=32
    """
    asks = _asks(ask)
    if name is None:
        name = ask_name("What is the bike called?", _title(bike_id or "my-bike")) if asks else _title(bike_id or "")
    bike_id = bike_id or _id_from(name)
    if not bike_id:
        misused("give the bike an id, such as 'spannerleaf new bike my-bike'")
    _check_id(bike_id)
    path = _folder(workspace) / "bikes" / f"{bike_id}.yaml"
    _refuse_to_overwrite(path)
    library = load(workspace).library
    known = Facts(library, tag=tag)
    for fact in facts:
        key, found, value = fact.partition("=")
        if not found or not value.strip():
            misused(f"'--set {fact}' wants KEY=VALUE, such as rear-hub.axle=nutted")
        try:
            known.set(key.strip(), value)
        except FactError as error:
            misused(f"--set {key}: {error}")
    if asks:
        ask_bike(known, library)
    _write(path, bike_start(known.of_bike(name)))
    _next(f"spannerleaf check{_named(workspace)}", f"spannerleaf build{_named(workspace)} --bike {bike_id} --every")


@command.command()
@click.argument("kind")
@click.argument("part_id", metavar=_ID)
@click.option("--name", help="What the part is called; without it, made from the id.")
@workspace_option
def part(kind: str, part_id: str, name: str | None, workspace: Path | None) -> None:
    """Start the file of a part. KIND is one of the folders under parts/, such as chain or rear-derailleur.

    \b
    Example:
      spannerleaf new part chain my-chain --name "Chain, 11 speeds"
    """
    if kind not in KINDS:
        misused(f"unknown kind of part '{kind}'; {choices(kind, KINDS, 'the kinds are')}")
    _check_id(part_id)
    path = _folder(workspace) / "parts" / kind / f"{part_id}.yaml"
    _write(path, part_start(kind, part_id, name or _title(part_id)))
    _next(f"spannerleaf check{_named(workspace)}")


def _asks(ask: bool | None) -> bool:
    return (sys.stdin.isatty() and sys.stdout.isatty()) if ask is None else ask


def _folder(workspace: Path | None) -> Path:
    return workspace if workspace is not None else Path()


def _named(workspace: Path | None) -> str:
    return "" if workspace is None else f" --workspace {shlex.quote(str(workspace))}"


def _title(name: str) -> str:
    return name.replace("-", " ").capitalize()


def _id_from(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")


def _check_id(name: str) -> None:
    try:
        read_name(name, what="name")
    except Misread as error:
        misused("; ".join((error.problems[0].message, *error.problems[0].hints[:1])))


def _refuse_to_overwrite(path: Path) -> None:
    if path.exists():
        misused(f"{path} is there already and stays as it is; choose another name, or change that file")


def _write(path: Path, text: str) -> None:
    """Write a new file; one that is there already is never touched."""
    _refuse_to_overwrite(path)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except OSError as error:
        misused(f"{path} can not be written: {error.strerror}")
    click.echo(f"{path} written")


def _next(*commands: str) -> None:
    click.echo("Next:")
    for command in commands:
        click.echo(f"  {command}")
