"""The code of a printed card leads to a page that says whether the card is current, and if not what changed."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from builder.model.library import Library
from builder.model.printed import Printed, PrintedCard, PrintedSort, printed_id
from builder.pages import paths
from builder.pages.card import card_revision
from builder.pages.contents import CardLink, Page, Printouts, Site
from builder.pages.finding import records_of
from builder.pages.kind import Kind
from builder.pages.paper import Paper
from builder.pages.printed_page import key_of, printed_pages, with_codes
from builder.pages.printed_today import today_in
from builder.pages.published import lost_page
from builder.pages.service_sheet import service_sheet_html
from builder.pages.strings_en import EN
from builder.pages.wall import tool_list_html, torque_wall_html, upkeep_html
from builder.proof.jobs import Job, Ready, work_out
from builder.proof.since_print import Today, printed_steps
from builder.tailoring import tailor
from builder.tailoring.upkeep import upkeep_of
from tests.demo import LEAD, lead_card, library
from tests.pages.shop import site, theme, worker_of

OLD, LOST, TAKEN = "0LD0LD", "L05T00", "7A6E11"


@cache
def registered() -> Site:
    """The lead job for Heron, printed when the lockring was held tighter, and two cards that nobody may use."""
    card = lead_card("heron")
    steps = tuple(
        replace(step, torque="50 to 60 N·m, typical") if "tighten-lockring" in step.step else step
        for step in printed_steps(card)
    )
    parts = next(job.parts for job in library().bikes["heron"].jobs if job.guide == LEAD)
    revision = site().revisions[key_of(card)]
    cards = (
        PrintedCard(revision=OLD, date="2026-01-31", parts=parts, steps=steps),
        PrintedCard(revision=TAKEN, date="2026-02-01", parts=parts, steps=steps, withdrawn="A wrong lockring."),
        PrintedCard(revision=revision, date="2026-03-01", parts=parts, steps=printed_steps(card)),
    )
    name = printed_id(LEAD, "heron")
    register = {
        name: Printed(id=name, guide=LEAD, bike="heron", cards=cards),
        "gone": Printed(id="gone", guide="old-job", cards=(PrintedCard(revision=LOST, date="2020-01-01"),)),
    }
    made_from = replace(
        site(), library=replace(library(), printed=register), generic=(), tailored=(card,), revisions={}
    )
    return with_codes(made_from, theme())


@cache
def by_path() -> dict[str, Page]:
    return {page.path: page for page in printed_pages(registered(), theme())}


def page(code: str) -> str:
    return by_path()[paths.printed(code)].html


def test_each_card_of_today_has_a_page_that_calls_it_current() -> None:
    made = {one.path: one.html for one in printed_pages(site(), theme())}
    for tailored in (*site().generic, *site().tailored):
        code = card_revision(tailored, theme(), workshop=library().workshop)
        html = made[paths.printed(code)]
        assert EN.card_current in html
        assert f'href="../{paths.of_tailored(tailored)}"' in html


def test_a_stale_card_tells_what_changed_and_that_it_matters() -> None:
    html = page(OLD)
    assert EN.card_stale in html
    assert EN.card_current not in html
    assert "2026-01-31" in html
    assert "50 to 60 N·m, typical → " in html
    assert '<div class="stop">' in html
    assert "<script" not in html.partition("<main")[2]


def test_a_withdrawn_card_says_so_with_the_reason() -> None:
    assert EN.card_withdrawn in page(TAKEN)
    assert "A wrong lockring." in page(TAKEN)


def test_a_card_that_is_no_longer_made_says_so() -> None:
    assert EN.card_no_longer in page(LOST)


def test_a_card_of_the_register_that_is_current_stands_on_one_page_once() -> None:
    html = page(registered().revisions[LEAD, "heron"])
    assert html.count(EN.card_current) == 2  # in the description and on the page
    assert "2026-03-01" in html


def test_every_code_is_found_and_leads_to_its_page() -> None:
    found = {record.title: record.path for record in records_of(registered()) if record.kind is Kind.CARD}
    for code in (OLD, LOST, TAKEN, registered().revisions[LEAD, "heron"]):
        assert found[EN.printed_card.format(code=code)] in by_path()


# --- sheets and charts

TAG = "tag-before-a-ride"
OTHERS = (
    Printed(sort=PrintedSort.SHEET, guide=TAG, bike="heron"),
    Printed(sort=PrintedSort.TORQUES),
    Printed(sort=PrintedSort.TOOLS),
    Printed(sort=PrintedSort.BIKE, bike="heron"),
)


@cache
def small() -> Library:
    """The library with two guides, since a list of all tools asks every one."""
    return replace(library(), guides={name: library().guides[name] for name in (TAG, LEAD)})


@cache
def others_now() -> tuple[Today, ...]:
    found = today_in(small(), theme())
    return tuple(now for printed in OTHERS if (now := found(printed, ())) is not None)


@cache
def documents() -> tuple[str, ...]:
    """What is printed in the place of each, as the house prints it."""
    guide, heron = small().guides[TAG], small().bikes["heron"]
    outcome = work_out(Job(guide=guide, bike=heron, planned=False), small(), leave_open=False)
    assert isinstance(outcome, Ready)
    generic = tuple(tailor(guide, small()) for guide in small().guides.values())
    return (
        service_sheet_html((outcome.tailored,), small(), theme(), Paper.A6),
        torque_wall_html(small(), theme()),
        tool_list_html(small(), generic, theme(), Paper.LETTER),
        upkeep_html(upkeep_of(heron, small()), small(), theme(), Paper.A4),
    )


@pytest.mark.parametrize("number", range(len(OTHERS)), ids=lambda number: OTHERS[number].sort.value)
def test_the_code_of_a_sheet_or_a_chart_in_the_register_is_the_one_on_its_paper(number: int) -> None:
    assert f"{EN.revision} {others_now()[number].revision}" in documents()[number]


def test_each_sheet_and_chart_that_was_made_has_its_page_and_a_stale_one_tells_what_changed() -> None:
    torques = others_now()[1]
    first, *rest = (step for step, _ in torques.steps)
    old = PrintedCard(revision=OLD, date="2026-01-31", steps=(replace(first, torque="99 N·m"), *rest))
    lost = PrintedCard(revision=LOST, date="2026-01-31")
    link = (CardLink(paper="A4", href="cards/one.pdf"),)
    printed_then = {
        "torques": Printed(id="torques", sort=PrintedSort.TORQUES, cards=(old,)),
        "sheet": Printed(id="sheet", sort=PrintedSort.SHEET, guide=LEAD, bike="heron", cards=(lost,)),
    }
    made_from = replace(
        site(),
        library=replace(small(), printed=printed_then, bikes={"heron": library().bikes["heron"]}),
        generic=tuple(tailor(guide, small()) for guide in small().guides.values()),
        tailored=(),
        printouts=Printouts(sheets={TAG: link}, bikes={"heron": link}, torques=link, tools=link),
    )
    made = {one.path: one.html for one in printed_pages(with_codes(made_from, theme()), theme())}
    for now in others_now():
        assert EN.card_current in made[paths.printed(now.revision)]
    assert "cards/one.pdf" in made[paths.printed(others_now()[0].revision)]
    stale = made[paths.printed(OLD)]
    assert EN.torque_chart in stale
    assert EN.card_stale in stale
    assert first.step in stale
    assert "99 N·m" in stale
    assert EN.card_no_longer in made[paths.printed(LOST)]  # the lead job has no service sheet


def test_such_a_page_is_never_kept_for_when_there_is_no_network() -> None:
    made = {"assets/offline.js": b"", paths.INDEX: b"", paths.printed(OLD): b"", paths.GUIDES: b""}
    assert paths.INDEX in worker_of(made)
    assert paths.PRINTED not in worker_of(made)


def test_the_lost_page_tells_what_an_unknown_code_means() -> None:
    assert EN.lost_card in lost_page(site(), theme()).html
