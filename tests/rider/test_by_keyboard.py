"""The whole way by keyboard alone, and every stage of the form held against WCAG, in a real browser."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.demo import LEAD
from tests.pages.in_a_browser import SPACING, browser, needs_chromium, restyled
from tests.pages.test_themes_in_a_browser import RULES, violations
from tests.rider.in_a_browser import WAIT_MS, Host, host, opened, troubles, unprinted, until
from tests.rider.node import needs_runtime

__all__ = ["browser", "host"]  # fixtures, found here by their names
pytestmark = [needs_chromium, needs_runtime]
WHEEL = "front-wheel-out-and-in"
# Where the keyboard is: what it is on, whether that can be seen, and whether it shows that it is there.
_FOCUS = """() => {
  const on = document.activeElement;
  const box = on.getBoundingClientRect();
  const style = getComputedStyle(on);
  return {
    id: on.id, text: (on.textContent || '').trim().slice(0, 40), tag: on.tagName, href: on.getAttribute('href') || '',
    lost: on === document.body || on === document.documentElement,
    seen: box.width > 0 && box.height > 0
      && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
    shown: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
  };
}"""
_MOST_STOPS = 150
LARGE = "html { font-size: 200% !important }"


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1024, "height": 720}, reduced_motion="reduce")
    made = context.new_page()
    made.set_default_timeout(WAIT_MS)
    yield made
    context.close()


def focus(page: Page) -> dict[str, object]:
    """Where the keyboard is; it is on something that shows it."""
    found = dict(page.evaluate(_FOCUS))
    assert not found["lost"], "the keyboard is nowhere"
    assert found["seen"], found
    assert found["shown"], found
    return found


def reach(page: Page, key: str = "Tab", **wanted: str) -> None:
    """Press Tab until the keyboard is on what is wanted; at every stop on the way it can be seen."""
    name, value = next(iter(wanted.items()))
    stops = []
    for _ in range(_MOST_STOPS):
        found = focus(page)
        if value in str(found[name]):
            return
        stops.append(found["id"] or found["text"])
        page.keyboard.press(key)
    raise AssertionError(f"{wanted} is never reached: {stops}")


def settled(page: Page) -> None:
    until(page, "() => document.getElementById('busy').hidden && document.getElementById('loading').hidden")


def question(page: Page) -> str:
    return page.locator("#question-words").inner_text() if page.locator("#question-words").count() else ""


def next_question(page: Page, before: str) -> None:
    """Wait for the next; the keyboard is on it, or on what came of the talk."""
    until(page, "before => document.getElementById('question-words')?.textContent !== before", before)
    settled(page)
    assert focus(page)["id"] in ("question-words", "result-title"), focus(page)


def test_the_whole_way_by_keyboard(page: Page, host: Host) -> None:
    unprinted(page)
    page.goto(f"{host.address}guides/{WHEEL}.html")
    page.keyboard.press("Tab")
    reach(page, href=f"rider/index.html#for={WHEEL}")
    found = troubles(page)
    page.keyboard.press("Enter")
    page.wait_for_selector("#question fieldset")

    # Fit it to my bike: a case, and the rest is not known.
    page.keyboard.press("Tab")
    reach(page, text="quick-release")
    before = question(page)
    page.keyboard.press("Space")
    next_question(page, before)
    while before := question(page):
        reach(page, id="not-known")
        page.keyboard.press("Enter")
        next_question(page, before)

    # The guide is there: its first step is ticked, and the tick is kept with the bike.
    assert focus(page)["id"] == "result-title"
    for _ in range(_MOST_STOPS):
        page.keyboard.press("Tab")
        focus_now = page.evaluate("document.activeElement.dataset.tick ?? ''")
        focus(page)
        if focus_now.startswith("step"):
            break
    page.keyboard.press("Space")
    step = page.evaluate("document.activeElement.dataset.tick")
    kept = json.loads(page.evaluate("localStorage.getItem('spannerleaf bikes')"))["bikes"][0]
    assert kept["ticks"] == {WHEEL: step}
    page.reload()
    page.wait_for_selector("#guide-of-bike:not([hidden])")
    assert page.locator(f"#guide-of-bike input[data-tick='{step}']").is_checked()

    # Printed as the card to work along.
    page.keyboard.press("Tab")
    reach(page, id="form")
    page.keyboard.press("ArrowDown")
    assert page.locator("#form").input_value() == "steps"
    reach(page, id="print-card")
    page.keyboard.press("Enter")
    until(page, "() => document.querySelector('iframe.unseen')?.dataset.sides")
    settled(page)
    assert focus(page)["id"] == "print-card"
    assert "sides" in page.locator("#sides").inner_text()

    # Saved as a file, and deleted.
    reach(page, "Shift+Tab", text="Another bike")
    page.keyboard.press("Enter")
    reach(page, id="save-file")
    with page.expect_download() as download:
        page.keyboard.press("Enter")
    assert "quick-release" in Path(download.value.path()).read_text(encoding="utf-8")
    assert focus(page)["id"] == "save-file"
    reach(page, id="delete-bike")
    page.keyboard.press("Enter")
    assert focus(page)["text"] == "Keep it"
    reach(page, "Shift+Tab", text="Delete it")
    page.keyboard.press("Enter")
    until(page, "() => localStorage.length === 0")
    settled(page)
    assert focus(page)["id"] == "delete-bike"
    assert found == []


def held(page: Page, stage: str) -> None:
    """The stage meets WCAG, at 320 px with a reader's own spacing, and with letters of twice the size besides."""
    settled(page)
    assert violations(page, runOnly=list(RULES)) == [], stage
    assert page.evaluate("document.documentElement.scrollWidth") <= 320, stage
    page.evaluate("document.documentElement.classList.add('large')")
    assert page.evaluate("document.documentElement.scrollWidth") <= 320, (stage, "at 200 %")
    page.evaluate("document.documentElement.classList.remove('large')")


def test_every_stage_meets_wcag_on_a_narrow_screen(page: Page, host: Host) -> None:
    page.set_viewport_size({"width": 320, "height": 700})
    opened(page, f"{host.address}rider/index.html#for={LEAD}")
    restyled(page, SPACING + LARGE.replace("html", "html.large"))
    held(page, "a choice, and parts to choose")
    page.locator(".choice", has_text="a rear derailleur").click()
    until(page, "() => document.getElementById('said')")
    page.locator("#said").fill("many")
    page.keyboard.press("Enter")
    until(page, "() => document.getElementById('said-wrong').textContent")
    held(page, "an answer that can not be taken")
    page.locator("#part-cassette").select_option(" ")
    page.locator("#told summary").click()
    page.locator(".rider-bikes > summary").click()
    page.locator("#copy-link").click()
    held(page, "a part by its figures, what was told, a link")
    page.locator("#delete-bike").click()
    held(page, "a last question before a bike is deleted")
    page.keyboard.press("Escape")
    page.locator("#part-cassette").select_option("cs-11-50-11s")
    page.locator("#show-now").click()
    page.wait_for_selector("#guide-of-bike:not([hidden])")
    page.locator(".rider-more > summary").click()
    page.locator("#show-bike-page").click()
    page.wait_for_selector("#bike-page:not([hidden])")
    for fold in page.locator(".rider-more details, #guide-of-bike details").all():
        fold.evaluate("one => { one.open = true }")
    held(page, "what comes of it, and the page of the bike")
    link = page.locator("#link").input_value()
    page.evaluate("address => { location.href = address }", link)
    page.wait_for_selector("#offered:not([hidden])")
    held(page, "a bike in a link")
