"""A guide at the stand: where step 1 is, what is folded away, how steps are named, what comes out of a printer."""

from __future__ import annotations

import gzip
from collections.abc import Mapping
from io import BytesIO
from mimetypes import guess_type
from urllib.parse import urlsplit

import pikepdf
import pytest
from latex2mathml.converter import convert
from playwright.sync_api import Browser, Page, Route

from builder.model.catalogue import SignalWord
from builder.pages.at_the_stand import label_runs, safety_of
from builder.pages.labels import step_labels
from builder.pages.site import CardLink, Site, site_pages
from tests.demo import LEAD, lead_card, library
from tests.pages.fleet import generic
from tests.pages.in_a_browser import browser, needs_chromium, root
from tests.pages.shop import THEMES, files, pages, theme

__all__ = ["browser", "root"]  # fixtures, found here by their names
GUIDE = "bikes/heron/wider-range-cassette.html"
SHOP = "http://shop.test"
PHONE = {"width": 360, "height": 740}


@needs_chromium
@pytest.mark.parametrize("path", [GUIDE, "guides/wider-range-cassette.html"])
def test_the_start_is_in_sight_and_step_1_within_two_screens_of_a_phone(browser: Browser, root: str, path: str) -> None:
    context = browser.new_context(viewport=PHONE, java_script_enabled=False, reduced_motion="reduce")  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(f"{root}/{path}")
    start = page.locator(".go .start").bounding_box()
    first = page.locator("#step-1 .do").bounding_box()
    assert start is not None
    assert first is not None
    assert start["y"] + start["height"] <= PHONE["height"]
    assert first["y"] + first["height"] <= 2 * PHONE["height"]
    page.locator(".go .start").click()
    now = page.locator("#step-1 .do").bounding_box()
    assert now is not None
    assert 0 <= now["y"] <= PHONE["height"]
    context.close()


@pytest.mark.parametrize("guide_id", library().guides)
def test_a_safety_message_is_folded_only_where_it_stands_again_at_a_step(guide_id: str) -> None:
    tailored = next(one for one in generic() if one.guide.id == guide_id)
    safety = safety_of(tailored)
    at_steps = {shown.caution.id for step in tailored.steps for shown in step.cautions}
    must_show = [
        shown.text
        for shown in tailored.summary_cautions
        if shown.word is SignalWord.DANGER or shown.caution.id not in at_steps
    ]
    assert len(safety.shown) == len(must_show)
    assert len(safety.shown) + len(safety.folded) == len(tailored.summary_cautions)
    assert sum(count for _, count in safety.counts) == len(safety.folded)


def test_a_message_that_stands_at_no_step_is_shown_somewhere_in_the_library() -> None:
    assert any(safety_of(tailored).shown for tailored in generic())


