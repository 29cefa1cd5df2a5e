"""What jobs have alike is made once: it equals what each comes to by itself, and is the very same where it is alike."""

from __future__ import annotations

from dataclasses import replace

from builder.model.library import Library
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from builder.tailoring import Alike, Tailored
from tests.demo import library


def tailored(job: Job, shelf: Library, alike: Alike | None = None) -> Tailored | None:
    outcome = work_out(job, shelf, alike=alike)
    return outcome.tailored if isinstance(outcome, Ready) else None


def jobs_of(shelf: Library) -> list[Job]:
    some = list(shelf.guides.values())[::9]
    return [
        *(Job(guide=guide) for guide in some),
        *(job for bike in list(shelf.bikes.values())[::3] for job in planned_jobs(bike, shelf)),
    ]


def test_a_job_among_others_comes_to_what_it_comes_to_alone() -> None:
    shelf, alike = library(), Alike()
    jobs = jobs_of(shelf)
    together = [tailored(job, shelf, alike) for job in (*jobs, *reversed(jobs))]
    alone = [tailored(job, shelf) for job in jobs]
    assert together == [*alone, *reversed(alone)]


def test_a_step_is_the_very_same_on_bikes_that_are_alike() -> None:
    shelf, alike = library(), Alike()
    bike = next(one for one in shelf.bikes.values() if one.jobs)
    other = replace(bike, id="another", name="Another", tag="A")
    pairs = [
        (tailored(job, shelf, alike), tailored(replace(job, bike=other), shelf, alike))
        for job in planned_jobs(bike, shelf)
    ]
    steps = [
        (one, two) for left, right in pairs if left and right for one, two in zip(left.steps, right.steps, strict=True)
    ]
    same = sum(one is two for one, two in steps)
    # Only a text that shows the bike's name tells the two apart.
    assert same > 0.9 * len(steps) > 0


def test_a_record_that_changes_changes_the_step() -> None:
    shelf, alike = library(), Alike()
    job = next(job for job in jobs_of(shelf) if (made := tailored(job, shelf, alike)) and made.summary_cautions)
    before = tailored(job, shelf, alike)
    assert before is not None
    words = {name: replace(one, short="Look out.", text="Look out.") for name, one in shelf.cautions.items()}
    after = tailored(job, replace(shelf, cautions=words), alike)
    assert after is not None
    assert {one.text for step in after.steps for one in step.cautions} == {"Look out."}
    assert after == tailored(job, replace(shelf, cautions=words))
    assert before == tailored(job, shelf, alike)
