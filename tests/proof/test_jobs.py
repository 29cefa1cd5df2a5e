"""Which jobs are due, and what each comes to."""

from __future__ import annotations

from dataclasses import replace

from builder.model.bike import PlannedJob
from builder.model.facts import Role
from builder.model.library import Library
from builder.proof.fleet import attributes_are_computed, bikes_make_sense, planned_jobs_work
from builder.proof.jobs import Job, Mistaken, Ready, Refused, wanted_jobs, work_out
from builder.sources.workspace import load
from tests.build.ordering import FITS, LEAD, REFUSED, TROUBLED
from tests.demo import library

PARTS = next(job.parts for job in library().bikes[FITS].jobs if job.guide == LEAD)


def with_jobs(bike: str, *jobs: PlannedJob) -> Library:
    """The library with other jobs planned for one bike."""
    bikes = {**library().bikes, bike: replace(library().bikes[bike], jobs=jobs)}
    return replace(library(), bikes=bikes)


def names(jobs: tuple[Job, ...]) -> list[tuple[str, str]]:
    return [(job.guide.id, "" if job.bike is None else job.bike.id) for job in jobs]


def test_every_guide_is_due_in_its_generic_form_and_each_bike_gets_what_it_plans() -> None:
    due = names(wanted_jobs(library()))
    assert due[: len(library().guides)] == [(guide, "") for guide in library().guides]
    planned = [(job.guide, bike.id) for bike in library().bikes.values() for job in bike.jobs]
    assert due[len(library().guides) :] == planned


def test_guides_and_bikes_can_be_chosen() -> None:
    assert names(wanted_jobs(library(), guides=[LEAD], bikes=[FITS])) == [(LEAD, ""), (LEAD, FITS)]


def test_a_guide_and_a_bike_that_are_named_are_due_though_no_file_plans_them() -> None:
    guide = "chain-wear-check"
    assert guide not in {job.guide for job in library().bikes[FITS].jobs}
    _, job = wanted_jobs(library(), guides=[guide], bikes=[FITS])
    outcome = work_out(job, library())
    assert isinstance(outcome, Ready)
    assert outcome.job.bike is library().bikes[FITS]


def test_a_guide_that_puts_a_part_on_says_how_to_name_it() -> None:
    guide = "chain-replaced-and-sized"
    changed = with_jobs(FITS)
    _, job = wanted_jobs(changed, guides=[guide], bikes=[FITS])
    outcome = work_out(job, changed)
    assert isinstance(outcome, Refused)
    assert outcome.reason.endswith(
        "Write the job with its part under 'jobs:' in the bike's file, or make its card alone with"
        f" 'spannerleaf card {guide} {FITS} --with PART'."
    )


def test_every_means_each_guide_for_each_bike_once() -> None:
    due = names(wanted_jobs(library(), every=True))
    assert sorted(due) == sorted({(guide, bike) for guide in library().guides for bike in ("", *library().bikes)})


def test_a_guide_that_puts_a_part_on_is_not_built_where_no_part_is_named() -> None:
    changed = with_jobs(FITS)
    due = wanted_jobs(changed, bikes=[FITS], every=True)
    (job,) = (job for job in due if job.bike is not None and job.guide.id == LEAD)
    outcome = work_out(job, changed)
    assert isinstance(outcome, Refused)
    assert outcome.reason == "No part is named for it. It plans for: cassette."


def test_the_fleet_shows_every_kind_of_outcome() -> None:
    outcomes = {job.bike.id: work_out(job, library()) for job in wanted_jobs(library(), guides=[LEAD]) if job.bike}
    assert isinstance(outcomes[FITS], Ready)
    assert outcomes[FITS].trouble == ()
    assert isinstance(outcomes[TROUBLED], Ready)
    assert outcomes[TROUBLED].trouble
    assert isinstance(outcomes[REFUSED], Refused)


def test_a_wrong_part_is_a_mistake_at_the_job() -> None:
    job = Job(guide=library().guides[LEAD], bike=library().bikes[FITS], parts=("nothing-like-it",))
    outcome = work_out(job, library())
    assert isinstance(outcome, Mistaken)
    assert outcome.diagnostics[0].message == "unknown part 'nothing-like-it'"


def test_a_question_that_the_bike_leaves_open_is_shown_as_a_condition() -> None:
    bike = library().bikes[FITS]
    without = replace(bike, parts={role: part for role, part in bike.parts.items() if role is not Role.REAR_HUB})
    job = Job(guide=library().guides[LEAD], bike=without, parts=PARTS)
    for planned in (True, False):
        ready = work_out(replace(job, planned=planned), library())
        assert isinstance(ready, Ready)
        assert any("rear axle" in step.condition for step in ready.tailored.steps)
    mistaken = work_out(job, library(), leave_open=False)
    assert isinstance(mistaken, Mistaken)
    assert mistaken.diagnostics[0].rule == "unknown-fact"
    assert mistaken.diagnostics[0].hints


def test_a_guide_that_may_not_be_for_the_bike_is_made_only_where_somebody_asks_for_it() -> None:
    bike = replace(library().bikes[FITS], parts={}, without=frozenset())
    job = Job(guide=library().guides["crankset-off-and-on"], bike=bike)
    assert isinstance(work_out(job, library()), Ready)
    assert isinstance(work_out(replace(job, planned=False), library()), Refused)


def test_the_fleet_makes_sense() -> None:
    assert bikes_make_sense(library()) == ()
    assert planned_jobs_work(library()) == ()
    assert attributes_are_computed(library()) == ()


def test_a_bike_with_a_combination_that_the_catalogue_excludes_is_told() -> None:
    bike, other = library().bikes[FITS], library().bikes[REFUSED]
    # A coaster brake, taken from a bike with a gear hub, does not go with a derailleur.
    wrong = replace(bike, parts={**bike.parts, Role.REAR_BRAKE: other.parts[Role.REAR_BRAKE]})
    found = bikes_make_sense(replace(library(), bikes={FITS: wrong}))
    assert found
    assert {diagnostic.rule for diagnostic in found} == {"excluded-bike"}
    assert any("Back-pedalling through a derailleur" in diagnostic.message for diagnostic in found)
    assert all(diagnostic.related[0][0].file.endswith("exclusions.yaml") for diagnostic in found)


def test_one_job_planned_twice_is_told() -> None:
    (found,) = bikes_make_sense(with_jobs(FITS, PlannedJob(guide=LEAD, parts=PARTS), PlannedJob(guide=LEAD)))
    assert found.message == f"the job '{LEAD}' is planned twice for '{FITS}'"


def test_an_attribute_that_nothing_computes_is_told_and_never_known() -> None:
    first = next(iter(library().attributes.values()))
    odd = replace(first, id="moon", source="computed")
    changed = replace(library(), attributes={**library().attributes, "moon": odd})
    (found,) = attributes_are_computed(changed)
    assert found.message == "nothing computes the attribute 'moon'"
    assert bikes_make_sense(changed) == ()


def test_the_library_reads_the_same_twice() -> None:
    assert load(None).library == load(None).library
