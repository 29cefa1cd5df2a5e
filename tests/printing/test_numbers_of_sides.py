"""The jobs that demo bikes plan are a few full sides: the house numbers of `tests.card_table`, bike by bike.

`python -m tests.card_table` holds every guide and every bike to them; here stand the bikes that differ most.
"""

from __future__ import annotations

from functools import cache

import pytest

from builder.build.legible import card_texts
from builder.build.printer import Printer
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.proof.jobs import Ready, planned_jobs, work_out
from tests.card_table import HALF, MOST, MOST_LEAD
from tests.demo import LEAD, library


@cache
def printer() -> Printer:
    return Printer()


@pytest.mark.parametrize("form", [Form.BRIEF, Form.STEPS])
@pytest.mark.parametrize("bike", ["heron", "wagtail"])
def test_the_jobs_of_a_bike_keep_to_the_house_numbers(bike: str, form: Form) -> None:
    for job in planned_jobs(library().bikes[bike], library()):
        outcome = work_out(job, library())
        if not isinstance(outcome, Ready) or outcome.trouble:
            continue
        html = printer().html(outcome.tailored, Paper.A4, library().workshop, form=form)
        made = printer().pdf(html, card_texts(outcome.tailored, form))
        most = MOST_LEAD[form] if job.guide.id == LEAD else MOST[form]
        assert made.sides <= most, f"{job.guide.id}: {made.sides} sides"
        assert all(share >= HALF for share in made.fill[:-1]), f"{job.guide.id}: {made.fill}"
        assert [str(one) for one in (*made.findings, *made.overflows)] == [], job.guide.id
