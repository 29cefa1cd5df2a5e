"""Rules of legibility on the screen, held against pages of the site in a real browser."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.pages.in_a_browser import SPACING, browser, needs_chromium, restyled, root

__all__ = ["browser", "root"]  # fixtures, found here by their names
pytestmark = needs_chromium
SHOWN = (
    "index.html",
    "about.html",
    "find.html",
    "what-is-wrong.html",
    "safety-key.html",
    "guides/wider-range-cassette.html",
    "bikes/heron/wider-range-cassette.html",
    "bikes/heron.html",
    "checks/chain-length.html",
)
# WCAG 2.x, 1.4.8: lines at least 1.5 apart, paragraphs 1.5 times as far as lines.
APART = 1.5
# Running text: what is read one paragraph after another. Steps, messages and tables are looked at one by one.
RUNNING = "main p"
NOT_RUNNING = "table, .step, .strip, .stop, .change, .tiles, figure, nav"
LINES = """([running, apart]) => [...document.querySelectorAll(running)].filter(p => !p.closest(apart)).flatMap(p => {
  const style = getComputedStyle(p), size = parseFloat(style.fontSize), line = parseFloat(style.lineHeight);
  if (!p.getClientRects().length || p.clientHeight < 1.8 * line) return [];
  const next = p.nextElementSibling;
  const gap = next && next.tagName === 'P' && next.getClientRects().length
    ? (next.getBoundingClientRect().top - p.getBoundingClientRect().bottom + line) / line : null;
  return [[p.innerText.slice(0, 40), line / size, gap]];
})"""
# What a box hides, or what runs out of it over its neighbours. What scrolls by itself loses nothing.
LOST = """() => [...document.querySelectorAll('main *')].filter(e => {
  const style = getComputedStyle(e);
  if (!e.clientWidth || e.closest('svg, math, .unseen') || style.display === 'inline') return false;
  const scrolls = ['auto', 'scroll'];
  const across = e.scrollWidth > e.clientWidth + 1 && !scrolls.includes(style.overflowX);
  const down = e.scrollHeight > e.clientHeight + 2 && !scrolls.includes(style.overflowY) && style.height !== 'auto'
    && style.overflowY !== 'visible';
  return across || down;
}).map(e => e.tagName + '.' + e.className + ': ' + e.textContent.trim().slice(0, 40))"""


@pytest.fixture(scope="module")
def tab(browser: Browser) -> Iterator[Page]:
    opened = browser.new_page()
    yield opened
    opened.close()


@pytest.fixture
def page(tab: Page) -> Page:
    tab.set_viewport_size({"width": 1000, "height": 900})
    return tab


@pytest.mark.parametrize("path", SHOWN)
def test_running_text_has_room_between_its_lines_and_paragraphs(page: Page, root: str, path: str) -> None:
    # L08, after WCAG 2.x, 1.4.8.
    page.goto(f"{root}/{path}")
    for words, line, gap in page.evaluate(LINES, [RUNNING, NOT_RUNNING]):
        assert line >= APART - 0.001, words
        assert gap is None or gap >= APART - 0.001, words


def test_there_is_running_text_to_look_at(page: Page, root: str) -> None:
    page.goto(f"{root}/about.html")
    found = page.evaluate(LINES, [RUNNING, NOT_RUNNING])
    assert len(found) >= 3
    restyled(page, "p { line-height: 1.3 !important }")
    assert all(line < APART for _, line, _ in page.evaluate(LINES, [RUNNING, NOT_RUNNING]))


@pytest.mark.parametrize("width", [320, 1000])
@pytest.mark.parametrize("path", SHOWN)
def test_nothing_is_lost_with_the_spacing_that_a_reader_sets(page: Page, root: str, path: str, width: int) -> None:
    # L09, after WCAG 2.2, 1.4.12.
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(f"{root}/{path}")
    restyled(page, SPACING)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate(LOST) == []


def test_a_box_that_cuts_its_text_off_would_be_seen(page: Page, root: str) -> None:
    page.goto(f"{root}/about.html")
    restyled(page, "main p { height: 1.2em; overflow: hidden } " + SPACING)
    assert page.evaluate(LOST)
