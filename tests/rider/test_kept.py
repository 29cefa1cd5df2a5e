"""The rider's page and the pages of checks without a network, in a real browser: after one visit, whenever it ends."""

from __future__ import annotations

from playwright.sync_api import Browser, Page

from tests.pages.in_a_browser import browser, needs_chromium
from tests.rider.in_a_browser import CHECKED, WAIT_MS, Host, answer, gone, host, opened, troubles, until
from tests.rider.node import needs_runtime

__all__ = ["browser", "host"]  # fixtures, found here by their names
pytestmark = [needs_chromium, needs_runtime]
WHEEL = "rider/index.html#for=front-wheel-out-and-in"
# The site's own worker has taken the page over and kept every file of the site.
_SITE_KEPT = """async () => {
  const root = new URL('../', location.href).href;
  const worker = await navigator.serviceWorker.getRegistration(root);
  return worker?.active?.state === 'activated';
}"""

# What came packed is no longer kept so: only as it was unpacked for the next visit.
_PACKED_LOST = """async () => {
  let lost = 0;
  for (const name of await caches.keys()) {
    const shelf = await caches.open(name);
    for (const { url } of await shelf.keys()) {
      if (url.includes('.bin') && !url.endsWith('&plain')) lost += await shelf.delete(url);
    }
  }
  return lost;
}"""
_SAYS = "words => document.querySelector('[data-reckon] [role=status]').textContent.includes(words)"


def reckoned(page: Page) -> str:
    page.locator("[data-reckon] button").click()
    page.wait_for_selector(".reckoned .verdict", timeout=WAIT_MS)
    return page.locator(".reckoned").inner_text()


def test_after_one_visit_it_opens_with_the_host_gone(browser: Browser, host: Host) -> None:
    context = browser.new_context()
    page = context.new_page()
    opened(page, host.address + WHEEL)
    page.wait_for_selector("#offline:not([hidden])", state="attached", timeout=WAIT_MS)
    with gone(host):
        assert page.evaluate(_PACKED_LOST) == 5
        page.reload()
        page.wait_for_selector("#question fieldset", timeout=WAIT_MS)
        answer(page, {})
        page.wait_for_selector("#guide-of-bike:not([hidden])", timeout=WAIT_MS)
    context.close()


def test_after_one_check_reckoned_every_check_reckons_with_the_host_gone(browser: Browser, host: Host) -> None:
    """The first click comes before any worker watches what is fetched."""
    context = browser.new_context()
    page = context.new_page()
    found = troubles(page)
    page.goto(f"{host.address}checks/{CHECKED[0]}.html")
    assert page.evaluate("navigator.serviceWorker.controller") is None
    reckoned(page)
    page.wait_for_selector("[data-offline]:not([hidden])", timeout=WAIT_MS)
    until(page, _SITE_KEPT)
    asked = list(host.asked)
    with gone(host):
        page.goto(f"{host.address}checks/{CHECKED[1]}.html")
        assert "mm" in reckoned(page)
        # The page of the rider was never opened; what it needs is there all the same.
        opened(page, host.address + WHEEL)
        assert page.locator("#question fieldset").is_visible()
        assert host.asked == asked
    assert [text for text in found if "net::ERR_" not in text] == []
    context.close()


def test_a_check_that_was_never_reckoned_says_that_it_needs_the_connection_once(browser: Browser, host: Host) -> None:
    """Nothing of the interpreter is fetched before somebody asks for it."""
    context = browser.new_context()
    page = context.new_page()
    host.asked.clear()
    page.goto(f"{host.address}checks/{CHECKED[0]}.html")
    page.wait_for_selector("[data-reckon]:not([hidden])")
    until(page, _SITE_KEPT)
    assert not [path for path in host.asked if "/runtime/" in path or path.endswith("library.bin")]
    with gone(host):
        page.locator("[data-reckon] button").click()
        until(
            page,
            "() => document.querySelector('[data-reckon] [role=status]').textContent.includes('could not be fetched')",
        )
    page.locator("[data-reckon] button").click()
    page.wait_for_selector(".reckoned .verdict", timeout=WAIT_MS)
    context.close()
