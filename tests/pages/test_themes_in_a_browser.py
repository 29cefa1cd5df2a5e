"""Every kind of page in every theme, in a real browser: WCAG 2.2 A and AA, 200 % zoom, a reader's own text spacing."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.pages.in_a_browser import SPACING, browser, laid_down, needs_chromium, restyled
from tests.pages.shop import THEMES

__all__ = ["browser"]  # a fixture, found here by its name
pytestmark = needs_chromium
VENDOR = Path(__file__).parents[1] / "vendor"
AXE = VENDOR / "axe.min.js"
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
GUIDE = "bikes/kestrel/wider-range-cassette.html"
# One page of each kind that has a template of its own shape.
KINDS = (
    "index.html",
    "guides.html",
    "what-is-wrong.html",
    "words.html",
    "bikes/heron.html",
    "checks/chain-length.html",
    "404.html",
    GUIDE,
)


@pytest.fixture(scope="module", params=THEMES)
def dressed_root(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> str:
    return laid_down(tmp_path_factory.mktemp("dressed"), request.param)


@pytest.fixture(scope="module")
def tab(browser: Browser) -> Iterator[Page]:
    page = browser.new_page()
    yield page
    page.close()


def violations(page: Page, **options: object) -> list[tuple[str, list[str]]]:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("options => axe.run(options)", options)["violations"]
    return [(one["id"], [node["target"][0] for node in one["nodes"]]) for one in found]


def test_the_checker_is_the_one_that_was_fetched() -> None:
    assert hashlib.sha256(AXE.read_bytes()).hexdigest() in (VENDOR / "vendored.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("path", KINDS)
def test_a_page_meets_wcag(tab: Page, dressed_root: str, path: str) -> None:
    tab.set_viewport_size({"width": 360, "height": 800})
    tab.emulate_media(color_scheme="light")
    tab.goto(f"{dressed_root}/{path}")
    assert violations(tab, runOnly=list(RULES)) == []
    # The same at 320 px with a reader's own spacing: nothing is cut off at the side.
    tab.set_viewport_size({"width": 320, "height": 800})
    restyled(tab, SPACING)
    assert tab.evaluate("document.documentElement.scrollWidth") <= 320


@pytest.mark.parametrize("path", ["index.html", "bikes/heron.html"])
def test_a_page_meets_wcag_on_a_wide_dark_screen(tab: Page, dressed_root: str, path: str) -> None:
    tab.set_viewport_size({"width": 1280, "height": 800})
    tab.emulate_media(color_scheme="dark")
    tab.goto(f"{dressed_root}/{path}")
    assert violations(tab, runOnly=["color-contrast", "target-size", "link-in-text-block"]) == []


def test_a_page_that_lacks_contrast_is_found(tab: Page, dressed_root: str) -> None:
    tab.goto(f"{dressed_root}/404.html")
    restyled(tab, "p { color: #999999 !important; background: #ffffff !important }")
    assert [rule for rule, _ in violations(tab, runOnly=["color-contrast"])] == ["color-contrast"]


@pytest.mark.parametrize("path", ["index.html", GUIDE])
def test_at_200_percent_nothing_is_cut_off_or_covered(tab: Page, dressed_root: str, path: str) -> None:
    """A window of 1280 px at 200 % is one of 640 px."""
    tab.set_viewport_size({"width": 640, "height": 400})
    tab.emulate_media(color_scheme="light")
    tab.goto(f"{dressed_root}/{path}")
    assert tab.evaluate("document.documentElement.scrollWidth") <= 640
    tab.set_viewport_size({"width": 1280, "height": 800})
    tab.evaluate("document.documentElement.style.fontSize = '200%'")
    assert tab.evaluate("document.documentElement.scrollWidth") <= 1280
    cut = tab.evaluate(
        """() => [...document.querySelectorAll("main *")]
          .filter(one => getComputedStyle(one).overflowX === "hidden" && !one.closest("svg, .unseen"))
          .filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.className)"""
    )
    assert cut == []
