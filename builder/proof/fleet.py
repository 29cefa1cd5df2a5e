"""What bikes' files get wrong that no single file shows: jobs that can't be worked out, and bikes that can't be."""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, ordered
from builder.model.bike import Bike
from builder.model.deciding import decided
from builder.model.library import Library
from builder.planning.attributes import COMPUTED, cases_of
from builder.proof.jobs import Job, Mistaken, planned_jobs, work_out


def planned_jobs_work(library: Library) -> tuple[Diagnostic, ...]:
    """Every planned job that can't be worked out: a wrong part, or a question that the bike's file does not answer."""
    found: list[Diagnostic] = []
    for bike in library.bikes.values():
        for job in planned_jobs(bike, library):
            outcome = work_out(job, library)
            if isinstance(outcome, Mistaken):
                found.extend(outcome.diagnostics)
    return ordered(found)


def attributes_are_computed(library: Library) -> tuple[Diagnostic, ...]:
    """Every attribute that is marked as computed while nothing computes it, so that no bike would ever have a case."""
    return ordered(
        Diagnostic(
            rule="not-computed",
            message=f"nothing computes the attribute '{attribute.id}'",
            at=attribute.places.of("source"),
            hints=(
                "name the part and the fact that answers it, such as 'rear-hub.axle'",
                f"what is computed: {', '.join(sorted(COMPUTED))}",
            ),
        )
        for attribute in library.attributes.values()
        if attribute.source == "computed" and attribute.id not in COMPUTED
    )


def bikes_make_sense(library: Library) -> tuple[Diagnostic, ...]:
    """Every bike that has a combination which the catalogue excludes, or plans one job twice."""
    return ordered(
        found
        for bike in library.bikes.values()
        for found in (*_excluded(bike, library), *_planned_twice(bike, library))
    )


def _planned_twice(bike: Bike, library: Library) -> Iterator[Diagnostic]:
    first: dict[str, Job] = {}
    for job in planned_jobs(bike, library):
        if job.guide.id in first:
            yield Diagnostic(
                rule="duplicate-job",
                message=f"the job '{job.guide.id}' is planned twice for '{bike.id}'",
                at=job.at,
                hints=("name all its parts in one job",),
                related=((first[job.guide.id].at, "it is planned here first"),),
            )
        first.setdefault(job.guide.id, job)


def _excluded(bike: Bike, library: Library) -> Iterator[Diagnostic]:
    cases = cases_of(library, bike, None)
    for exclusion in library.exclusions:
        if decided(exclusion.never, cases) is True:
            yield Diagnostic(
                rule="excluded-bike",
                message=f"no bike can be as '{bike.id}' is written: {exclusion.because}",
                at=bike.places.of("parts"),
                hints=("mend the part that is wrong, or the exclusion where it goes too far",),
                related=((exclusion.places.at, "the exclusion stands here"),),
            )
