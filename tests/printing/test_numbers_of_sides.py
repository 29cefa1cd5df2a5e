"""A few jobs of demo bikes, drawn at random and always the same, keep to the house numbers of `tests.card_table`.

`python -m tests.card_table` holds every guide and every bike to them; the lead job stands in `test_step_cards.py`.
"""

from __future__ import annotations

import random

import pytest

from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from tests.card_table import HALF, MOST, Row, breaches, row_of
from tests.demo import LEAD, library
from tests.pages.shop import printer

SEED, DRAWN = 20261126, 3


def drawn() -> list[Job]:
    jobs = [job for bike in library().bikes.values() for job in planned_jobs(bike, library()) if job.guide.id != LEAD]
    return random.Random(SEED).sample(jobs, DRAWN)


@pytest.mark.parametrize("form", [Form.BRIEF, Form.STEPS])
@pytest.mark.parametrize("job", drawn(), ids=lambda job: f"{job.guide.id}-{job.bike.id}")
def test_a_job_of_a_bike_keeps_to_the_house_numbers(job: Job, form: Form) -> None:
    outcome = work_out(job, library())
    assert isinstance(outcome, Ready)
    assert list(breaches(row_of(outcome.tailored, form, Paper.A4, printer()))) == []


def test_a_card_that_keeps_no_house_number_is_told_each_of_them() -> None:
    poor = Row(
        guide="a-guide",
        bike="a-bike",
        form=Form.STEPS,
        paper=Paper.A4,
        sides=MOST[Form.STEPS, Paper.A4] + 1,
        fill=(HALF - 0.01, 1.0),
        alone=1,
        findings=1,
        overflows=0,
    )
    assert len(list(breaches(poor))) == 5
