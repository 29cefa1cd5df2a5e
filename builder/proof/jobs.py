"""Jobs: which guides are due for which bikes, and what each comes to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.bike import Bike
from builder.model.deciding import decided
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.position import NOWHERE, Position
from builder.planning import Plan, PlanError, plan_job, wanted_parts
from builder.planning.attributes import cases_of
from builder.planning.known_answers import KnownAnswers
from builder.planning.taking import beyond
from builder.proof.revisions import status
from builder.tailoring import Alike, CannotTailor, NotSuited, Tailored, tailor

_Item = TypeVar("_Item")


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A guide for a bike with the parts wanted on it; without a bike the guide in its generic form.

    `planned` says that somebody asks for it, so that it is worked out even where the bike's file leaves open whether
    the guide is for the bike. `named` says that both its guide and its bike were named, so that a refusal is told.
    """

    guide: Guide
    bike: Bike | None = None
    parts: tuple[str, ...] = ()
    at: Position = NOWHERE
    planned: bool = True
    named: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """The job can be shown. One whose plan has trouble is shown on a page and not printed as a card."""

    job: Job
    tailored: Tailored

    @property
    def trouble(self) -> tuple[str, ...]:
        """Which limits nothing in stock meets."""
        plan = self.tailored.plan
        return () if plan is None else plan.trouble


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """The guide is not for this bike, and why."""

    job: Job
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistaken:
    """The job can't be worked out for what stands in the sources, or is lacking there."""

    job: Job
    diagnostics: tuple[Diagnostic, ...]


Outcome = Ready | Refused | Mistaken


def wanted_jobs(
    library: Library, *, guides: Iterable[str] = (), bikes: Iterable[str] = (), every: bool = False
) -> tuple[Job, ...]:
    """Every guide in its generic form, then the jobs that each bike's file plans.

    Where both guides and bikes are named, each of these guides is due for each of these bikes, planned or not.

    Args:
        library: what there is.
        guides: only these guides, by id; all where none is named.
        bikes: only these bikes, by id; all where none is named.
        every: each guide for each bike, planned or not.
    """
    chosen_guides = _chosen(library.guides, guides)
    chosen_bikes = _chosen(library.bikes, bikes)
    named = bool(tuple(guides)) and bool(tuple(bikes))
    jobs = [Job(guide=guide) for guide in chosen_guides]
    for bike in chosen_bikes:
        planned = [job for job in planned_jobs(bike, library) if job.guide in chosen_guides]
        jobs.extend(planned)
        if every or named:
            ids = {job.guide.id for job in planned}
            at = bike.places.of("")
            others = (guide for guide in chosen_guides if guide.id not in ids)
            # A guide that puts a part on waits until one is named, in the bike's file or to `card`.
            jobs.extend(
                Job(guide=guide, bike=bike, at=at, planned=named and not guide.wants, named=named) for guide in others
            )
    return tuple(jobs)


def planned_jobs(bike: Bike, library: Library) -> Iterator[Job]:
    """The jobs that the bike's file plans."""
    for job in bike.jobs:
        if job.guide in library.guides:
            yield Job(guide=library.guides[job.guide], bike=bike, parts=job.parts, at=job.places.of("guide"))


class Work(Protocol):
    """Works out jobs of one library, as `work_out` does, and may remember them."""

    def __call__(self, job: Job, *, leave_open: bool = True) -> Outcome:
        """What the job comes to."""


def work_out(job: Job, library: Library, *, leave_open: bool = True, alike: Alike | None = None) -> Outcome:
    """Plan the job and tailor its guide; `alike` is what was made for other jobs of the same run.

    With `leave_open` a step that hangs on what the bike's file does not say is shown with its condition. A job that
    nobody planned is refused all the same where it is not known whether its guide is for the bike.
    """
    if lacks_parts(job) and not job.planned:
        reason = f"No part is named for it. It plans for: {wanted_words(job.guide)}."
        if job.named and job.bike is not None:
            reason += (
                f" Write the job with its part under 'jobs:' in the bike's file, or make its card alone with"
                f" 'spannerleaf card {job.guide.id} {job.bike.id} --with PART'."
            )
        return Refused(job=job, reason=reason)
    if not job.planned and job.bike is not None:
        leave_open = leave_open and decided(job.guide.suits, cases_of(library, job.bike, None)) is True
    try:
        known = None if alike is None else alike.answers(library)
        plan = plan_of(job, library, known)
        if plan is not None and (reason := beyond(job.guide, plan, library, known)):
            return Refused(job=job, reason=reason)
        tried = status(job.guide, library)
        tailored = tailor(
            job.guide,
            library,
            bike=job.bike,
            plan=plan,
            status=tried.kind.value,
            trial=None if tried.stale else tried.trial,
            leave_open=leave_open,
            alike=alike,
        )
        return Ready(job=job, tailored=tailored)
    except NotSuited as refusal:
        return Refused(job=job, reason=str(refusal))
    except PlanError as error:
        return Mistaken(job=job, diagnostics=(Diagnostic(rule="plan", message=str(error), at=job.at),))
    except CannotTailor as lack:
        if job.planned:
            return Mistaken(job=job, diagnostics=lack.diagnostics)
        return Refused(job=job, reason="; ".join(diagnostic.message for diagnostic in lack.diagnostics))


def lacks_parts(job: Job) -> bool:
    """Whether the guide puts on a part that nobody has named, so that its card would be about the part as it is."""
    return job.bike is not None and bool(job.guide.wants) and not job.parts


def wanted_words(guide: Guide) -> str:
    """The places for which the guide plans a part."""
    return ", ".join(role.value for role in (*guide.wants, *guide.takes))


def plan_of(job: Job, library: Library, known: KnownAnswers | None = None) -> Plan | None:
    """What the job comes to on its bike; None for a generic guide. `known` is what was answered for other jobs.

    Raises:
        PlanError: the parts can't be planned as asked.
    """
    if job.bike is None:
        return None
    return plan_job(job.bike, wanted_parts(job.guide, job.parts, library), library, job.guide.drops, known)


def _chosen(items: Mapping[str, _Item], names: Iterable[str]) -> tuple[_Item, ...]:
    wanted = frozenset(names)
    return tuple(item for name, item in items.items() if not wanted or name in wanted)
