"""`spannerleaf printed`: write down which cards, sheets and charts were printed, so that a stale one is found out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import click

from builder.build.printer import Printer
from builder.cli.common import Status, chosen_workspace, counted, finish, misused, workspace_option
from builder.cli.kept import day, keep, kept_records, listed, scalar, written
from builder.cli.lookup import found, loaded_soundly, parts_for
from builder.model.library import Library
from builder.model.printed import Printed, PrintedCard, PrintedSort, PrintedStep, printed_id
from builder.pages.card import card_revision
from builder.pages.printed_today import today_in
from builder.proof.jobs import Job, Ready, wanted_jobs, work_out
from builder.proof.since_print import printed_steps
from builder.sources.text import hidden_in
from builder.sources.workspace import shipped_library

_HEAD = """\
# Which cards, sheets and charts were printed, and what each shows. Written by `spannerleaf printed`. Take one out when
# its paper is gone, or write `withdrawn:` with the reason where nobody may use it any more.
"""


@click.command("printed")
@click.argument("guide", required=False)
@click.argument("bike", required=False)
@click.option("--with", "parts", metavar="PART", multiple=True, help="A part that the card was made with.")
@click.option("--sheet", is_flag=True, help="The service sheet or tag of GUIDE for BIKE, and not its card.")
@click.option("--chart", metavar="WHICH", help="A chart for the wall: torques, tools, or a bike for both of its own.")
@click.option("--all", "every", is_flag=True, help="Every card that a plain build makes.")
@click.option("--date", metavar="YYYY-MM-DD", help="The day of printing; without it, today.")
@click.option("--withdraw", metavar="REASON", help="Take back the cards that were printed before, and say why.")
@workspace_option
def command(
    guide: str | None,
    bike: str | None,
    parts: tuple[str, ...],
    sheet: bool,
    chart: str | None,
    every: bool,
    date: str | None,
    withdraw: str | None,
    workspace: Path | None,
) -> None:
    """Write down that the card of GUIDE for BIKE, its service sheet or a chart, as it is now, was printed.

    One code names a card in all its forms. From then on 'spannerleaf check' warns when the card is stale, and the page
    that its code leads to tells what changed.

    \b
    Examples:
      spannerleaf printed wider-range-cassette heron
      spannerleaf printed tag-before-a-ride heron --sheet
      spannerleaf printed --chart torques
      spannerleaf printed --all
      spannerleaf printed wider-range-cassette heron --withdraw "the torque of the lockring was wrong"
    """
    if [every, guide is not None, chart is not None].count(True) != 1:
        misused("name a guide, or say --all or --chart")
    if sheet and (bike is None or parts):
        misused("--sheet is of a guide for a bike as it stands: name both, without --with")
    if withdraw is not None and (every or not withdraw.strip() or hidden_in(withdraw)):
        misused("--withdraw takes back the cards of one guide or one chart, with a reason that can be read")
    library = loaded_soundly(workspace).library
    path = (chosen_workspace(workspace) or shipped_library()) / "catalogue" / "printed.yaml"
    records = kept_records(path)
    when = day(date)
    other = _other(library, guide, bike, chart, sheet=sheet)
    if withdraw is not None:
        name = other.id if other is not None else printed_id(guide or "", bike or "")
        count = _withdraw(records, name, withdraw.strip())
        if not count:
            misused(f"nothing is written down as '{name}' in {path}")
        keep(path, _text(records))
        click.echo(f"{counted(count, 'print')} withdrawn: {path}")
        return
    printer = Printer(folders=() if workspace is None else (workspace,))
    new = 0
    if other is not None:
        now = today_in(library, printer.theme)(other, ())
        if now is None:
            click.echo(f"no {other.sort.value} of '{other.guide}' is made for '{other.bike}'", err=True)
            finish(Status.FINDINGS)
        steps = tuple(step for step, _ in now.steps)
        new += _add(records, other, _plain(PrintedCard(revision=now.revision, date=when, steps=steps)))
    jobs = () if other is not None else wanted_jobs(library) if every else (_job(library, guide or "", bike, parts),)
    for job in jobs:
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
        bike_id = job.bike.id if job.bike is not None else ""
        printed = Printed(id=printed_id(job.guide.id, bike_id), guide=job.guide.id, bike=bike_id)
        new += _add(records, printed, _plain(card))
    if new:
        keep(path, _text(records))
    click.echo(f"{counted(new, 'print')} written down: {path}")


def _other(library: Library, guide: str | None, bike: str | None, chart: str | None, *, sheet: bool) -> Printed | None:
    """The sheet or the chart that is asked for; None where it is a card."""
    if chart is not None:
        whole = chart in (PrintedSort.TORQUES, PrintedSort.TOOLS)
        sort = PrintedSort(chart) if whole else PrintedSort.BIKE
        of = "" if whole else found("bike", chart, library.bikes).id
        return Printed(id=printed_id("", of, sort), sort=sort, bike=of)
    if not sheet:
        return None
    of_guide, on = found("guide", guide or "", library.guides), found("bike", bike or "", library.bikes)
    if not of_guide.service_sheet:
        misused(f"'{of_guide.id}' has no service sheet: its file does not say 'service-sheet: true'")
    name = printed_id(of_guide.id, on.id, PrintedSort.SHEET)
    return Printed(id=name, sort=PrintedSort.SHEET, guide=of_guide.id, bike=on.id)


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


def _add(records: dict[str, Any], printed: Printed, card: dict[str, Any]) -> bool:
    """Whether the card is a new one: a code is written down once."""
    sort = "" if printed.sort is PrintedSort.CARD else printed.sort.value
    named = {"sort": sort, "guide": printed.guide, "bike": printed.bike}
    record = records.setdefault(printed.id, {**{key: value for key, value in named.items() if value}, "cards": []})
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
