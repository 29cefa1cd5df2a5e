"""One step at a time, in a real browser: safety first, by key or finger, the screen kept on, the place remembered."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from builder.pages.labels import step_labels
from tests.demo import lead_card
from tests.pages.in_a_browser import browser, needs_chromium, root

__all__ = ["browser", "root"]  # fixtures, found here by their names
pytestmark = needs_chromium
GUIDE = "bikes/heron/wider-range-cassette.html"
# What a browser's lock on the screen looks like to the page; headless ones have none.
LOCK = """Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
  self.asked = [...(self.asked || []), kind];
  const lock = new EventTarget();
  lock.release = () => { self.released = true; };
  return lock;
} } });"""
IN_SIGHT = "() => [...document.querySelectorAll('.step, [data-pane]')].filter(e => e.checkVisibility()).map(e => e.id)"


@pytest.fixture
def page(browser: Browser, root: str) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 740})
    opened = context.new_page()
    opened.add_init_script(LOCK)
    opened.goto(f"{root}/{GUIDE}")
    yield opened
    context.close()


def test_safety_comes_before_the_first_step_and_is_open(page: Page) -> None:
    page.locator("[data-read]").click()
    assert page.evaluate(IN_SIGHT) == ["safety"]
    strips = page.locator("#safety .strip")
    assert strips.count() == len(lead_card("heron").summary_cautions)
    assert all(strips.nth(number).is_visible() for number in range(strips.count()))


def test_the_keyboard_walks_through_every_step_and_shows_its_cautions(page: Page) -> None:
    tailored = lead_card("heron")
    page.locator("[data-read]").click()
    for pane in ("before", "lay-out"):
        page.keyboard.press("ArrowRight")
        assert page.evaluate(IN_SIGHT) == [pane]
    for step in tailored.steps:
        page.keyboard.press("ArrowRight")
        assert page.evaluate(IN_SIGHT) == [f"step-{step.number}"]
        strips = page.locator(f"#step-{step.number} .strip")
        assert strips.count() == len({shown.word for shown in step.cautions})
        assert all(strips.nth(number).is_visible() for number in range(strips.count()))
    page.keyboard.press("ArrowRight")
    assert page.evaluate(IN_SIGHT) == ["complete"]
    assert page.locator(".ticks-line output").text_content() == str(len(tailored.steps))
    page.keyboard.press("ArrowLeft")
    assert page.evaluate(IN_SIGHT) == [f"step-{len(tailored.steps)}"]
    page.keyboard.press("Escape")
    assert len(page.evaluate(IN_SIGHT)) > len(tailored.steps)


def test_the_place_is_remembered_on_the_device(page: Page) -> None:
    page.locator("[data-read]").click()
    for _ in range(5):
        page.locator("[data-go=next]").click()
    number = 3
    assert page.evaluate(IN_SIGHT) == [f"step-{number}"]
    page.reload()
    label = step_labels(lead_card("heron"))[number]
    assert page.locator("[data-read]").inner_text() == f"Go on at {label}"
    page.locator("[data-read]").click()
    assert page.evaluate(IN_SIGHT) == [f"step-{number}"]
    assert page.locator("#step-1 input").is_checked()
    assert not page.locator("#step-3 input").is_checked()


def test_the_screen_is_kept_on_only_while_reading(page: Page) -> None:
    assert page.evaluate("self.asked") is None
    page.locator("[data-read]").click()
    page.locator(".awake .kept-on").wait_for(state="attached")
    assert page.evaluate("self.asked") == ["screen"]
    page.locator("[data-go=close]").click()
    assert page.evaluate("self.released") is True


def test_what_is_pressed_is_large_and_nothing_runs_off_the_screen(page: Page) -> None:
    page.locator("[data-read]").click()
    page.set_viewport_size({"width": 320, "height": 600})
    for _ in range(8):
        page.keyboard.press("ArrowRight")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
    for name in ("back", "next", "close"):
        box = page.locator(f"[data-go={name}]").bounding_box()
        assert box is not None
        assert box["height"] >= 44
        assert box["width"] >= 44


def test_a_browser_without_a_lock_reads_all_the_same(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.add_init_script("Object.defineProperty(navigator, 'wakeLock', { value: undefined })")
    page.goto(f"{root}/{GUIDE}")
    page.locator("[data-read]").click()
    page.keyboard.press("ArrowRight")
    assert page.evaluate(IN_SIGHT) == ["before"]
    assert not page.locator(".kept-on").is_visible()
    page.close()
