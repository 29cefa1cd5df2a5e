"""The rider's page on a host of its own, in a real browser: built once for all tests that look at it there."""

from __future__ import annotations

import functools
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from builder.build.rider_files import rider_files
from builder.checks.registry import CHECKS
from builder.model.library import Library
from builder.pages import paths
from builder.pages.check_page import check_page
from builder.pages.contents import Site
from builder.pages.guide_page import guide_page
from builder.pages.theme import load_theme
from builder.proof.jobs import Job, Ready, work_out
from builder.sources.loaded import shipped_themes
from tests.demo import LEAD, library
from tests.pages.shop import worker_of

GUIDES = ("front-wheel-out-and-in", LEAD, "check-before-a-ride")
CHECKED = ("chain-length", "tyre-clearance")
WAIT_MS = 30_000
# The site stands below a folder, as on a host that many share.
BELOW = "club/site"


@functools.cache
def site_files(guides: tuple[str, ...] = GUIDES) -> dict[str, bytes]:
    """A site of few guides with the rider's page."""
    return site_of(library(), guides)


def site_of(library: Library, guides: tuple[str, ...]) -> dict[str, bytes]:
    """A site of a library, of few of its guides, with the rider's page."""
    theme = load_theme(shipped_themes() / "bench")
    worked = (work_out(Job(guide=library.guides[name]), library) for name in guides)
    generic = tuple(one.tailored for one in worked if isinstance(one, Ready))
    site = Site(library=library, generic=generic, typeset=str, version="1", rider=True)
    pages = (
        *(guide_page(one, site, theme) for one in generic),
        *(check_page(CHECKS[name], site, theme) for name in CHECKED),
    )
    files = {**rider_files(site, theme), **theme.assets, **{page.path: page.html.encode() for page in pages}}
    files[paths.FIND_INDEX] = b""  # asked for by who comes to the field for finding
    return {**files, paths.WORKER: worker_of(files).encode()}


_ANOTHER = """words => document.getElementById('question').hidden
    || document.getElementById('question-words').textContent !== words
    || document.getElementById('said-wrong').textContent !== ''"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Harm:
    """What a host answers in place of a file: other bytes, another status, other headers."""

    data: bytes | None = None
    status: int = 200
    headers: Mapping[str, str] = field(default_factory=dict)


@dataclass(slots=True)
class Host:
    """A host of plain files. `harm` changes what it answers, by the end of a path; `asked` is what it was asked."""

    folder: Path
    asked: list[str] = field(default_factory=list)
    harm: dict[str, Harm] = field(default_factory=dict)
    server: ThreadingHTTPServer | None = None

    @property
    def address(self) -> str:
        """Where the site begins."""
        assert self.server is not None
        return f"http://127.0.0.1:{self.server.server_port}/{BELOW}/"

    def start(self, port: int = 0) -> None:
        """Answer from now on."""
        handler = functools.partial(_Handler, self, directory=str(self.folder))
        self.server = ThreadingHTTPServer(("127.0.0.1", port), handler)
        threading.Thread(target=self.server.serve_forever, daemon=True).start()

    def stop(self) -> None:
        """Answer nobody any more."""
        assert self.server is not None
        self.server.shutdown()
        self.server.server_close()


class _Handler(SimpleHTTPRequestHandler):
    def __init__(self, host: Host, *given: Any, **named: Any) -> None:
        self.host = host
        super().__init__(*given, **named)

    def do_GET(self) -> None:
        path = self.path.partition("?")[0]
        self.host.asked.append(path)
        ending = next((one for one in self.host.harm if path.endswith(one)), None)
        if ending is None:
            super().do_GET()
            return
        harm = self.host.harm[ending]
        data = Path(self.translate_path(self.path)).read_bytes() if harm.data is None else harm.data
        self.send_response(harm.status)
        plain = {"Content-Length": str(len(data)), "Content-Type": self.guess_type(path)}
        for name, value in {**plain, **harm.headers}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(data)

    def end_headers(self) -> None:
        # A browser's own cache must not answer in place of a host that does harm or is gone, however slow the run is.
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()

    def log_message(self, format: str, *args: object) -> None:
        pass


def host_of(files: Mapping[str, bytes], folder: Path) -> Host:
    """A host that answers with the files of a site."""
    for path, data in files.items():
        (folder / BELOW / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / BELOW / path).write_bytes(data)
    made = Host(folder)
    made.start()
    return made


@contextmanager
def gone(host: Host) -> Iterator[None]:
    """The host answers nobody, for a while."""
    assert host.server is not None
    port = host.server.server_port
    host.stop()
    try:
        yield
    finally:
        host.start(port)


@pytest.fixture(scope="module")
def host(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Host]:
    """The site on a host."""
    made = host_of(site_files(), tmp_path_factory.mktemp("host"))
    yield made
    made.stop()


def troubles(page: Page) -> list[str]:
    """What goes wrong on a page from now on: errors of its scripts, what its policy refuses, and who else is asked."""
    found: list[str] = []
    page.on("console", lambda message: found.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: found.append(str(error)))
    page.on(
        "request",
        lambda one: None if one.url.startswith(("http://127.0.0.1", "data:", "blob:")) else found.append(one.url),
    )
    return found


def until(page: Page, expression: str, given: object = None, wait_ms: int = WAIT_MS) -> None:
    """Wait until a function of the page says so; the page's policy lets nothing wait within it."""
    deadline = time.monotonic() + wait_ms / 1000
    while not page.evaluate(expression, given):
        assert time.monotonic() < deadline, f"never so: {expression}"
        page.wait_for_timeout(40)


def answer(page: Page, said: dict[str, str], most: int = 60) -> list[str]:
    """Answer what is asked until nothing is, or `most` questions are; what is not in `said` is left open.

    `said` names a case or a text by words that the question has in it. What was asked, in order.
    """
    asked: list[str] = []
    for _ in range(most):
        until(page, "() => document.getElementById('busy').hidden")
        if not page.locator("#question fieldset").is_visible():
            return asked
        words = page.locator("#question-words").inner_text()
        asked.append(words)
        text = next((text for part, text in said.items() if part in words), None)
        if text is None:
            page.locator("#not-known").click()
        elif page.locator("#said").count():
            page.locator("#said").fill(text)
            page.keyboard.press("Enter")
        else:
            page.locator(".choice", has_text=text).first.click()
        until(page, _ANOTHER, words)
    return asked


def unprinted(page: Page) -> None:
    """Let nothing be printed on this page: what would be stays to be looked at."""
    page.add_init_script("window.print = () => {}")


def opened(page: Page, address: str) -> None:
    """Open the page and wait until it asks or shows something; nothing is printed there."""
    unprinted(page)
    page.goto(address)
    page.wait_for_selector("#question fieldset, #guide-of-bike:not([hidden]), #failed:not([hidden])", timeout=WAIT_MS)
