"""Build the site and the cards: read, work out, write pages, print what changed, and put the new state in place.

    sources ─► library ─► jobs ─► outcomes ─► pages and cards as HTML ─► PDFs (from the store, or printed) ─► output
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Protocol

from builder.build import fingerprint
from builder.build.jobs import Mistaken, Outcome, Ready, Refused, wanted_jobs, work_out
from builder.build.output import ASIDE, staged
from builder.build.state import remember, remembered
from builder.build.store import Store
from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.model.library import Library
from builder.pages.paper import Paper

SITE, CARDS = "site", "cards"
INDEX = f"{SITE}/index.html"


class Progress(Protocol):
    """Who wants to know how far a build is."""

    def begin(self, words: str, total: int) -> None:
        """A stretch of work begins that has `total` parts."""

    def advance(self) -> None:
        """A part of it is done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What to build, and from what.

    Args:
        workspace: the folder laid over the library; None for the library alone.
        out: the folder that the output goes to.
        guides, bikes: only these, by id; all where none is named.
        papers: what the cards are printed on.
        every: each guide for each bike that it suits.
        processes: how many processes may print at one time.
    """

    workspace: Path | None = None
    out: Path = Path("output")
    guides: tuple[str, ...] = ()
    bikes: tuple[str, ...] = ()
    papers: tuple[Paper, ...] = (Paper.A5,)
    every: bool = False
    processes: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What is said of a whole build: its numbers, and what could not be made or does not look right."""

    pages: int
    cards: int
    bikes: int
    refused: tuple[str, ...] = ()
    troubled: tuple[str, ...] = ()
    overflows: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """How a build ended. With error diagnostics nothing was written and `told` is None.

    `printed` is how many cards were printed and not taken from the store; `unchanged` says that nothing was to be done.
    """

    told: Told | None
    printed: int = 0
    unchanged: bool = False
    diagnostics: tuple[Diagnostic, ...] = ()
    texts: Mapping[str, str] = field(default_factory=dict)


# Looks at a whole library for mistakes; `sound` says that its sources were read without one.
Examine = Callable[..., tuple[Diagnostic, ...]]


class Unknown(ValueError):
    """A guide or a bike was named that is not there: what kind, its name, and the known ones."""

    def __init__(self, what: str, name: str, known: Iterable[str]) -> None:
        super().__init__(f"unknown {what} '{name}'")
        self.what, self.name, self.known = what, name, tuple(known)


def build(order: Order, progress: Progress, examine: Examine = lambda library, *, sound: ()) -> Built:
    """Build what is ordered.

    Raises:
        Unknown: a guide or bike is named that is not there.
        OutputRefused: the output folder can't be used.
    """
    made_from = _made_from(order)
    before = remembered(order.out, made_from)
    if before is not None:
        lists = {name: tuple(value) for name, value in before.items() if isinstance(value, list)}
        return Built(told=Told(**{**before, **lists}), unchanged=True)
    # Only now what takes time to import.
    from builder.sources.workspace import load

    progress.begin("Reading the sources", 1)
    loaded = load(order.workspace)
    progress.advance()
    found = loaded.diagnostics
    sound = not _has_errors(found)
    found = ordered((*found, *examine(loaded.library, sound=sound)))
    if _has_errors(found):
        return Built(told=None, diagnostics=found, texts=loaded.texts)
    outcomes = _worked_out(order, loaded.library, progress)
    mistakes = tuple(d for outcome in outcomes if isinstance(outcome, Mistaken) for d in outcome.diagnostics)
    found = ordered((*found, *mistakes))
    if _has_errors(found):
        return Built(told=None, diagnostics=found, texts=loaded.texts)
    told, paths, printed = _write(order, loaded.library, outcomes, progress)
    remember(order.out, made_from, paths, asdict(told))
    return Built(told=told, printed=printed, diagnostics=found, texts=loaded.texts)


def _made_from(order: Order) -> str:
    """The fingerprint of everything that the output comes from."""
    package = Path(__file__).parent.parent
    shipped = [package / "_library", package.parent / "guides", package.parent / "themes"]
    folders = [] if order.workspace is None else [order.workspace]
    wishes = (order.workspace is None, order.guides, order.bikes, order.papers, order.every)
    return fingerprint.digest(
        repr(wishes),
        fingerprint.of_program(),
        fingerprint.of_folders(shipped),
        *(fingerprint.of_sources(folder) for folder in folders),
    )


def _worked_out(order: Order, library: Library, progress: Progress) -> tuple[Outcome, ...]:
    for name in order.guides:
        if name not in library.guides:
            raise Unknown("guide", name, library.guides)
    for name in order.bikes:
        if name not in library.bikes:
            raise Unknown("bike", name, library.bikes)
    jobs = wanted_jobs(library, guides=order.guides, bikes=order.bikes, every=order.every)
    progress.begin("Working out", len(jobs))
    outcomes = []
    for job in jobs:
        outcomes.append(work_out(job, library))
        progress.advance()
    return tuple(outcomes)


def _write(
    order: Order, library: Library, outcomes: tuple[Outcome, ...], progress: Progress
) -> tuple[Told, list[str], int]:
    from builder.build.cards import Card, card_of, printed_cards
    from builder.build.printer import Printer
    from builder.build.website import website

    folders = () if order.workspace is None else (order.workspace,)
    printer = Printer(folders)
    ready = tuple(outcome for outcome in outcomes if isinstance(outcome, Ready))
    cards: list[Card] = [
        card_of(one, paper, printer, library.workshop) for one in ready if not one.trouble for paper in order.papers
    ]
    overflows: list[str] = []
    with staged(order.out) as staging:
        pages = website(library, outcomes, cards, printer.theme)
        progress.begin("Writing the pages", len(pages))
        for path, data in pages.items():
            staging.write(f"{SITE}/{path}", data)
            progress.advance()
        store = Store(order.out / ASIDE / "store")
        printed = 0
        for card, pdf in printed_cards(cards, store, printer, folders, order.processes, progress):
            staging.write(f"{CARDS}/{card.path}", pdf.data)
            # The site carries its cards along, so that it can be put on a host by itself.
            staging.write(f"{SITE}/{CARDS}/{card.path}", pdf.data)
            overflows.extend(f"{card.path}: {overflow}" for overflow in pdf.overflows)
            printed += pdf.new
        store.prune()
    told = Told(
        pages=sum(path.endswith(".html") for path in pages),
        cards=len(cards),
        bikes=len({one.job.bike.id for one in ready if one.job.bike is not None}),
        refused=tuple(
            f"{one.job.bike.name}: {one.job.guide.title}: {one.reason}"
            for one in outcomes
            if isinstance(one, Refused) and one.job.bike is not None and one.job.planned
        ),
        troubled=tuple(
            f"{one.job.bike.name}: {one.job.guide.title}: {' '.join(one.trouble)}"
            for one in ready
            if one.trouble and one.job.bike is not None
        ),
        overflows=tuple(sorted(overflows)),
    )
    return told, sorted(staging.paths), printed


def _has_errors(diagnostics: Iterable[Diagnostic]) -> bool:
    return any(diagnostic.gravity is Gravity.ERROR for diagnostic in diagnostics)
