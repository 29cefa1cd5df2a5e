"""The site without a network, in a real browser: kept after one visit, below a path of its host, renewed by a build."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from mimetypes import guess_type

import pytest
from playwright.sync_api import Browser, Error, Page

from builder.model.catalogue import Workshop
from builder.pages.offline import manifest
from tests.pages.in_a_browser import browser, needs_chromium
from tests.pages.shop import files, worker_of

__all__ = ["browser"]  # a fixture, found here by its name
BELOW = "/ours/guides/"
GUIDE = "bikes/heron/wider-range-cassette.html"
# Few files make the point; the worker knows no more than it is given.
SOME = ("index.html", "find.html", GUIDE, "site.webmanifest")

# Asks for the new worker and waits until it alone has its files.
RENEWED = """async () => {
  await (await navigator.serviceWorker.getRegistration()).update();
  for (let tries = 0; tries < 600; tries++) {
    const names = await caches.keys();
    const page = names.length === 1 && (await (await caches.open(names[0])).match(location.href));
    if (page && (await page.text()).includes("Renewed")) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error("the worker was not renewed");
}"""


@dataclass
class Host:
    """A host that can be cut off, and that counts what it is asked for."""

    files: dict[str, bytes]
    gone: bool = False
    asked: list[str] = field(default_factory=list)
    port: int = 0

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}{BELOW}"

    def give(self, changed: dict[str, bytes]) -> None:
        plain = {path: data for path, data in self.files.items() if path != "sw.js"} | changed
        self.files = plain | {"sw.js": worker_of(plain).encode()}


@pytest.fixture
def host() -> Iterator[Host]:
    state = Host(files={})
    state.give({path: data for path, data in files().items() if path in SOME or path.startswith("assets/")})

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            path = self.path.partition("?")[0].removeprefix(BELOW) or "index.html"
            state.asked.append(path)
            data = state.files.get(path)
            if state.gone:
                self.connection.close()
                return
            self.send_response(200 if data is not None else 404)
            self.send_header("Content-Type", guess_type(path)[0] or "application/octet-stream")
            self.send_header("Content-Length", str(len(data or b"")))
            self.end_headers()
            self.wfile.write(data or b"")

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    state.port = server.server_address[1]
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield state
    server.shutdown()
    server.server_close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context()
    yield context.new_page()
    context.close()


def kept(page: Page) -> None:
    """Wait until the worker has everything."""
    page.wait_for_function("() => navigator.serviceWorker.controller?.state === 'activated'")


@needs_chromium
def test_every_page_is_there_after_one_visit_with_the_host_gone(page: Page, host: Host) -> None:
    page.goto(f"{host.address}index.html")
    kept(page)
    host.gone = True
    page.reload()
    assert page.locator(".ways").is_visible()
    page.goto(host.address)  # the folder itself
    assert page.locator(".ways").is_visible()
    page.goto(f"{host.address}{GUIDE}")  # never opened before
    page.locator("[data-read]").click()
    assert page.locator("#safety .strip").first.is_visible()
    page.keyboard.press("Escape")
    page.goto(f"{host.address}find.html?q=WRC-M-01")
    page.locator("main .found a").first.wait_for(state="visible")
    page.locator("main .found a").first.click()
    page.wait_for_url(f"{host.address}{GUIDE}")


@needs_chromium
def test_what_changed_is_shown_at_once_and_nothing_else_is_fetched_again(page: Page, host: Host) -> None:
    page.goto(f"{host.address}index.html")
    kept(page)
    changed = host.files["index.html"].replace(b"<h1>", b"<h1>Renewed ")
    host.give({"index.html": changed})
    host.asked.clear()
    page.goto(f"{host.address}index.html")
    assert page.locator("h1").inner_text().startswith("Renewed ")
    page.evaluate(RENEWED)
    assert GUIDE not in host.asked
    host.gone = True
    page.reload()
    assert page.locator("h1").inner_text().startswith("Renewed ")


def test_the_worker_knows_every_file_but_those_for_machines() -> None:
    script = worker_of(files())
    listed = json.loads(script.split("=", 1)[1].split(";\n", 1)[0])
    pages = {path for path in files() if path.endswith(".html")} - {"404.html"}
    # Whether a printed card is current is not told from what was kept.
    told_anew = {path for path in pages if path.startswith("printed/")}
    assert pages - told_anew <= set(listed)
    assert not told_anew & set(listed)
    assert {"assets/site.css", "assets/find-index.js", "assets/vendor/minisearch.js"} <= set(listed)
    assert not {"robots.txt", "404.html", "sw.js"} & set(listed)
    changed = worker_of(files() | {"index.html": b"other"})
    assert changed != script
    assert worker_of({"index.html": b""}) == ""  # a theme without a worker


def test_of_a_large_fleet_only_what_all_bikes_share_is_fetched_at_the_first_visit() -> None:
    fleet = {f"bikes/bike-{number}/fit.html": b"" for number in range(2000)} | {"bikes-2.html": b"", "find-2.html": b""}
    parts = {"assets/find/61.js": b"", "sitemap-1.xml": b""}
    script = worker_of(files() | fleet | parts)
    listed = json.loads(script.split("=", 1)[1].split(";\n", 1)[0])
    assert {"index.html", "bikes.html", "guides.html", "assets/find-index.js"} <= set(listed)
    assert not [path for path in listed if path.startswith(("bikes/", "bikes-", "find-", "assets/find/", "sitemap"))]


@needs_chromium
def test_a_page_of_a_large_fleet_is_there_without_a_network_once_it_was_opened(page: Page, host: Host) -> None:
    own, other = GUIDE, "bikes/heron.html"
    listed = {path: data for path, data in host.files.items() if not path.startswith("bikes/") and path != "sw.js"}
    host.files |= {other: files()[other], "sw.js": worker_of(listed).encode()}
    page.goto(f"{host.address}index.html")
    kept(page)
    page.goto(f"{host.address}{own}")
    page.wait_for_load_state("networkidle")
    host.gone = True
    page.goto(f"{host.address}{own}")
    assert page.locator("h1").count() == 1
    with pytest.raises(Error):
        page.goto(f"{host.address}{other}")


def test_the_manifest_has_relative_addresses_alone() -> None:
    data = json.loads(manifest(Workshop(name="Ours & theirs")))
    assert data["name"] == "Ours & theirs"
    assert data["start_url"].startswith("./")
    assert data["scope"] == "./"
    assert all(icon["src"] in files() for icon in data["icons"])
