"""`python -m tests.rider.pictures FOLDER [BIKE]`: three bikes that the demo lacks, in pictures.

The page is used as a new rider would: every stage in two widths, light and dark, and the printed cards as PDF, to be
looked at.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Browser, Page

from tests.demo import LEAD
from tests.pages.in_a_browser import started
from tests.rider.in_a_browser import WAIT_MS, Host, answer, host_of, opened, site_files, until

_LOOKS = ((360, "light"), (360, "dark"), (1280, "light"), (1280, "dark"))
_PAPERS = (("brief", "a5"), ("brief", "a4"), ("steps", "a4"), ("steps", "letter"), ("steps", "a5"), ("teaching", "a4"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rider:
    """A bike, the guide that is wanted for it, and what is told of it; all else is not known."""

    bike: str
    guide: str
    said: dict[str, str]
    parts: dict[str, str] = field(default_factory=dict)


RIDERS = (
    Rider(
        bike="Long-travel",
        guide=LEAD,
        said={
            "changes the gears": "a rear derailleur",
            "each chainring": "32",
            "at the rear wheel?": "10-45 12-speed",
            "shifter, as a number": "12",
            "largest sprocket that": "51",
            "capacity": "39 teeth",
            "bottom bracket's axle": "17 1/4 in",
            "ends of the bike": "rear suspension",
            "freehub": "don't know",
        },
        parts={"cassette": "cs-11-50-11s"},
    ),
    Rider(
        bike="Found in the cellar",
        guide="front-disc-pads-replaced",
        said={"front wheel in the fork": "bolt-through", "front brake work on": "disc"},
    ),
    Rider(
        bike="Town bike",
        guide="hub-gear-cable-adjusted",
        said={
            "changes the gears": "gears inside the hub",
            "inside the hub": "7",
            "sprocket at the rear hub": "19",
            "rear wheel in": "nuts",
        },
    ),
)


def main(folder: Path, wanted: str = "") -> None:
    """Write the pictures."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as work, started() as browser:
        host = host_of(site_files(tuple(one.guide for one in RIDERS)), Path(work))
        for rider in RIDERS:
            if wanted in rider.bike:
                _walked(browser, host, rider, folder / rider.bike.split()[0].lower())
        host.stop()


def _walked(browser: Browser, host: Host, rider: Rider, at: Path) -> None:
    page = browser.new_page()
    page.set_default_timeout(WAIT_MS)
    opened(page, f"{host.address}rider/index.html#for={rider.guide}")
    page.locator("#bike-name").fill(rider.bike)
    page.keyboard.press("Tab")
    for role, part in rider.parts.items():
        page.locator(f"#part-{role}").select_option(part)
    for number, asked in enumerate(_asked(page, rider)):
        print(f"{rider.bike}: {asked}", flush=True)
        if number < 9 and page.locator("#question figure, #said").count():
            page.wait_for_timeout(300)
            _looked_at(page, f"{at}-question-{number}")
    page.wait_for_selector("#guide-of-bike:not([hidden])")
    for fold in page.locator("#told, .rider-bikes, .rider-more").all():
        fold.evaluate("one => { one.open = true }")
    _looked_at(page, f"{at}-told", "#page", high=2600)
    page.locator("#show-bike-page").click()
    page.wait_for_selector("#bike-page:not([hidden])")
    _looked_at(page, f"{at}-bike", "#bike-page", high=3600)
    _looked_at(page, f"{at}-result", "#result", high=3600)
    for form, paper in _PAPERS:
        _printed(browser, page, host, form, paper, Path(f"{at}-{form}-{paper}.pdf"))
    page.close()


def _asked(page: Page, rider: Rider) -> Iterator[str]:
    """Each question, before it is answered."""
    while True:
        until(page, "() => document.getElementById('busy').hidden")
        if not page.locator("#question fieldset").is_visible():
            return
        yield page.locator("#question-words").inner_text()
        answer(page, rider.said, most=1)


def _looked_at(page: Page, name: str, of: str = "#page", high: int = 1400) -> None:
    for width, scheme in _LOOKS:
        page.set_viewport_size({"width": width, "height": 900})
        page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
        box = page.locator(of).bounding_box()
        assert box is not None
        top = page.evaluate("scrollY") + box["y"]
        clip = {"x": 0, "y": top, "width": width, "height": min(box["height"], high)}
        page.screenshot(path=f"{name}-{width}-{scheme}.png", full_page=True, clip=clip)  # type: ignore[arg-type]


def _printed(browser: Browser, page: Page, host: Host, form: str, paper: str, to: Path) -> None:
    page.evaluate("document.querySelector('iframe.unseen')?.remove()")
    page.locator("#form").select_option(form)
    page.locator("#paper").select_option(paper)
    page.locator("#print-card").click()
    ready = "body.sides" if form != "teaching" else ".do"
    until(
        page,
        f"() => document.querySelector('iframe.unseen')?.contentDocument?.querySelectorAll('{ready}').length > 0",
        wait_ms=5 * WAIT_MS,
    )
    html = page.evaluate("document.querySelector('iframe.unseen').contentDocument.documentElement.outerHTML")
    sheet = browser.new_page()
    sheet.goto(f"{host.address}rider/licences.txt")  # a page of this site without a policy of its own
    sheet.set_content(html)
    sheet.evaluate("document.fonts.ready")
    sheet.pdf(path=to, prefer_css_page_size=True, print_background=True)
    sheet.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:3])
