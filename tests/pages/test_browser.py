"""The site in a real browser: no request leaves, nothing scrolls sideways, ticks stay, text spacing does no harm."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest
from playwright.sync_api import Browser, Page

from tests.demo import lead_card
from tests.pages.in_a_browser import SPACING, browser, needs_chromium, restyled, root

__all__ = ["browser", "root"]  # fixtures, found here by their names
pytestmark = needs_chromium
SHOWN = (
    "index.html",
    "guides.html",
    "bikes.html",
    "checks.html",
    "torques.html",
    "tools.html",
    "words.html",
    "safety-key.html",
    "about.html",
    "print.html",
    "find.html",
    "what-is-wrong.html",
    "guides/wider-range-cassette.html",
    "bikes/heron/wider-range-cassette.html",
    "bikes/heron.html",
    "checks/chain-length.html",
    "checks/hill-power.html",
)
GUIDE = "bikes/heron/wider-range-cassette.html"


@dataclass(frozen=True, slots=True)
class Watched:
    """A narrow tab, what its pages ask for, and what goes wrong on them."""

    page: Page
    asked: list[str] = field(default_factory=list)
    troubles: list[str] = field(default_factory=list)


@pytest.fixture(scope="module")
def narrow(browser: Browser) -> Iterator[Watched]:
    watched = Watched(browser.new_page(viewport={"width": 320, "height": 700}))
    page, troubles = watched.page, watched.troubles
    page.on("request", lambda request: watched.asked.append(request.url))
    page.on("requestfailed", lambda request: troubles.append(request.url))
    page.on("console", lambda message: troubles.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: troubles.append(str(error)))
    yield watched
    page.close()


@pytest.mark.parametrize("path", SHOWN)
def test_a_page_asks_nobody_else_and_fits_a_narrow_screen(narrow: Watched, root: str, path: str) -> None:
    narrow.asked.clear()
    page = narrow.page
    page.goto(f"{root}/{path}")
    assert f"{root}/{path}" in narrow.asked
    assert [url for url in narrow.asked if not url.startswith((root, "data:"))] == []
    assert narrow.troubles == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    restyled(page, SPACING)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_ticks_stay_after_a_reload_and_can_be_cleared(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.goto(f"{root}/{GUIDE}")
    page.locator("#step-3 input").check()
    assert page.locator(".ticks-line output").inner_text() == "1"
    page.reload()
    assert page.locator("#step-3 input").is_checked()
    assert not page.locator("#step-4 input").is_checked()
    for number in (1, 2):
        page.locator(f"#step-{number} input").check()
    page.reload()
    # Who comes back goes on where the ticks end.
    start = page.locator("a.start")
    label = page.locator("#step-4 .number").inner_text().split()[-1]
    assert (start.inner_text(), start.get_attribute("href")) == (f"Go on at step {label}", "#step-4")
    page.locator(".ticks-line button").click()
    assert start.inner_text() == "Start at step A1"
    page.reload()
    assert not page.locator("#step-3 input").is_checked()
    page.close()


def test_a_list_can_be_searched(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.goto(f"{root}/checks.html")
    page.locator("[data-filter]").fill("chain wear")
    shown = page.locator("#checks li:visible")
    assert 0 < shown.count() < page.locator("#checks li").count()
    page.locator("[data-filter]").fill("no such thing")
    assert shown.count() == 0
    assert page.locator(".filter [role=status]").inner_text() != ""
    page.close()


def test_everything_can_be_read_without_the_script(browser: Browser, root: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{root}/{GUIDE}")
    assert page.locator(f"#step-{len(lead_card('heron').steps)}").is_visible()
    assert not page.locator(".ticks-line").is_visible()
    page.goto(f"{root}/checks.html")
    assert not page.locator(".filter").is_visible()
    context.close()


def test_the_keyboard_reaches_the_content_first(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.goto(f"{root}/{GUIDE}")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    assert page.locator(".skip").bounding_box()["x"] >= 0  # type: ignore[index]
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "content"
    page.close()


def test_labels_are_large_enough_for_a_finger(browser: Browser, root: str) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 800})
    page.goto(f"{root}/{GUIDE}")
    sizes = page.locator(".tick").evaluate_all("all => all.map(one => one.getBoundingClientRect().height)")
    assert len(sizes) == len(lead_card("heron").steps)
    assert min(sizes) >= 44
    page.close()
