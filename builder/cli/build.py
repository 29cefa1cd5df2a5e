"""`spannerleaf build`: the site and the cards, from one whole state to the next."""

from __future__ import annotations

from pathlib import Path

import click
from jinja2 import TemplateError

from builder.build.driver import INDEX, build
from builder.build.machine import cores
from builder.build.order import BuildReport, Built, CanNotPrint, Order, Unknown
from builder.build.output import OutputRefused
from builder.cli.common import (
    Status,
    chosen_workspace,
    counted,
    finish,
    list_waivers,
    misused,
    show,
    tally,
    workspace_option,
)
from builder.cli.paper_options import holes_of, paper_options, sheet_of
from builder.cli.progress import progress_shown
from builder.diagnostics.diagnostic import nearest
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.pages.theme import ThemeError


@click.command("build")
@workspace_option
@click.option(
    "--out",
    metavar="DIR",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("output"),
    show_default=True,
    help="Where the site and the cards go.",
)
@click.option("--guide", "guides", metavar="ID", multiple=True, help="Only this guide; repeatable.")
@click.option("--bike", "bikes", metavar="ID", multiple=True, help="Only this bike; repeatable.")
@click.option(
    "--paper",
    "papers",
    type=click.Choice([paper.value for paper in Paper], case_sensitive=False),
    multiple=True,
    default=(Paper.A5.value,),
    show_default=True,
    help="What the cards are printed on; repeatable.",
)
@click.option(
    "--form",
    "forms",
    type=click.Choice([form.value for form in Form], case_sensitive=False),
    multiple=True,
    default=(Form.STEPS.value,),
    show_default=True,
    help="What the cards are for; repeatable.",
)
@paper_options
@click.option("--every", is_flag=True, help="Each guide for each bike that it suits, not the planned jobs alone.")
@click.option("--processes", type=click.IntRange(1, 64), help="How many processes print; without it one a processor.")
@click.option(
    "--on", metavar="ADDRESS", default="", help="Print on a dask.distributed cluster, such as tcp://host:8786."
)
@click.option(
    "--keep-going",
    is_flag=True,
    help="Leave a guide or a bike with a mistake out, keep its old output, and build all others.",
)
@click.option("--verify", is_flag=True, help="Build it again under other conditions, and compare byte by byte.")
def command(
    workspace: Path | None,
    out: Path,
    guides: tuple[str, ...],
    bikes: tuple[str, ...],
    papers: tuple[str, ...],
    forms: tuple[str, ...],
    holes: str | None,
    sheet: str | None,
    round_corners: bool,
    single_sided: bool,
    every: bool,
    processes: int | None,
    on: str,
    keep_going: bool,
    verify: bool,
) -> None:
    """Build the site and the cards.

    Every guide is built in its generic form, and for each bike the jobs that its file plans. What has not changed is
    not made again. With --sheet, a file for each bike holds all its cards on sheets to cut.

    \b
    Examples:
      spannerleaf build
      spannerleaf build --workspace ~/our-workshop --out public --paper a4
      spannerleaf build --bike heron --guide wider-range-cassette
    """
    chosen = [(Form(form), Paper(paper)) for form in forms for paper in papers]
    if all(form.refusal(paper) for form, paper in chosen):
        misused(next(form.refusal(paper) for form, paper in chosen))
    papers_asked = tuple(dict.fromkeys(map(Paper, papers)))
    order = Order(
        workspace=chosen_workspace(workspace),
        out=out,
        guides=guides,
        bikes=bikes,
        papers=papers_asked,
        forms=tuple(dict.fromkeys(Form(form) for form in forms)),
        holes=holes_of(holes),
        one_sided=single_sided,
        sheet=sheet_of(sheet, papers_asked, round_corners=round_corners),
        rounded=round_corners,
        every=every,
        processes=processes or cores(),
        keep_going=keep_going,
        on=on,
    )
    try:
        with progress_shown() as progress:
            built = build(order, progress)
    except Unknown as error:
        near = nearest(error.name, error.known)
        misused(f"{error}" + (f"; did you mean '{near}'?" if near else f"; known: {', '.join(error.known)}"))
    except OutputRefused as error:
        misused(str(error))
    except (ThemeError, CanNotPrint) as error:
        click.echo(f"spannerleaf: {error}", err=True)
        finish(Status.FINDINGS)
    except TemplateError as error:
        click.echo(f"spannerleaf: the theme: {error}", err=True)
        finish(Status.FINDINGS)
    _tell(built, out)
    if verify:
        _verify(order)
    if built.set_aside:
        finish(Status.FINDINGS)


def _verify(order: Order) -> None:
    from builder.build.verifying import verified

    click.echo("Building it again to compare", err=True)
    found = verified(order)
    if found.failed:
        click.echo(f"spannerleaf: not verified: {found.failed}", err=True)
        finish(Status.FINDINGS)
    for path in found.differing:
        click.echo(f"differs: {path}", err=True)
    if found.differing:
        click.echo(f"{counted(len(found.differing), 'file')} of {found.files} differ", err=True)
        finish(Status.FINDINGS)
    click.echo(f"Built twice, {counted(found.files, 'file')}, the same bytes each")


def _tell(built: Built, out: Path) -> None:
    show(built.diagnostics, built.texts, err=True)
    told = built.told
    if told is None:
        click.echo(f"{tally(built.diagnostics)}: nothing was built, {out} is as it was", err=True)
        finish(Status.FINDINGS)
    for words in told.refused:
        click.echo(f"not for this bike: {words}", err=True)
    for words in told.troubled:
        click.echo(f"page without a card: {words}", err=True)
    for words in told.overflows:
        click.echo(f"does not fit on the card: {words}", err=True)
    for words in told.print_findings:
        click.echo(words, err=True)
    for words in told.kept:
        click.echo(f"kept, though no build made it: {out / words}", err=True)
    for words in told.notes:
        click.echo(f"note: {words}", err=True)
    for words in (f"left out for its mistakes: {one}" for one in built.set_aside):
        click.echo(words, err=True)
    for words in built.stale:
        click.echo(f"stale, of an earlier build: {out / words}", err=True)
    list_waivers(told.waivers, err=True)
    made = _made(told)
    if built.unchanged:
        click.echo(f"Nothing has changed: {made} stand in {out / INDEX} and {out / 'cards'}")
    else:
        new = f" ({built.printed} printed anew)" if told.cards + told.sheets + told.charts else ""
        click.echo(f"Built {made}{new} for {counted(told.bikes, 'bike')}: {out / INDEX} and {out / 'cards'}")


def _made(told: BuildReport) -> str:
    """How many pages there are, and how many PDFs of each kind."""
    kinds = [counted(told.pages, "page"), counted(told.cards, "card set")]
    kinds += [f"{counted(told.sheets, 'set')} of service sheets"] if told.sheets else []
    kinds += [counted(told.charts, "chart")] if told.charts else []
    return f"{', '.join(kinds[:-1])} and {kinds[-1]}"
