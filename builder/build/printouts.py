"""The PDFs beside the card sets: service sheets for the fleet, charts for the wall, and what each is made from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from builder.build.order import Order
from builder.build.printer import Printer
from builder.build.reaching import Workings
from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.memory import Memory
from builder.pages.contents import CardLink, Printouts
from builder.pages.paper import Paper
from builder.pages.service_sheet import service_sheet_html
from builder.pages.wall import tool_list_html, torque_chart_html, torque_wall_html, upkeep_html
from builder.printing.legibility import CardTexts, Margins
from builder.proof.jobs import Job, Mistaken, Outcome, Ready, Refused
from builder.tailoring import Tailored
from builder.tailoring.upkeep import Upkeeps

SHEETS, CHARTS = "sheets", "charts"
# What the theme keeps free on A4 and Letter; neither a sheet nor a chart is held by a thumb.
_MARGINS = Margins(binding_mm=10.0, other_mm=10.0, band_mm=4.0)
# A tag hangs from a handlebar by its upper edge, or lies in a pocket.
_TAG_MARGINS = Margins(binding_mm=7.0, other_mm=7.0, band_mm=4.0)
_TEXTS = CardTexts(margins=_MARGINS)
# So many bikes have their sheets in one file: what a print shop is sent at once. Each bike is laid out by itself.
_BIKES_IN_A_FILE = 20


class PrintoutKind(StrEnum):
    """What a printout is: a guide's service sheets, torques and tools of one bike, all torques, or all tools."""

    SHEETS = "sheets"
    BIKE = "bike"
    TORQUES = "torques"
    TOOLS = "tools"


@dataclass(frozen=True, slots=True, kw_only=True)
class Printout:
    """A printout before it is printed. `of` is the guide or the bike, by id; `path` is below the folder of the cards.

    `texts` is what the rules of print look for on it. Where nothing is printed, `html` is empty. `part` is its number
    among those of a large fleet, 0 for the whole.
    """

    kind: PrintoutKind
    of: str = ""
    paper: Paper
    path: str
    html: str
    texts: CardTexts = _TEXTS
    part: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class NoSheet:
    """A bike that has no service sheet of a guide, and why."""

    bike: Bike
    guide: Guide
    reason: str


def printouts(
    order: Order,
    library: Library,
    outcomes: Iterable[Outcome],
    printer: Printer,
    workings: Workings | None = None,
    upkeeps: Upkeeps | None = None,
) -> tuple[tuple[Printout, ...], tuple[NoSheet, ...]]:
    """Every printout of a build, and which bikes lack a sheet.

    Sheets are made for the guides that are ordered, for the bikes that are ordered. Charts tell of all guides, so that
    they are left out where only some guides are ordered.
    """
    work = workings or Workings(library, Memory())
    done = tuple(outcomes)
    papers = tuple(dict.fromkeys(paper.large for paper in order.papers))
    bikes = tuple(bike for name, bike in library.bikes.items() if not order.bikes or name in order.bikes)
    found: list[Printout] = []
    lacking: list[NoSheet] = []
    for guide in library.guides.values():
        if guide.service_sheet and (not order.guides or guide.id in order.guides):
            sheets = _sheets(guide, bikes, work, done, lacking)
            on = (Paper.A6,) if guide.tag else papers
            found.extend(_of_sheets(guide, sheets, on, printer, library, order.printing) if sheets else ())
    if not order.guides:
        found.extend(_charts(bikes, papers, printer, library, done, order.printing, upkeeps or Upkeeps(library)))
    return tuple(found), tuple(lacking)


def links_to(made: Iterable[Printout]) -> Printouts:
    """How the site's pages lead to what was made."""
    sheets: dict[str, tuple[CardLink, ...]] = {}
    bikes: dict[str, tuple[CardLink, ...]] = {}
    torques: list[CardLink] = []
    tools: list[CardLink] = []
    for one in made:
        label = f"{one.paper.label} ({one.part})" if one.part else one.paper.label
        link = CardLink(paper=label, href=f"cards/{one.path}")
        match one.kind:
            case PrintoutKind.SHEETS:
                sheets[one.of] = (*sheets.get(one.of, ()), link)
            case PrintoutKind.BIKE:
                bikes[one.of] = (*bikes.get(one.of, ()), link)
            case PrintoutKind.TORQUES:
                torques.append(link)
            case PrintoutKind.TOOLS:
                tools.append(link)
    return Printouts(sheets=sheets, bikes=bikes, torques=tuple(torques), tools=tuple(tools))


