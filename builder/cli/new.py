"""`spannerleaf new`: write a file to start from, which `check` accepts."""

from __future__ import annotations

import re
import shlex
import sys
import unicodedata
from pathlib import Path

import click

from builder.build.remembering import load_remembered
from builder.cli.common import chosen_workspace, is_workspace, misused, new_workspace_option
from builder.cli.lookup import found
from builder.cli.questions import ask_bike, ask_name
from builder.model.dress import Dress
from builder.model.facts import StandardSet
from builder.model.guide import Guide
from builder.model.parts import KINDS, kind_of
from builder.rider.facts import FactError, Facts
from builder.sources.hints import choices
from builder.sources.layout import THEME_FILE
from builder.sources.loaded import shipped_theme_names
from builder.sources.reading import Misread, read_name
from builder.sources.starters import (
    bike_start,
    fastener_start,
    guide_start,
    part_start,
    standard_start,
    theme_start,
    tool_start,
    workshop_start,
)

_ID = "ID"
_WORKSHOP = "workshop.yaml"
# A job for which no part is wanted and that every bike has.
_FIRST_CARD = "check-before-a-ride"
_A_PART = "PART"


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

    The invented bikes of the demo stay away from it; the line 'demo-fleet' in its workshop.yaml brings them back.

    \b
    Example:
      spannerleaf new workspace our-workshop --name "Our workshop"
    """
    if name is None:
        name = ask_name("What is the workshop called?", "Our workshop") if _asks(ask) else "Our workshop"
    _write(folder / _WORKSHOP, workshop_start(name))
    here = folder.resolve() == Path.cwd()
    _next(
        f"spannerleaf new bike{_named(None if here else folder)}",
        f"spannerleaf check{_named(None if here else folder)}",
    )


@command.command()
@click.argument("guide_id", metavar=_ID)
@click.option("--title", help="The guide's title; without it, made from the id.")
@new_workspace_option
def guide(guide_id: str, title: str | None, workspace: Path | None) -> None:
    """Start a guide.

    \b
    Example:
      spannerleaf new guide saddle-height --title "Set the saddle's height"
    """
    _check_id(guide_id)
    _make_workspace(workspace)
    _write(_folder(workspace) / f"{guide_id}.yaml", guide_start(title or _title(guide_id)))
    where = _named(workspace)
    _next(
        f"spannerleaf check{where}",
        f"spannerleaf prove {guide_id}{where}",
        f"spannerleaf build{where} --guide {guide_id}",
    )


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
@click.option("--for", "job", metavar="GUIDE", help="Ask only what this guide wants to know.")
@_ask_option
@new_workspace_option
def bike(
    bike_id: str | None,
    name: str | None,
    tag: str,
    facts: tuple[str, ...],
    job: str | None,
    ask: bool | None,
    workspace: Path | None,
) -> None:
    """Describe a bike. On a terminal, questions are asked; each may be left open with Enter, all that remain with '.'.

    Only what still matters is asked: what earlier answers settle is not. A folder that is no workspace yet becomes one.

    \b
    Examples:
      spannerleaf new bike my-bike --workspace mine
      spannerleaf new bike my-bike --for chain-wear-check
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
    library = load_remembered(_readable(workspace)).library
    guide = found("guide", job, library.guides) if job is not None else None
    known = Facts(library, tag=tag)
    for fact in facts:
        key, equals, value = fact.partition("=")
        if not equals or not value.strip():
            misused(f"'--set {fact}' wants KEY=VALUE, such as rear-hub.axle=nutted")
        try:
            known.set(key.strip(), value)
        except FactError as error:
            misused(f"--set {key}: {error}")
    if asks:
        ask_bike(known, library, guide)
    _make_workspace(workspace)
    _write(path, bike_start(known.of_bike(name)))
    _next(*_after_bike(bike_id, guide, _named(workspace)))


def _after_bike(bike_id: str, guide: Guide | None, where: str) -> tuple[str, ...]:
    """What to type once a bike is described: the card it was described for, or one that suits every bike."""
    if guide is None:
        return (
            f"spannerleaf card {_FIRST_CARD} {bike_id}{where} -o {bike_id}.html",
            f"spannerleaf parts cassette{where}          # what is known; then: fit {bike_id}{where} --with PART",
        )
    wanted = f" --with {_A_PART}" if guide.wants else ""
    kinds = (
        f"spannerleaf parts {kind_of(role)}{where}          # the {_A_PART}s to choose from" for role in guide.wants
    )
    return (*kinds, f"spannerleaf card {guide.id} {bike_id}{where}{wanted} -o {bike_id}.html")


@command.command()
@click.argument("kind")
@click.argument("part_id", metavar=_ID)
@click.option("--name", help="What the part is called; without it, made from the id.")
@new_workspace_option
def part(kind: str, part_id: str, name: str | None, workspace: Path | None) -> None:
    """Start the file of a part. KIND is one of the folders under parts/, such as chain or rear-derailleur.

    \b
    Example:
      spannerleaf new part chain my-chain --name "Chain, 11 speeds"
    """
    if kind not in KINDS:
        misused(f"unknown kind of part '{kind}'; {choices(kind, KINDS, 'the kinds are')}")
    _check_id(part_id)
    _make_workspace(workspace)
    path = _folder(workspace) / "parts" / kind / f"{part_id}.yaml"
    own = load_remembered(_readable(workspace)).library.standards
    _write(path, part_start(kind, part_id, name or _title(part_id), own))
    _next(f"spannerleaf check{_named(workspace)}")


