"""`spannerleaf card`: one guide for one bike, as a card set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import click

from builder.build.examining import examined_for
from builder.build.order import CanNotPrint, Quiet
from builder.cli.common import (
    Status,
    counted,
    finish,
    has_errors,
    misused,
    show,
    tally,
    workspace_option,
)
from builder.cli.lookup import found, loaded_soundly, parts_for
from builder.cli.paper_options import holes_of, paper_options, sheet_of
from builder.diagnostics.diagnostic import Gravity
from builder.diagnostics.rendering import as_line
from builder.pages.form import Form
from builder.pages.leaf import Shape
from builder.pages.paper import Paper
from builder.pages.strings_en import EN
from builder.proof.jobs import Job, Mistaken, Ready, Refused, lacks_parts, wanted_words, work_out
from builder.sources.loaded import Loaded, shipped_library
from builder.tailoring import Tailored
from builder.tailoring.tailored import ShownStep

_KINDS = (".pdf", ".html")


@click.command("card")
@click.argument("guide")
@click.argument("bike")
@click.option("--with", "parts", metavar="PART", multiple=True, help="A part wanted; else those in the bike's file.")
@click.option(
    "--paper",
    type=click.Choice([paper.value for paper in Paper], case_sensitive=False),
    default=Paper.A5.value,
    show_default=True,
    help="What it is printed on.",
)
@click.option(
    "--form",
    type=click.Choice([form.value for form in Form], case_sensitive=False),
    default=Form.STEPS.value,
    show_default=True,
    help="What it is for: to work along, or to learn the job with every reason.",
)
@click.option("--landscape", is_flag=True, help="The long edge lies across.")
@click.option("--large", is_flag=True, help="For reading from farther away, as far as the theme says.")
@paper_options
@click.option("--explain", is_flag=True, help="Tell which steps were left out, and why.")
@click.option(
    "-o", "out", metavar="FILE", type=click.Path(dir_okay=False, path_type=Path), help="A .pdf or .html file."
)
@workspace_option
def command(
    guide: str,
    bike: str,
    parts: tuple[str, ...],
    paper: str,
    form: str,
    landscape: bool,
    large: bool,
    holes: str | None,
    sheet: str | None,
    round_corners: bool,
    single_sided: bool,
    explain: bool,
    out: Path | None,
    workspace: Path | None,
) -> None:
    """Make the card set of GUIDE for BIKE.

    \b
    Examples:
      spannerleaf card wider-range-cassette heron -o heron.pdf
      spannerleaf card wider-range-cassette heron --with cs-11-50-11s --paper a4 -o heron.pdf
      spannerleaf card wider-range-cassette heron --form teaching --paper a4 -o heron.pdf
      spannerleaf card wider-range-cassette heron --paper a3 --large --landscape -o heron.pdf
      spannerleaf card wider-range-cassette heron --paper a4 --holes side -o heron.pdf
      spannerleaf card wider-range-cassette heron --explain
    """
    if out is None and not explain:
        misused("name the file to write with -o FILE.pdf or -o FILE.html, or ask with --explain")
    if out is not None and out.suffix.lower() not in _KINDS:
        misused(f"'{out}' ends neither in .pdf nor in .html, so that the kind of card is not clear")
    if refusal := Form(form).refusal(Paper(paper), turned=landscape or large):
        misused(refusal)
    if holes is not None and Form(form) is Form.TEACHING:
        misused("a card with every reason keeps its left edge free for holes as it is; leave out --holes")
    to_cut = sheet_of(sheet, (Paper(paper),), round_corners=round_corners)
    if sheet is not None and landscape:
        misused("--sheet takes upright cards; leave out --landscape")
    if sheet is not None and (out is None or out.suffix.lower() != ".pdf"):
        misused("--sheet is for the printer: name a file that ends in .pdf")
    loaded = loaded_soundly(workspace)
    library = loaded.library
    on, of = found("bike", bike, library.bikes), found("guide", guide, library.guides)
    for name in parts:
        found("part", name, library.parts)
    _go_through_the_gate(loaded, guide, bike)
    job = Job(guide=of, bike=on, parts=parts_for(on, of, parts))
    if lacks_parts(job) and not any(planned.guide == guide for planned in on.jobs):
        misused(f"name the part that goes on with --with PART; '{guide}' plans for: {wanted_words(of)}")
    match work_out(job, library):
        case Refused(reason=reason):
            click.echo(f"'{guide}' is not for '{bike}': {reason}", err=True)
            finish(Status.FINDINGS)
        case Mistaken(diagnostics=diagnostics):
            if any(diagnostic.rule == "plan" for diagnostic in diagnostics) and parts:
                misused(diagnostics[0].message)
            show(diagnostics, loaded.texts, err=True)
            finish(Status.FINDINGS)
        case Ready(tailored=tailored, trouble=trouble):
            if explain:
                click.echo("\n".join(_explained(tailored)))
            if trouble:
                click.echo("No card can be made, since nothing in stock will do:", err=True)
                for line in trouble:
                    click.echo(f"  {line}", err=True)
                finish(Status.FINDINGS)
            if out is not None:
                shape = Shape(
                    landscape=landscape,
                    large=large,
                    holes=holes_of(holes),
                    one_sided=single_sided,
                )
                _write(tailored, Form(form), Paper(paper), shape, out, workspace, loaded)
                if to_cut is not None:
                    _on_sheets(out, Paper(paper), to_cut, double=not single_sided, rounded=round_corners)


def _go_through_the_gate(loaded: Loaded, guide: str, bike: str) -> None:
    """End with status 1 where anything is wrong with what the guide and the bike reach."""
    against = examined_for(loaded, [guide], [bike], Quiet())
    if has_errors(against):
        show((one for one in against if one.gravity is Gravity.ERROR), loaded.texts, err=True)
        click.echo(f"{tally(against)} in what '{guide}' draws on: nothing was made", err=True)
        finish(Status.FINDINGS)


def _explained(tailored: Tailored) -> Iterator[str]:
    """What is on the card, group by group, and then each step that is not, with its reason."""
    yield f"{counted(len(tailored.steps), 'step')} on the card:"
    for title, steps in _groups(tailored):
        yield f"  {title}: {counted(len(steps), 'step')}"
    yield f"{counted(len(tailored.left_out), 'step')} left out:"
    for left_out in tailored.left_out:
        yield f"  {left_out.step}: {left_out.do}"
        yield f"      {left_out.reason}"


def _groups(tailored: Tailored) -> Iterator[tuple[str, tuple[ShownStep, ...]]]:
    """The groups of the card that have steps, in its order, each with its heading."""
    groups = (
        *((section.title, section.steps) for section in tailored.sections),
        (EN.finish, tailored.finish),
        (EN.test, tailored.test),
    )
    return (group for group in groups if group[1])


def _write(
    tailored: Tailored, form: Form, paper: Paper, shape: Shape, out: Path, workspace: Path | None, loaded: Loaded
) -> None:
    from builder.build.dressing import dressed
    from builder.build.legible import card_texts, theme_findings
    from builder.build.letters import finding as letters_finding
    from builder.build.printer import Printer
    from builder.build.store import kept_blocks
    from builder.cli.standalone import for_browser
    from builder.pages.theme import ThemeError
    from builder.sources.photos import photo_files

    folders = () if workspace is None else (workspace,)
    dress = dressed(loaded.library, folders)
    show(dress.findings, {**loaded.texts, **dress.texts}, err=True)
    if has_errors(dress.findings):
        finish(Status.FINDINGS)
    photos = photo_files(loaded.library, (shipped_library(), *folders))
    printer = Printer(folders, dress.theme, photos, kept_blocks())
    as_html = out.suffix.lower() == ".html"
    try:
        html = printer.html(
            tailored,
            paper,
            loaded.library.workshop,
            form=form,
            standalone=as_html,
            shape=shape,
        )
        if as_html:
            out.write_text(for_browser(html), encoding="utf-8")
        else:
            printed = printer.pdf(html, card_texts(tailored, form, shape))
            stand_ins = printer.content(html).lacking
            letters = (letters_finding(stand_ins),) if stand_ins else ()
            broken = (*theme_findings(printer.theme), *printed.findings, *letters)
            for finding in broken:
                click.echo(
                    as_line(replace(finding, at=replace(finding.at, file=finding.at.file or str(out)))), err=True
                )
            if has_errors(broken):
                click.echo(f"the card breaks a rule of print: {out} was not written", err=True)
                finish(Status.FINDINGS)
            out.write_bytes(printed.data)
            for overflow in printed.overflows:
                click.echo(f"warning: {overflow}", err=True)
    except (ThemeError, CanNotPrint) as error:
        click.echo(f"spannerleaf: {error}", err=True)
        finish(Status.FINDINGS)
    except OSError as error:
        misused(f"'{out}' can not be written: {error.strerror}")
    sides = "" if as_html else f", {counted(printed.sides, 'side')}"
    click.echo(f"{counted(len(tailored.steps), 'step')} on {paper.label}{sides}: {out}", err=True)


def _on_sheets(out: Path, paper: Paper, sheet: Paper, *, double: bool, rounded: bool) -> None:
    """Put the card that was written on sheets to cut, in its place."""
    from builder.printing.sheets_to_cut import sheets_to_cut

    out.write_bytes(sheets_to_cut([out.read_bytes()], paper, sheet, double=double, rounded=rounded))
    how = "both sides" if double else "one side"
    click.echo(f"laid on sheets of {sheet.label}, printed on {how}", err=True)
