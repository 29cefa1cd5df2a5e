"""One card, sheet or chart by its path, made when somebody asks for it."""

from __future__ import annotations

from pathlib import PurePosixPath

from builder.build.cards import GENERIC
from builder.build.jobs import Job, Ready, planned_jobs, work_out
from builder.build.order import Order
from builder.build.printer import Printer
from builder.build.printouts import CHARTS, SHEETS, printouts
from builder.pages.form import read_name
from builder.sources.workspace import load


def card_at(path: str, order: Order) -> bytes | None:
    """The PDF at `path`, such as `heron/wider-range-cassette-a5.pdf` or `charts/tools-a4.pdf`; None where none is."""
    parts = PurePosixPath(path).parts
    if len(parts) != 2 or not parts[1].endswith(".pdf"):
        return None
    if parts[0] in (SHEETS, CHARTS):
        return _printout_at(path, order)
    named = read_name(parts[1].removesuffix(".pdf"))
    if named is None:
        return None
    guide_id, form, paper = named
    library = load(order.workspace).library
    guide = library.guides.get(guide_id)
    if guide is None or form.refusal(paper):
        return None
    job: Job | None = Job(guide=guide)
    if parts[0] != GENERIC:
        bike = library.bikes.get(parts[0])
        jobs = () if bike is None else planned_jobs(bike, library)
        job = next((one for one in jobs if one.guide is guide), None)
    outcome = None if job is None else work_out(job, library)
    if not isinstance(outcome, Ready) or outcome.trouble:
        return None
    printer = Printer(order.folders)
    return printer.pdf(printer.html(outcome.tailored, paper, library.workshop, form=form)).data


def _printout_at(path: str, order: Order) -> bytes | None:
    library, printer = load(order.workspace).library, Printer(order.folders)
    generic = (work_out(Job(guide=guide), library) for guide in library.guides.values())
    made, _ = printouts(order, library, generic, printer)
    found = next((one for one in made if one.path == path), None)
    return None if found is None else printer.pdf(found.html).data
