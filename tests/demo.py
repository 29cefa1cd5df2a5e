"""The shipped library and its demo fleet, read once for all tests."""

from __future__ import annotations

from functools import cache

from builder.model.library import Library
from builder.planning import Plan, plan_job, wanted_parts
from builder.sources.workspace import Loaded, load
from builder.tailoring import Tailored, tailor

LEAD = "wider-range-cassette"


@cache
def loaded() -> Loaded:
    """The shipped library as it was read, with the texts of its files."""
    read = load(None)
    assert read.diagnostics == ()
    return read


def library() -> Library:
    return loaded().library


def lead_plan(bike_id: str, *part_ids: str) -> Plan:
    """The plan of the lead job for a bike, with the parts that its file wants or with others."""
    bike, guide = library().bikes[bike_id], library().guides[LEAD]
    ids = part_ids or next(job.parts for job in bike.jobs if job.guide == LEAD)
    return plan_job(bike, wanted_parts(guide, ids, library()), library())


@cache
def lead_card(bike_id: str) -> Tailored:
    """The tailored guide of the lead job for a bike of the fleet."""
    return tailor(library().guides[LEAD], library(), bike=library().bikes[bike_id], plan=lead_plan(bike_id))
