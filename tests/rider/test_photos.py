"""Photographs of a workshop's own in the guide and the card that are made in a browser."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser

from builder.sources.photos import photo_files
from builder.sources.workspace import load
from tests.build.test_photos import GUIDE, PHOTO, picture
from tests.pages.in_a_browser import browser, needs_chromium
from tests.rider.in_a_browser import WAIT_MS, host_of, opened, site_of, troubles, until
from tests.rider.node import needs_runtime
from tests.sources.broken_cases import SMALL

__all__ = ["browser"]  # a fixture, found here by its name
pytestmark = [needs_chromium, needs_runtime]
_WIDTH = """async href => {
  const image = new Image();
  image.src = href;
  await image.decode();
  return image.naturalWidth;
}"""
_IN_GUIDE = "document.querySelector('#guide-of-bike image').getAttribute('href')"
_CARD = "document.querySelector('iframe.unseen')?.contentDocument"
_READY = f"() => {_CARD}?.querySelectorAll('body.sides image, body:not(.galleys) image').length === 1"
_IN_CARD = f"() => [...{_CARD}.querySelectorAll('image')].map(one => one.getAttribute('href'))"


def test_a_photograph_shows_in_the_guide_and_is_within_the_printed_card(browser: Browser, tmp_path: Path) -> None:
    workspace = tmp_path / "ours"
    (workspace / "images").mkdir(parents=True)
    picture(800, 600).save(workspace / "images" / "rack.jpg")
    (workspace / "rack.yaml").write_text(GUIDE + PHOTO)
    loaded = load(workspace, SMALL)
    assert loaded.diagnostics == ()
    photos = {f"photos/{name}": data for name, data in photo_files(loaded.library, (SMALL, workspace)).items()}
    host = host_of({**site_of(loaded.library, ("rack",)), **photos}, tmp_path / "host")
    page = browser.new_context(service_workers="block").new_page()
    page.set_default_timeout(WAIT_MS)
    found = troubles(page)
    opened(page, f"{host.address}rider/index.html#for=rack")
    page.wait_for_selector("#guide-of-bike image")
    shown = page.evaluate(_IN_GUIDE)
    assert shown == host.address + next(iter(photos))
    assert page.evaluate(_WIDTH, shown) == 800
    assert "The stay" in page.locator("#guide-of-bike figure").inner_text()
    for form in ("steps", "teaching"):
        page.evaluate("document.querySelector('iframe.unseen')?.remove()")
        page.locator("#form").select_option(form)
        page.locator("#print-card").click()
        until(page, _READY)
        (within,) = page.evaluate(_IN_CARD)
        assert within.startswith("data:image/jpeg;base64,")
        assert page.evaluate(_WIDTH, within) == 800
    assert found == []

    # One that does not come is told of; what the browser has kept of it on its own account must be gone too.
    (tmp_path / "host/club/site" / next(iter(photos))).unlink()
    page.context.new_cdp_session(page).send("Network.clearBrowserCache")
    page.locator("#print-card").click()
    until(page, "() => document.getElementById('sides').textContent.includes('A photograph could not be fetched')")
    page.context.close()
    host.stop()
