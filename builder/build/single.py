"""One card by its path, made when somebody asks for it."""

from __future__ import annotations

from pathlib import PurePosixPath

from builder.build.cards import GENERIC
from builder.build.jobs import Job, Ready, planned_jobs, work_out
from builder.build.order import Order
from builder.build.printer import Printer
from builder.pages.paper import Paper
from builder.sources.workspace import load


def card_at(path: str, order: Order) -> bytes | None:
    """The PDF of the card set at `path`, such as `heron/wider-range-cassette-a5.pdf`; None where there is none."""
    parts = PurePosixPath(path).parts
    if len(parts) != 2 or not parts[1].endswith(".pdf"):
        return None
    guide_id, _, paper = parts[1].removesuffix(".pdf").rpartition("-")
    library = load(order.workspace).library
    guide = library.guides.get(guide_id)
    if guide is None or paper not in list(Paper):
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
    return printer.pdf(printer.html(outcome.tailored, Paper(paper), library.workshop)).data