def _sheets(
    guide: Guide,
    bikes: tuple[Bike, ...],
    workings: Workings,
    done: tuple[Outcome, ...],
    lacking: list[NoSheet],
) -> tuple[Tailored, ...]:
    """The guide for each bike, from the build's own jobs where it is one of them.

    A sheet has no room for conditions, so that a bike has one only where its file answers all that the guide asks.
    """
    ready = {
        one.job.bike.id: one
        for one in done
        if isinstance(one, Ready)
        and one.job.guide.id == guide.id
        and one.job.bike is not None
        and not any(step.condition for step in one.tailored.steps)
    }
    found = []
    for bike in bikes:
        job = Job(guide=guide, bike=bike, planned=False)
        outcome: Outcome = ready.get(bike.id) or workings.of(job, leave_open=False)
        match outcome:
            case Ready(tailored=tailored):
                found.append(tailored)
            case Refused(reason=reason):
                lacking.append(NoSheet(bike=bike, guide=guide, reason=reason))
            case Mistaken(diagnostics=diagnostics):
                reason = "; ".join(diagnostic.message for diagnostic in diagnostics)
                lacking.append(NoSheet(bike=bike, guide=guide, reason=reason))
    return tuple(found)


def _of_sheets(
    guide: Guide,
    sheets: tuple[Tailored, ...],
    papers: tuple[Paper, ...],
    printer: Printer,
    library: Library,
    printing: bool,
) -> Iterator[Printout]:
    """The sheets of a guide on each paper; those of a large fleet are parted."""
    for paper in papers:
        for number, start in enumerate(range(0, len(sheets), _BIKES_IN_A_FILE), 1):
            some = sheets[start : start + _BIKES_IN_A_FILE]
            part = f"-{number}" if number > 1 else ""
            yield Printout(
                kind=PrintoutKind.SHEETS,
                of=guide.id,
                paper=paper,
                path=f"{SHEETS}/{guide.id}-{paper.value}{part}.pdf",
                part=number if len(sheets) > _BIKES_IN_A_FILE else 0,
                html=service_sheet_html(some, library, printer.theme, paper) if printing else "",
                texts=CardTexts(cautions=_cautions(guide, some), margins=_TAG_MARGINS if guide.tag else _MARGINS),
            )


def _cautions(guide: Guide, sheets: tuple[Tailored, ...]) -> tuple[str, ...]:
    summary = (shown for sheet in sheets for shown in sheet.summary_cautions)
    short = (shown for sheet in sheets for step in sheet.steps for shown in step.cautions)
    return tuple(dict.fromkeys(shown.text for shown in (short if guide.tag else summary)))


def _charts(
    bikes: tuple[Bike, ...],
    papers: tuple[Paper, ...],
    printer: Printer,
    library: Library,
    done: tuple[Outcome, ...],
    printing: bool,
    upkeeps: Upkeeps,
) -> Iterator[Printout]:
    theme = printer.theme
    generic = tuple(one.tailored for one in done if isinstance(one, Ready) and one.job.bike is None)
    upkeep = {bike.id: upkeeps.of(bike) for bike in bikes} if printing else {}
    for paper in papers:
        yield Printout(
            kind=PrintoutKind.TORQUES,
            paper=paper,
            path=f"{CHARTS}/torques-{paper.value}.pdf",
            html=torque_chart_html(library, theme, paper, upkeeps.families) if printing else "",
        )
        if paper is Paper.A4:  # no paper in inches is large enough for all of them on one side
            yield Printout(
                kind=PrintoutKind.TORQUES,
                paper=Paper.A2,
                path=f"{CHARTS}/torques-{Paper.A2.value}.pdf",
                html=torque_wall_html(library, theme, upkeeps.families) if printing else "",
            )
        yield Printout(
            kind=PrintoutKind.TOOLS,
            paper=paper,
            path=f"{CHARTS}/tools-{paper.value}.pdf",
            html=tool_list_html(library, generic, theme, paper) if printing else "",
        )
        for bike in bikes:
            yield Printout(
                kind=PrintoutKind.BIKE,
                of=bike.id,
                paper=paper,
                path=f"{CHARTS}/of-{bike.id}-{paper.value}.pdf",
                html=upkeep_html(upkeep[bike.id], library, theme, paper) if printing else "",
            )
