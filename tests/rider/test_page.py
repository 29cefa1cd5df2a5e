"""The rider's page in a real browser: what it asks, what comes of it, what is kept, and what is said where it can't."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from builder.pages.form import Form
from builder.pages.form_card import form_card_html
from builder.pages.paper import Paper
from builder.proof.jobs import Job, Ready, work_out
from builder.sources.loaded import shipped_library
from builder.sources.workspace import load
from tests.demo import LEAD, library
from tests.pages.in_a_browser import browser, needs_chromium
from tests.pages.shop import writer
from tests.rider.in_a_browser import BELOW, WAIT_MS, Host, answer, host, opened, troubles, until
from tests.rider.node import needs_runtime, shelf

__all__ = ["browser", "host"]  # fixtures, found here by their names
pytestmark = [needs_chromium, needs_runtime]
_BIKES = "left => (JSON.parse(localStorage.getItem('spannerleaf bikes'))?.bikes ?? []).length === left"
_NAMED_TWICE = """[...document.querySelectorAll('[id]')].map(one => one.id)
    .filter((name, place, all) => all.indexOf(name) !== place)"""
_SHOWS = "title => document.querySelector('#guide-of-bike .as-title')?.textContent.includes(title)"
WHEEL = "rider/index.html#for=front-wheel-out-and-in"
HOSTILE = "<img src=x onerror=document.title='harmed'>"


@pytest.fixture(scope="module")
def page(browser: Browser, host: Host) -> Page:
    """A page with the interpreter started, at the guide for the front wheel."""
    made = browser.new_context(viewport={"width": 320, "height": 700}).new_page()
    made.set_default_timeout(WAIT_MS)
    opened(made, host.address + WHEEL)
    return made


def stored(page: Page) -> dict[str, object]:
    return dict(json.loads(page.evaluate("localStorage.getItem('spannerleaf bikes') || '{}'")))


def test_it_asks_what_the_guide_needs_and_shows_the_guide_for_that_bike(page: Page) -> None:
    found = troubles(page)
    asked = answer(page, {"front wheel in the fork": "quick-release", "front brake work on": "rim brake"})
    assert asked[0] == "What holds the front wheel in the fork?"
    assert not [words for words in asked if "sprocket" in words or "rear wheel" in words]
    page.wait_for_selector("#guide-of-bike:not([hidden])")
    text = page.locator("#guide-of-bike").inner_text()
    assert "Remove and install the front wheel" in text
    assert "quick-release" in text
    assert page.locator("#guide-of-bike .strip").count() > 0  # cautions show
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert found == []
    # A link to a place in the guide stays in it; the rider's bike has no page to lead to.
    page.locator("#guide-of-bike .contents summary").click()
    page.locator("#guide-of-bike a[href='#safety']").click()
    assert page.evaluate("document.activeElement.id") == "safety"
    assert page.locator("#guide").input_value() == "front-wheel-out-and-in"
    assert not page.locator("#guide-of-bike a[href*='/bikes/']").count()


def test_what_is_told_is_kept_taken_back_and_deleted(page: Page) -> None:
    before = len(stored(page)["bikes"][0]["answers"])  # type: ignore[index]
    page.reload()
    page.wait_for_selector("#guide-of-bike:not([hidden])")
    page.locator("#told summary").click()
    page.locator("#told-list li", has_text="front wheel in the fork").get_by_role("button").click()
    page.wait_for_selector("#question fieldset")
    assert page.locator("#question-words").inner_text() == "What holds the front wheel in the fork?"
    assert len(stored(page)["bikes"][0]["answers"]) == before - 1  # type: ignore[index]
    page.locator(".rider-bikes summary").click()
    page.locator("#new-bike").click()
    page.locator("#bike-name").fill(HOSTILE)
    page.keyboard.press("Tab")
    assert [one["name"] for one in stored(page)["bikes"]] == ["My bike", HOSTILE]  # type: ignore[attr-defined]
    page.locator("#show-now").click()
    page.wait_for_selector("#guide-of-bike:not([hidden])")
    assert HOSTILE in page.locator("#guide-of-bike").inner_text()
    assert page.title() != "harmed"
    for left in (1, 0):
        page.locator("#delete-bike").click()
        page.locator("#really button[value=delete]").click()
        until(page, _BIKES, left)
    assert page.evaluate("localStorage.length") == 0


def test_a_bike_travels_as_a_link_and_as_a_file(page: Page, host: Host, tmp_path: Path) -> None:
    page.locator("#guide").select_option(LEAD)
    page.wait_for_selector("#wanted:not([hidden])")
    page.locator("#part-cassette").select_option("cs-11-50-11s")
    said = {
        "gears at the rear wheel": "rear derailleur",
        "each chainring": "32",
        "at the rear wheel?": "11-42 11-speed",
    }
    answer(page, {**said, "one of these": "Cassette 11-42"}, most=4)
    page.locator("#bike-name").fill("Blue tourer")
    page.keyboard.press("Tab")
    page.locator("#copy-link").click()
    link = page.locator("#link").input_value()
    with page.expect_download() as download:
        page.locator("#save-file").click()
    workspace = tmp_path / "ours"
    (workspace / "bikes").mkdir(parents=True)
    (workspace / "workshop.yaml").write_text("name: Ours\n", encoding="utf-8")
    download.value.save_as(workspace / "bikes" / download.value.suggested_filename)
    loaded = load(workspace)
    assert loaded.diagnostics == ()
    assert loaded.library.bikes["blue-tourer"].parts["cassette"] is loaded.library.parts["cs-11-42-11s"]  # type: ignore[index]

    other = page.context.browser.new_context().new_page()  # type: ignore[union-attr]
    other.goto(link)
    other.wait_for_selector("#offered:not([hidden])", timeout=WAIT_MS)
    assert "Blue tourer" in other.locator("#offered-words").inner_text()
    assert not [path for path in host.asked if "bike=" in path]
    other.locator("#offered-take").click()
    assert sorted(one["name"] for one in stored(other)["bikes"]) == ["Blue tourer", "My bike"]  # type: ignore[attr-defined]
    other.context.close()


def test_a_part_is_judged_and_what_is_lacking_is_asked_with_its_limit(page: Page) -> None:
    page.locator("#show-now").click()
    page.wait_for_selector("#guide-of-bike:not([hidden])")
    # Nothing is called fitting that nobody could judge.
    assert "measure first" in page.locator("#guide-of-bike #worked-out").inner_text()
    assert "not known yet" in page.locator("#lacking").inner_text()
    asked = answer(
        page, {"Length of the freehub body": "36 mm", "ends of the bike are sprung": "No suspension"}, most=80
    )
    assert "Length of the freehub body's splines" in asked
    assert len(asked) == len(set(asked))  # nothing is asked twice
    assert library().guides[LEAD].title in page.locator("#guide-of-bike").inner_text()


def test_the_guide_is_printed_as_the_card_that_teaches(page: Page) -> None:
    page.locator("#form").select_option("teaching")
    page.locator("#print-card").click()
    until(page, "() => document.querySelector('iframe.unseen')?.contentDocument?.querySelectorAll('.do').length > 20")
    assert "Blue tourer" in page.evaluate("document.querySelector('iframe.unseen').contentDocument.body.textContent")


@pytest.mark.parametrize("guide", ["front-wheel-out-and-in", LEAD])
def test_a_card_printed_here_has_the_sides_of_the_one_that_is_built(page: Page, guide: str) -> None:
    """A bike's file is opened, and its cards come out within a side of those that the command makes."""
    found = troubles(page)
    if guide != LEAD:
        page.locator(".rider-bikes").evaluate("one => { one.open = true }")
        page.locator("#open-file").set_input_files(shipped_library() / "bikes" / "heron.yaml")
        until(page, "() => document.getElementById('opened-words').textContent.includes('Heron')")
    page.locator("#guide").select_option(guide)
    until(page, _SHOWS, library().guides[guide].title)
    parts = ("cs-11-50-11s",) if guide == LEAD else ()
    job = Job(guide=library().guides[guide], bike=library().bikes["heron"], parts=parts)
    outcome = work_out(job, library())
    assert isinstance(outcome, Ready)
    for form, paper in ((Form.BRIEF, Paper.A5), (Form.STEPS, Paper.A4)):
        page.evaluate("document.querySelector('iframe.unseen')?.remove()")
        page.locator("#form").select_option(form.value)
        page.locator("#paper").select_option(paper.value)
        page.locator("#print-card").click()
        until(page, "() => document.querySelector('iframe.unseen')?.dataset.sides")
        sides = int(page.evaluate("document.querySelector('iframe.unseen').dataset.sides"))
        html = form_card_html(outcome.tailored, shelf().theme, form, paper, workshop=library().workshop)
        built = writer().printed(html).sides
        assert abs(sides - built) <= 1, (form, paper, sides, built)
    assert found == []


