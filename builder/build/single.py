"""One card, sheet or chart by its path, made when somebody asks for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import PurePosixPath

from builder.build.cards import GENERIC
from builder.build.collector import collector_at_rest
from builder.build.dressing import dressed
from builder.build.examining import examined, examined_for
from builder.build.legible import card_texts
from builder.build.order import Order, Quiet
from builder.build.printer import Printer
from builder.build.printouts import CHARTS, SHEETS, printouts
from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.diagnostics.rendering import as_text
from builder.pages.form import read_name
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from builder.sources.loaded import Loaded, shipped_library
from builder.sources.photos import photo_files
from builder.sources.workspace import load


class NotPrinted(Exception):
    """A card that the gate does not let through; the message shows every diagnostic."""


def card_at(path: str, order: Order) -> bytes | None:
    """The PDF at `path`, such as `heron/wider-range-cassette-a5.pdf` or `charts/tools-a4.pdf`; None where none is.

    Raises:
        NotPrinted: something is wrong with what it is made from, or it breaks a grave rule of print.
    """
    with collector_at_rest():
        return _made(path, order)


def _made(path: str, order: Order) -> bytes | None:
    parts = PurePosixPath(path).parts
    if len(parts) != 2 or not parts[1].endswith(".pdf"):
        return None
    if parts[0] in (SHEETS, CHARTS):
        return _printout_at(path, order)
    named = read_name(parts[1].removesuffix(".pdf"))
    if named is None:
        return None
    guide_id, form, paper = named
    loaded = load(order.workspace)
    library = loaded.library
    guide = library.guides.get(guide_id)
    if guide is None or form.refusal(paper):
        return None
    job: Job | None = Job(guide=guide)
    if parts[0] != GENERIC:
        bike = library.bikes.get(parts[0])
        jobs = () if bike is None else planned_jobs(bike, library)
        job = next((one for one in jobs if one.guide is guide), None)
    bikes = [] if job is None or job.bike is None else [job.bike.id]
    _refuse((*loaded.diagnostics, *examined_for(loaded, [guide.id], bikes, Quiet())), loaded.texts)
    outcome = None if job is None else work_out(job, library)
    if not isinstance(outcome, Ready) or outcome.trouble:
        return None
    printer = _printer(order, loaded)
    html = printer.html(outcome.tailored, paper, library.workshop, form=form, shape=order.shape)
    printed = printer.pdf(html, card_texts(outcome.tailored, form, order.shape))
    _refuse(printed.findings, {})
    return printed.data


def _printer(order: Order, loaded: Loaded) -> Printer:
    dress = dressed(loaded.library, order.folders)
    _refuse(dress.findings, {**loaded.texts, **dress.texts})
    return Printer(order.folders, dress.theme, photo_files(loaded.library, (shipped_library(), *order.folders)))


def _refuse(found: Iterable[Diagnostic], texts: Mapping[str, str]) -> None:
    errors = ordered(one for one in found if one.gravity is Gravity.ERROR)
    if errors:
        raise NotPrinted("\n\n".join(as_text(one, texts) for one in errors))


def _printout_at(path: str, order: Order) -> bytes | None:
    loaded = load(order.workspace)
    _refuse((*loaded.diagnostics, *examined(loaded, order.processes, Quiet())), loaded.texts)
    library, printer = loaded.library, _printer(order, loaded)
    generic = (work_out(Job(guide=guide), library) for guide in library.guides.values())
    made, _ = printouts(replace(order, printing=True), library, generic, printer)
    found = next((one for one in made if one.path == path), None)
    if found is None:
        return None
    printed = printer.pdf(found.html, found.texts)
    _refuse(printed.findings, {})
    return printed.data
