"""`spannerleaf printed`: write down which cards were printed, so that a stale one is found out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import click

from builder.build.printer import Printer
from builder.cli.asked import found, loaded_soundly, parts_for
from builder.cli.common import Status, chosen_workspace, counted, finish, misused, workspace_option
from builder.cli.kept import day, keep, kept_records, listed, scalar, written
from builder.model.library import Library
from builder.model.printed import PrintedCard, PrintedStep, printed_id
from builder.pages.card import card_revision
from builder.proof.jobs import Job, Ready, wanted_jobs, work_out
from builder.proof.since_print import printed_steps
from builder.sources.text import hidden_in
from builder.sources.workspace import shipped_library

_HEAD = """\
# Which cards were printed, and what each shows of its steps. Written by `spannerleaf printed`. Take a card out when its
# paper is gone, or write `withdrawn:` with the reason where nobody may use it any more.
"""


@click.command("printed")
@click.argument("guide", required=False)
@click.argument("bike", required=False)
@click.option("--with", "parts", metavar="PART", multiple=True, help="A part that the card was made with.")
@click.option("--all", "every", is_flag=True, help="Every card that a plain build makes.")
@click.option("--date", metavar="YYYY-MM-DD", help="The day of printing; without it, today.")
@click.option("--withdraw", metavar="REASON", help="Take back the cards that were printed before, and say why.")
@workspace_option
def command(
    guide: str | None,
    bike: str | None,
    parts: tuple[str, ...],
    every: bool,
    date: str | None,
    withdraw: str | None,
    workspace: Path | None,
) -> None:
    """Write down that the card of GUIDE for BIKE, as it is now, was printed.

    One code names a card in all its forms. From then on 'spannerleaf check' warns when the card is stale, and the page
    that its code leads to tells what changed.

    \b
    Examples:
      spannerleaf printed wider-range-cassette heron
      spannerleaf printed --all
      spannerleaf printed wider-range-cassette heron --withdraw "the torque of the lockring was wrong"
    """
    if every == (guide is not None):
        misused("name a guide, or say --all")
    if withdraw is not None and (every or not withdraw.strip() or hidden_in(withdraw)):
        misused("--withdraw takes back the cards of one guide, with a reason that can be read")
    library = loaded_soundly(workspace).library
    path = (chosen_workspace(workspace) or shipped_library()) / "catalogue" / "printed.yaml"
    records = kept_records(path)
    when = day(date)
    if withdraw is not None:
        assert guide is not None
        count = _withdraw(records, printed_id(guide, bike or ""), withdraw.strip())
        if not count:
            misused(f"no card of '{guide}' for {bike or 'any bike'} is written down in {path}")
        keep(path, _text(records))
        click.echo(f"{counted(count, 'card')} withdrawn: {path}")
        return
    printer = Printer(folders=() if workspace is None else (workspace,))
    new = 0
    for job in wanted_jobs(library) if every else (_job(library, guide or "", bike, parts),):
        outcome = work_out(job, library)
        if not isinstance(outcome, Ready) or outcome.trouble:
            if every:
                continue
            click.echo("no such card can be made; 'spannerleaf card' says why", err=True)
            finish(Status.FINDINGS)
        tailored = outcome.tailored
        card = PrintedCard(
            revision=card_revision(tailored, printer.theme, workshop=library.workshop),
            date=when,
            parts=job.parts,
            steps=printed_steps(tailored),
        )
        new += _add(records, job.guide.id, job.bike.id if job.bike is not None else "", _plain(card))
    if new:
        keep(path, _text(records))
    click.echo(f"{counted(new, 'card')} written down: {path}")


def _job(library: Library, guide: str, bike: str | None, parts: tuple[str, ...]) -> Job:
    of = found("guide", guide, library.guides)
    on = None if bike is None else found("bike", bike, library.bikes)
    for name in parts:
        found("part", name, library.parts)
    return Job(guide=of, bike=on, parts=() if on is None else parts_for(on, of, parts))


def _withdraw(records: dict[str, Any], name: str, reason: str) -> int:
    cards = [card for card in records.get(name, {}).get("cards", ()) if "withdrawn" not in card]
    for card in cards:
        card["withdrawn"] = reason
    return len(cards)


def _add(records: dict[str, Any], guide: str, bike: str, card: dict[str, Any]) -> bool:
    """Whether the card is a new one: a code is written down once."""
    name = printed_id(guide, bike)
    record = records.setdefault(name, {"guide": guide, **({"bike": bike} if bike else {}), "cards": []})
    if any(other.get("revision") == card["revision"] for other in record["cards"]):
        return False
    record["cards"].append(card)
    return True


def _plain(card: PrintedCard) -> dict[str, Any]:
    """A card as a source file writes it, without what is empty."""
    written = {
        "revision": card.revision,
        "date": card.date,
        "parts": list(card.parts),
        "steps": [_plain_step(step) for step in card.steps],
    }
    return {key: value for key, value in written.items() if value}


def _plain_step(step: PrintedStep) -> dict[str, Any]:
    written = {"step": step.step, "says": step.says, "torque": step.torque, "cautions": list(step.cautions)}
    return {key: value for key, value in written.items() if value}


def _text(records: Mapping[str, Any]) -> str:
    return _HEAD + "\n".join(_lines(dict(sorted(records.items())))) + "\n"


def _lines(records: Mapping[str, Any]) -> Iterator[str]:
    """A line for each step, so that a comparison of two versions shows which step changed."""
    for name, record in records.items():
        yield f"{name}:"
        yield from (f"  {key}: {scalar(value)}" for key, value in record.items() if key != "cards")
        yield "  cards:"
        yield from listed(record["cards"], _flow)


def _flow(step: Mapping[str, Any]) -> str:
    return "{" + ", ".join(f"{key}: {written(value)}" for key, value in step.items()) + "}"