def test_the_page_of_the_bike_shows_gears_and_wear_and_takes_a_reading(page: Page) -> None:
    page.locator("details.rider-more > summary").click()
    page.locator("#wear-form").evaluate("one => { one.parentElement.open = true }")
    page.locator("#wear-date").fill("2026-11-20")
    page.locator("#wear-figure").fill("0.45 %")
    page.locator("#wear-form button").click()
    until(page, "() => document.getElementById('bike-page').textContent.includes('2026-11-20')")
    # What is shown there has names of its own, so that a link within it leads to it.
    assert page.evaluate(_NAMED_TWICE) == []
    text = page.locator("#bike-page").inner_text()
    assert "Gears after the job" in text
    assert page.locator("h1").count() == 1
    page.locator("#lower-form").evaluate("one => { one.parentElement.open = true }")
    page.locator("#lower-form button").click()
    page.wait_for_selector("#lower-sets li", timeout=WAIT_MS)


def test_a_check_reckons_live_with_the_same_worker(browser: Browser, host: Host) -> None:
    page = browser.new_page()
    found = troubles(page)
    page.goto(f"{host.address}checks/chain-length.html")
    page.locator("#in-chainstay").fill("17 in")
    page.locator("[data-reckon] button").click()
    page.wait_for_selector(".reckoned .verdict", timeout=WAIT_MS)
    assert "431.8" in page.locator(".reckoned").inner_text()
    page.locator("#in-chainstay").fill("17")
    until(page, "() => document.querySelector('[data-reckon] [role=status]').textContent.includes('chainstay')")
    assert found == []
    page.close()


def test_without_a_script_or_from_a_disk_it_says_what_to_do(browser: Browser, host: Host) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{host.address}rider/index.html")
    assert "spannerleaf card GUIDE my-bike" in page.locator("main").inner_text()
    assert page.locator("#page").is_hidden()
    context.close()
    assert (host.folder / BELOW / "guides" / f"{LEAD}.html").read_text(encoding="utf-8").count(
        "rider/index.html#for="
    ) == 1
    policy = (host.folder / BELOW / "rider" / "index.html").read_text(encoding="utf-8")
    assert "script-src 'self' 'wasm-unsafe-eval';" in policy.replace("&#39;", "'")
