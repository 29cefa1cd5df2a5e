"""The PDFs beside the card sets: service sheets for the fleet, charts for the wall, and what each is made from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial

from builder.build.order import Order
from builder.build.printer import Content, Printer
from builder.build.reaching import Workings
from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.memory import Memory
from builder.pages.contents import CardLink, Printouts
from builder.pages.paper import Paper
from builder.pages.service_sheet import service_sheet_html
from builder.pages.theme import known_by
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
    among those of a large fleet, 0 for the whole. `content` is the printer's own word of its document, where known.
    """

    kind: PrintoutKind
    of: str = ""
    paper: Paper
    path: str
    html: str = ""
    texts: CardTexts = _TEXTS
    part: int = 0
    content: Content | None = None


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
    memory: Memory | None = None,
) -> tuple[tuple[Printout, ...], tuple[NoSheet, ...]]:
    """Every printout of a build, and which bikes lack a sheet.

    Sheets are made for the guides that are ordered, for the bikes that are ordered. Charts tell of all guides, so that
    they are left out where only some guides are ordered.
    """
    remember = memory or Memory(lasting=False)
    work, known = workings or Workings(library, remember), upkeeps or Upkeeps(library, remember)
    make = _Maker(printer, library, known, remember, order.printing)
    done = tuple(outcomes)
    papers = tuple(dict.fromkeys(paper.large for paper in order.papers))
    bikes = tuple(bike for name, bike in library.bikes.items() if not order.bikes or name in order.bikes)
    found: list[Printout] = []
    lacking: list[NoSheet] = []
    for guide in library.guides.values():
        if guide.service_sheet and (not order.guides or guide.id in order.guides):
            sheets = _sheets(guide, bikes, work, done, lacking)
            on = (Paper.A6,) if guide.tag else papers
            found.extend(_of_sheets(guide, sheets, on, make) if sheets else ())
    if not order.guides:
        found.extend(_charts(bikes, papers, done, make))
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


class _Maker:
    """Makes the document of a printout, or takes the one that was made before of the same records."""

    def __init__(self, printer: Printer, library: Library, upkeeps: Upkeeps, memory: Memory, printing: bool) -> None:
        self.printer, self.library, self.upkeeps = printer, library, upkeeps
        self._memory, self.printing = memory, printing

    def of(self, blank: Printout, records: tuple[object, ...], html: Callable[[], str]) -> Printout:
        """The printout with its document, which is made of these records and the catalogue; empty if none is due."""
        if not self.printing:
            return blank
        digest, dressed = known_by(self.printer.theme)
        held = (*records, self.upkeeps.catalogue, *dressed)
        return self._memory.of("printout", (blank, digest), held, lambda: self._made(blank, html()))

    def _made(self, blank: Printout, html: str) -> Printout:
        return replace(blank, html=html, content=self.printer.content(html, blank.texts))


def _of_sheets(
    guide: Guide, sheets: tuple[Tailored, ...], papers: tuple[Paper, ...], make: _Maker
) -> Iterator[Printout]:
    """The sheets of a guide on each paper; those of a large fleet are parted."""
    for paper in papers:
        for number, start in enumerate(range(0, len(sheets), _BIKES_IN_A_FILE), 1):
            some = sheets[start : start + _BIKES_IN_A_FILE]
            part = f"-{number}" if number > 1 else ""
            blank = Printout(
                kind=PrintoutKind.SHEETS,
                of=guide.id,
                paper=paper,
                path=f"{SHEETS}/{guide.id}-{paper.value}{part}.pdf",
                part=number if len(sheets) > _BIKES_IN_A_FILE else 0,
                texts=CardTexts(cautions=_cautions(guide, some), margins=_TAG_MARGINS if guide.tag else _MARGINS),
            )
            yield make.of(blank, some, partial(service_sheet_html, some, make.library, make.printer.theme, paper))


def _cautions(guide: Guide, sheets: tuple[Tailored, ...]) -> tuple[str, ...]:
    summary = (shown for sheet in sheets for shown in sheet.summary_cautions)
    short = (shown for sheet in sheets for step in sheet.steps for shown in step.cautions)
    return tuple(dict.fromkeys(shown.text for shown in (short if guide.tag else summary)))


def _charts(
    bikes: tuple[Bike, ...], papers: tuple[Paper, ...], done: tuple[Outcome, ...], make: _Maker
) -> Iterator[Printout]:
    library, theme, upkeeps = make.library, make.printer.theme, make.upkeeps
    generic = tuple(one.tailored for one in done if isinstance(one, Ready) and one.job.bike is None)
    families = upkeeps.families
    for paper in papers:
        path = f"{CHARTS}/torques-{paper.value}.pdf"
        blank = Printout(kind=PrintoutKind.TORQUES, paper=paper, path=path)
        yield make.of(blank, (families,), partial(torque_chart_html, library, theme, paper, families))
        if paper is Paper.A4:  # no paper in inches is large enough for all of them on one side
            path = f"{CHARTS}/torques-{Paper.A2.value}.pdf"
            blank = Printout(kind=PrintoutKind.TORQUES, paper=Paper.A2, path=path)
            yield make.of(blank, (families,), partial(torque_wall_html, library, theme, families))
        blank = Printout(kind=PrintoutKind.TOOLS, paper=paper, path=f"{CHARTS}/tools-{paper.value}.pdf")
        yield make.of(blank, generic, partial(tool_list_html, library, generic, theme, paper))
        for bike in bikes:
            path = f"{CHARTS}/of-{bike.id}-{paper.value}.pdf"
            blank = Printout(kind=PrintoutKind.BIKE, of=bike.id, paper=paper, path=path)
            if make.printing:
                upkeep = upkeeps.of(bike)
                blank = make.of(blank, (upkeep,), partial(upkeep_html, upkeep, library, theme, paper))
            yield blank