@needs_chromium
def test_no_caution_of_a_step_is_ever_out_of_sight(browser: Browser, root: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{root}/{GUIDE}")
    strips = page.locator(".step .strip")
    assert strips.count() == sum(len({shown.word for shown in step.cautions}) for step in lead_card("heron").steps)
    assert all(strips.nth(number).is_visible() for number in range(strips.count()))
    context.close()


def test_steps_are_named_as_on_the_cards() -> None:
    html = pages()[GUIDE].html
    tailored = lead_card("heron")
    for number, label in step_labels(tailored).items():
        step = html.split(f'id="step-{number}"')[1].split("</label>")[0]
        assert step.endswith(f"</span>{label}</span>")
    assert "Start at step A1" in html


def test_runs_of_steps_are_joined_inside_a_section_only() -> None:
    labels = {1: "A1", 2: "A2", 3: "A3", 4: "B1", 5: "B2", 6: "B3", 7: "B4"}
    assert label_runs((1, 2, 3, 4, 5), labels) == "A1 to A3, B1, B2"
    assert label_runs((3, 4, 5, 6, 7, 99), labels) == "A3, B1 to B4"


@needs_chromium
@pytest.mark.parametrize("dress", THEMES)
def test_a_first_visit_to_a_long_guide_takes_less_than_200_kilobytes(browser: Browser, dress: str) -> None:
    """As a host sends what a browser asks for: texts packed, faces as they are."""
    made = files(dress)
    page = browser.new_page()
    asked = served(page, made)
    page.goto(f"{SHOP}/{GUIDE}", wait_until="networkidle")
    page.close()
    assert {GUIDE, "assets/site.css", "assets/site.js", "assets/find.js", "assets/reading.js"} < asked
    assert any(path.endswith(".woff2") for path in asked)
    sizes = [len(made[path] if path.endswith("2") else gzip.compress(made[path])) for path in asked & made.keys()]
    assert sum(sizes) <= 200_000


@needs_chromium
def test_a_link_to_what_is_folded_away_opens_it(browser: Browser, root: str) -> None:
    page = browser.new_page(viewport={"width": 1280, "height": 900})
    page.goto(f"{root}/{GUIDE}")
    assert not page.locator("#lay-out table").first.is_visible()
    page.locator('.contents a[href="#lay-out"]').click()
    assert page.locator("#lay-out table").first.is_visible()
    page.close()


@needs_chromium
def test_a_browser_prints_the_steps_and_not_the_page(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.goto(f"{root}/{GUIDE}")
    page.emulate_media(media="print")
    for hidden in (".contents", ".aside", ".foot", ".go", "#about"):
        shown = page.locator(hidden)
        assert shown.count() > 0
        assert not any(shown.nth(number).is_visible() for number in range(shown.count())), hidden
    # What a summary folds away on the screen stands on paper.
    for there in ("#safety .strip", "#before li", "#lay-out tr", ".step .strip", ".step .do"):
        shown = page.locator(there)
        assert shown.count() > 0
        assert all(shown.nth(number).is_visible() for number in range(shown.count())), there
    made = page.pdf(format="A4")
    # 91 steps with their drawings and two pages of what to lay out; the page on the screen would come to 25.
    assert len(pikepdf.open(BytesIO(made)).pages) <= 12
    page.close()


@needs_chromium
@pytest.mark.parametrize("has_viewer", [True, False])
def test_the_keys_that_print_print_the_card_and_not_the_page(browser: Browser, has_viewer: bool) -> None:
    """It is opened out of sight and printed from there; a browser that can't show it is led to it."""
    site = Site(
        library=library(),
        generic=(),
        tailored=(lead_card("heron"),),
        cards={(LEAD, "heron"): (CardLink(paper="A4", href="cards/heron.html", steps=True),)},
        typeset=convert,
    )
    made = {one.path: one.html.encode() for one in site_pages(site, theme())} | dict(theme().assets)
    page = browser.new_page()
    served(page, made | {"cards/heron.html": b"<title>the card</title>"})
    page.add_init_script(
        "window.print = () => console.info(`printed ${document.title}`);"
        f"Object.defineProperty(navigator, 'pdfViewerEnabled', {{ value: {str(has_viewer).lower()} }});"
    )
    page.goto(f"{SHOP}/{GUIDE}")
    if has_viewer:
        for _ in range(2):
            with page.expect_console_message() as told:
                page.keyboard.press("Control+p")
            assert told.value.text == "printed the card"
        assert page.url == f"{SHOP}/{GUIDE}"
        assert "Ctrl+P" in page.locator("#print").inner_text()
    else:
        page.keyboard.press("Control+p")
        page.wait_for_url("**/cards/heron.html")
    page.close()


def served(page: Page, made: Mapping[str, bytes]) -> set[str]:
    """Let a page read a site as from a host; what it asks for, by path."""
    asked: set[str] = set()

    def answer(route: Route) -> None:
        path = urlsplit(route.request.url).path.lstrip("/")
        asked.add(path)
        route.fulfill(body=made.get(path, b""), content_type=guess_type(path)[0] or "text/plain")

    page.route(f"{SHOP}/**", answer)
    return asked
