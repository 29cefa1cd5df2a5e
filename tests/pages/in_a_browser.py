"""The demo's site opened in a real browser, for every test that looks at it there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.pages.shop import THEME, files

CHROMIUM = "/usr/bin/chromium"
# Set-up brings it; where nobody has the rights to install it, these tests say so instead of failing.
needs_chromium = pytest.mark.skipif(not Path(CHROMIUM).exists(), reason="no Chromium on this machine")
# WCAG 2.2, 1.4.12.
SPACING = (
    "* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important }"
    "p { margin-bottom: 2em !important }"
)


def restyled(page: Page, css: str) -> None:
    """Lay a reader's own stylesheet over the page, which its policy would not let a style element do."""
    page.evaluate(
        """css => {
          const sheet = new CSSStyleSheet();
          sheet.replaceSync(css);
          document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
        }""",
        css,
    )


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The site in a folder, as a reader opens it."""
    return laid_down(tmp_path_factory.mktemp("site"))


def laid_down(folder: Path, dress: str = THEME.name) -> str:
    """The site in a dress, written into a folder; its address."""
    for path, data in files(dress).items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)
    return folder.as_uri()


@contextmanager
def started() -> Iterator[Browser]:
    """A browser, as long as it is wanted."""
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield found
        found.close()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with started() as found:
        yield found
