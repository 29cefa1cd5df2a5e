"""Make what is ordered: everything of a build but the question whether there is anything to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import product

from builder.build import fingerprint
from builder.build.cards import CARDS, Card, card_of, printed_cards
from builder.build.collector import collect_now_and_then
from builder.build.dressing import dressed
from builder.build.examining import examined, is_sound
from builder.build.legible import theme_findings
from builder.build.order import BuildReport, Built, Order, Progress, SetAside, Unknown
from builder.build.output import ASIDE, staged
from builder.build.printer import Printer, of_dress, of_photos
from builder.build.printouts import NoSheet, PrintoutKind, links_to, printouts
from builder.build.reaching import Workings
from builder.build.rider_files import NOT_THERE, has_runtime
from builder.build.set_aside import keep_old, split, without
from builder.build.store import Store, kept_blocks, prune_kept
from builder.build.to_cut import files_to_cut
from builder.build.website import website
from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.diagnostics.rendering import as_line
from builder.model.catalogue import Workshop
from builder.model.library import Library
from builder.model.memory import Memory
from builder.pages.printed_page import code_of, key_of
from builder.pages.strings_en import EN
from builder.proof.jobs import Mistaken, Outcome, Ready, Refused, wanted_jobs
from builder.proof.waived import own_waivers, waived
from builder.sources.loaded import shipped_library
from builder.sources.photos import photo_files
from builder.sources.workspace import load
from builder.tailoring import Alike
from builder.tailoring.upkeep import Upkeeps

SITE = "site"


def make(order: Order, progress: Progress, memory: Memory) -> tuple[Built, tuple[str, ...]]:
    """How the build ended, and every path that it wrote.

    Raises:
        Unknown, OutputRefused: as `builder.build.driver.build`.
    """
    progress.begin("Reading the sources", 1)
    memory.turn()
    loaded = load(order.workspace, memory=memory)
    progress.advance()
    if is_sound(loaded):  # a bike whose file has a mistake is not unknown
        _refuse_unknown(order, loaded.library)
    sources = (shipped_library(), *order.folders)
    aside, rest = split(loaded, loaded.diagnostics, sources) if order.keep_going else ((), loaded.diagnostics)
    texts, whole = loaded.texts, loaded
    if aside and not _has_errors(rest):
        loaded = without(whole, aside)
    found = ordered((*whole.diagnostics, *examined(loaded, order.processes, progress, building=True, memory=memory)))
    if order.keep_going and is_sound(loaded):
        aside, rest = split(whole, found, sources)
        loaded = without(whole, aside)
    if _has_errors(rest if order.keep_going else found):
        return Built(told=None, diagnostics=found, texts=texts), ()
    workings = Workings(loaded.library, memory)
    outcomes = _worked_out(order, loaded.library, workings, memory, progress)
    mistaken = tuple(outcome for outcome in outcomes if isinstance(outcome, Mistaken))
    found = ordered((*found, *(one for outcome in mistaken for one in outcome.diagnostics)))
    if mistaken and not order.keep_going:
        return Built(told=None, diagnostics=found, texts=texts), ()
    aside += tuple(_job_aside(outcome) for outcome in mistaken)
    dress = dressed(loaded.library, order.folders)
    found = ordered((*found, *dress.findings))
    if _has_errors(dress.findings):
        return Built(told=None, diagnostics=found, texts={**texts, **dress.texts}), ()
    photos = photo_files(loaded.library, sources)
    digest = fingerprint.digest(of_dress(dress.theme, order.folders), of_photos(photos))
    theme = replace(dress.theme, digest=digest)
    make_printer = partial(Printer, order.folders, theme, photos, kept_blocks())
    printer = memory.of("printer", (order.folders, digest), (), make_printer)
    worn = theme_findings(printer.theme) if order.printing else ()
    if _has_errors(worn):
        return Built(told=None, diagnostics=ordered((*found, *worn)), texts=texts), ()
    try:
        written = _write(order, loaded.library, outcomes, aside, printer, worn, workings, memory, progress)
    except _Illegible as broken:
        return Built(told=None, diagnostics=ordered((*found, *broken.findings)), texts=texts), ()
    told = replace(written.told, waivers=tuple(map(str, own_waivers(waived(loaded.library), loaded.laid_under))))
    built = Built(
        told=told,
        printed=written.printed,
        diagnostics=ordered((*found, *(one for card in written.illegible for one in card.diagnostics))),
        texts=texts,
        set_aside=(*aside, *written.illegible),
        stale=written.stale,
    )
    return built, written.paths


@dataclass(frozen=True, slots=True, kw_only=True)
class _Written:
    """What is told of pages and cards, how many were printed, every path, the stale ones, and cards left out."""

    told: BuildReport
    printed: int
    paths: tuple[str, ...]
    stale: tuple[str, ...]
    illegible: tuple[SetAside, ...]


def _job_aside(outcome: Mistaken) -> SetAside:
    bike = outcome.job.bike
    return SetAside(guide=outcome.job.guide.id, bike="" if bike is None else bike.id, diagnostics=outcome.diagnostics)


class _Illegible(Exception):
    """Cards break a grave rule of print, so that nothing is published."""

    def __init__(self, findings: Iterable[Diagnostic]) -> None:
        super().__init__("cards break a rule of print")
        self.findings = tuple(findings)


def _refuse_unknown(order: Order, library: Library) -> None:
    for what, names, known in (("guide", order.guides, library.guides), ("bike", order.bikes, library.bikes)):
        for name in names:
            if name not in known:
                raise Unknown(what, name, known)


def _worked_out(
    order: Order, library: Library, workings: Workings, memory: Memory, progress: Progress
) -> tuple[Outcome, ...]:
    jobs = wanted_jobs(library, guides=order.guides, bikes=order.bikes, every=order.every)
    progress.begin("Working out", len(jobs))
    outcomes = []
    sharing = memory.once.of(Alike, Alike).sharing
    for job in jobs:
        collect_now_and_then()
        outcome = workings.of(job)
        # A memory that lasts knows what was made by being the same object.
        outcomes.append(outcome if memory.is_lasting else sharing.of(outcome))
        progress.advance()
    # What jobs have alike stays in what they came to; how it was known again is no longer asked.
    memory.once.forget(Alike)
    return tuple(outcomes)


def _write(
    order: Order,
    library: Library,
    outcomes: tuple[Outcome, ...],
    aside: tuple[SetAside, ...],
    printer: Printer,
    worn: tuple[Diagnostic, ...],
    workings: Workings,
    memory: Memory,
    progress: Progress,
) -> _Written:
    """Write pages and cards.

    Raises:
        _Illegible: cards break a grave rule of print; the output stays as it was.
    """
    # Who asks for every card of some bikes wants theirs, and not those for any bike.
    every_for_bikes = order.every and bool(order.bikes)
    cards: list[Card] = []
    codes: dict[tuple[str, str], str] = {}
    for one in outcomes:
        if not isinstance(one, Ready):
            continue
        collect_now_and_then()
        code = codes[key_of(one.tailored)] = code_of(one.tailored, printer.theme, EN, library.workshop, memory)
        if not one.trouble and not (every_for_bikes and one.job.bike is None):
            cards += _cards_of(one, code, order, printer, library.workshop, memory)
    upkeeps = Upkeeps(library, memory)
    others, lacking = printouts(order, library, outcomes, printer, workings, upkeeps, memory)
    overflows: list[str] = []
    broken: list[Diagnostic] = list(worn)
    illegible: list[SetAside] = []
    printed = 0
    with staged(order.out) as staging:
        rider = _has_rider_page(order, library)
        pages = website(
            library,
            outcomes,
            cards,
            links_to(others),
            printer.theme,
            memory,
            codes=codes,
            work=workings.of,
            upkeeps=upkeeps,
            rider=rider and has_runtime(),
            photos=printer.photos,
        )
        # A page for each guide, one for its code, two for each bike; the lists are few beside them.
        progress.begin("Writing the pages", 2 * len(outcomes) + 2 * len(library.bikes))
        written = 0
        for path, data in pages:
            collect_now_and_then()
            staging.write(f"{SITE}/{path}", data)
            written += path.endswith(".html")
            progress.advance()
        store = Store(order.out / ASIDE / "store")
        for card, pdf in printed_cards((*cards, *others) if order.printing else (), store, printer, order, progress):
            if order.keep_going and isinstance(card, Card) and _has_errors(pdf.findings):
                illegible.append(SetAside(guide=card.guide, bike=card.bike, diagnostics=pdf.findings))
                continue
            staging.write(f"{CARDS}/{card.path}", pdf.data)
            # The site carries its cards along, so that it can be put on a host by itself.
            staging.write(f"{SITE}/{CARDS}/{card.path}", pdf.data)
            overflows.extend(f"{card.path}: {overflow}" for overflow in pdf.overflows)
            broken.extend(pdf.findings)
            printed += pdf.new
        store.prune()
        prune_kept()
        if _has_errors(broken):
            raise _Illegible(broken)
        for path, data in files_to_cut(cards, order, lambda path: staging.read(f"{CARDS}/{path}")):
            staging.write(f"{CARDS}/{path}", data)
        stale = keep_old(staging, order.out, (*aside, *illegible))
    told = BuildReport(
        pages=written,
        cards=len(cards),
        bikes=len({one.job.bike.id for one in outcomes if isinstance(one, Ready) and one.job.bike is not None}),
        sheets=sum(one.kind is PrintoutKind.SHEETS for one in others),
        charts=sum(one.kind is not PrintoutKind.SHEETS for one in others),
        refused=(*_refusals(outcomes), *_without_sheet(lacking)),
        troubled=tuple(_troubles(outcomes)),
        overflows=tuple(sorted(overflows)),
        print_findings=tuple(map(as_line, ordered(broken))),
        kept=staging.kept,
        notes=() if not rider or has_runtime() else (NOT_THERE,),
    )
    return _Written(
        told=told, printed=printed, paths=tuple(sorted(staging.paths)), stale=stale, illegible=tuple(illegible)
    )


def _cards_of(
    ready: Ready, code: str, order: Order, printer: Printer, workshop: Workshop, memory: Memory
) -> Iterator[Card]:
    """The cards of a job that are ordered, with their code; those that were made since `memory` began are not made."""
    digest = printer.theme.digest
    for paper, form in product(order.papers, order.forms):
        if not form.refusal(paper):
            make = partial(
                card_of, ready, form, paper, printer, workshop, code=code, shape=order.shape, printing=order.printing
            )
            yield memory.of("card", (form, paper, order.shape, order.printing, digest), (ready, workshop), make)


def _has_rider_page(order: Order, library: Library) -> bool:
    """Whether the page on which a rider fits a guide is wanted; a build of some guides or bikes alone goes without."""
    return library.workshop.rider_page and not order.guides and not order.bikes


def _refusals(outcomes: Iterable[Outcome]) -> Iterable[str]:
    for one in outcomes:
        if isinstance(one, Refused) and one.job.bike is not None and (one.job.planned or one.job.named):
            yield f"{one.job.bike.name}: {one.job.guide.title}: {one.reason}"


def _without_sheet(lacking: Iterable[NoSheet]) -> Iterable[str]:
    for one in lacking:
        yield f"{one.bike.name}: {one.guide.title}: {one.reason}"


def _troubles(outcomes: Iterable[Outcome]) -> Iterable[str]:
    for one in outcomes:
        if isinstance(one, Ready) and one.trouble and one.job.bike is not None:
            yield f"{one.job.bike.name}: {one.job.guide.title}: {' '.join(one.trouble)}"


def _has_errors(diagnostics: Iterable[Diagnostic]) -> bool:
    return any(diagnostic.gravity is Gravity.ERROR for diagnostic in diagnostics)