@command.command()
@click.argument("fastener_id", metavar=_ID)
@click.option("--name", help="What the fastener is called; without it, made from the id.")
@click.option("--thread", default="M5", show_default=True, help="A metric size such as M5 or M8x1, or words.")
@click.option("--head", default="hex-4", show_default=True, help="The id of its head in the catalogue.")
@new_workspace_option
def fastener(fastener_id: str, name: str | None, thread: str, head: str, workspace: Path | None) -> None:
    """Start a fastener of your own: what is tightened, and to which torque.

    \b
    Example:
      spannerleaf new fastener rack-bolt --name "rack bolt" --thread M5 --head hex-4
    """
    heads = load_remembered(_readable(workspace)).library.heads
    if head not in heads:
        misused(f"unknown head '{head}'; {choices(head, heads, 'the heads are')}")
    _add_record(
        workspace, "fasteners", fastener_id, fastener_start(fastener_id, _words(name, fastener_id), thread, head)
    )


@command.command()
@click.argument("tool_id", metavar=_ID)
@click.option("--name", help="What the tool is called; without it, made from the id.")
@new_workspace_option
def tool(tool_id: str, name: str | None, workspace: Path | None) -> None:
    """Start a tool of your own.

    \b
    Example:
      spannerleaf new tool hex-key-long --name "long 5 mm hexagon key"
    """
    _add_record(workspace, "tools", tool_id, tool_start(tool_id, _words(name, tool_id)))


@command.command()
@click.option("--based-on", "base", default=Dress().based_on, show_default=True, help="A theme that is shipped.")
@new_workspace_option
def theme(base: str, workspace: Path | None) -> None:
    """Start a theme of your own: your mark, colours and typeface, and any stylesheet or template.

    \b
    Example:
      spannerleaf new theme --workspace our-club
    """
    names = shipped_theme_names()
    if base not in names:
        misused(f"unknown theme '{base}'; {choices(base, names, 'the themes are')}")
    _make_workspace(workspace)
    _write(_folder(workspace) / "theme" / THEME_FILE, theme_start(base))
    _next(f"spannerleaf check{_named(workspace)}", f"spannerleaf preview{_named(workspace)}")


@command.command()
@click.argument("standard_id", metavar=_ID)
@click.option(
    "--of", "of", type=click.Choice([one.value for one in StandardSet]), required=True, help="What it is a kind of."
)
@click.option(
    "--like", default="", help="The known one whose steps do for it too; without it, a guide that asks is refused."
)
@click.option("--name", help="What the standard is called; without it, made from the id.")
@new_workspace_option
def standard(standard_id: str, of: str, like: str, name: str | None, workspace: Path | None) -> None:
    """Start a standard of your own: a sprocket, rotor or brake mount that none of the known ones is.

    Parts that name it go together, and go with no other.

    \b
    Example:
      spannerleaf new standard ten-spline --of sprocket-mount --like nine-spline --name "ten-spline freehub body"
    """
    words = StandardSet(of).words
    if like and like not in words:
        misused(f"no {of} is called '{like}'; {choices(like, words, 'there are')}")
    if standard_id in words:
        misused(f"'{standard_id}' is a {of} already; choose another name")
    _add_record(workspace, "standards", standard_id, standard_start(standard_id, _words(name, standard_id), of, like))


def _add_record(workspace: Path | None, collection: str, record: str, text: str) -> None:
    """Put a record at the end of its file in the catalogue, which is begun where it is not there."""
    _check_id(record)
    path = _folder(workspace) / "catalogue" / f"{collection}.yaml"
    if not path.exists():
        _make_workspace(workspace)
        _write(path, text)
    else:
        if re.search(rf"^{re.escape(record)}\s*:", path.read_text(encoding="utf-8"), re.MULTILINE):
            misused(f"{path} holds '{record}' already, and it stays as it is; choose another name, or change that file")
        try:
            with path.open("a", encoding="utf-8") as file:
                file.write(f"\n{text}")
        except OSError as error:
            misused(f"{path} can not be written: {error.strerror}")
        click.echo(f"'{record}' added to {path}")
    _next(f"spannerleaf check{_named(workspace)}")


def _make_workspace(workspace: Path | None) -> None:
    """Give a folder that is no workspace yet its `workshop.yaml`, so that later commands know it for one."""
    folder = _folder(workspace)
    if not is_workspace(folder):
        _write(folder / _WORKSHOP, workshop_start(_title(folder.resolve().name) or "Our workshop"))


def _readable(workspace: Path | None) -> Path | None:
    """The workspace to read, where it is there already."""
    return chosen_workspace(workspace) if workspace is None or workspace.is_dir() else None


def _words(name: str | None, record: str) -> str:
    return name or record.replace("-", " ")


def _asks(ask: bool | None) -> bool:
    return _on_terminal() if ask is None else ask


def _on_terminal() -> bool:
    """Whether somebody is there to answer."""
    return sys.stdin.isatty() and sys.stdout.isatty()


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
