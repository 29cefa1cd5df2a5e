"""Service sheets and charts of the demo fleet, made once for all tests."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from builder.pages.paper import Paper
from builder.pages.service_sheet import service_sheet_html
from builder.pages.wall import tool_list_html, torque_chart_html, torque_wall_html, upkeep_html
from builder.printing.legibility import CardTexts, Margins
from builder.printing.pdf import Printed
from builder.proof.jobs import Job, Ready, work_out
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import Upkeep, upkeep_of
from tests.demo import library
from tests.pages.shop import theme, writer

# What the theme keeps free on A4 and Letter.
TEXTS = CardTexts(margins=Margins(binding_mm=10.0, other_mm=10.0, band_mm=4.0))
SHEET_GUIDES = tuple(guide.id for guide in library().guides.values() if guide.service_sheet and not guide.tag)
TAG_GUIDES = tuple(guide.id for guide in library().guides.values() if guide.tag)
BIKES = tuple(library().bikes)


@cache
def sheet(guide_id: str, bike_id: str) -> Tailored:
    job = Job(guide=library().guides[guide_id], bike=library().bikes[bike_id], planned=False)
    outcome = work_out(job, library())
    assert isinstance(outcome, Ready), outcome
    return outcome.tailored


@cache
def generic() -> tuple[Tailored, ...]:
    outcomes = (work_out(Job(guide=guide), library()) for guide in library().guides.values())
    return tuple(outcome.tailored for outcome in outcomes if isinstance(outcome, Ready))


@cache
def upkeep(bike_id: str) -> Upkeep:
    return upkeep_of(library().bikes[bike_id], library())


@cache
def sheets_html(guide_id: str, paper: Paper, *bikes: str) -> str:
    made = [sheet(guide_id, bike) for bike in bikes]
    return service_sheet_html(made, library(), theme(), paper)


@cache
def sheets_printed(guide_id: str, paper: Paper, *bikes: str) -> Printed:
    cautions = dict.fromkeys(shown.text for bike in bikes for shown in sheet(guide_id, bike).summary_cautions)
    return writer().printed(sheets_html(guide_id, paper, *bikes), replace(TEXTS, cautions=tuple(cautions)))


@cache
def torques_printed(paper: Paper) -> Printed:
    return writer().printed(torque_chart_html(library(), theme(), paper), TEXTS)


@cache
def torque_wall_printed() -> Printed:
    return writer().printed(torque_wall_html(library(), theme()), TEXTS)


@cache
def tools_printed(paper: Paper) -> Printed:
    return writer().printed(tool_list_html(library(), generic(), theme(), paper), TEXTS)


@cache
def upkeep_printed(bike_id: str, paper: Paper) -> Printed:
    return writer().printed(upkeep_html(upkeep(bike_id), library(), theme(), paper), TEXTS)
