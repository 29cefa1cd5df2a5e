"""Every kind of page, in every theme, light and dark, narrow and wide: `python -m tests.pages.sweep`.

Prints what breaks WCAG 2.2 A and AA, and pages that are wider than the window; the exit status is 1 where any does.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from itertools import product
from pathlib import Path

from playwright.sync_api import Page

from tests.pages.in_a_browser import laid_down, started
from tests.pages.shop import THEMES
from tests.pages.test_themes_in_a_browser import GUIDE, RULES, violations

SCHEMES, WIDTHS = ("light", "dark"), (360, 768, 1280)


def kinds(root: Path) -> Iterator[str]:
    """Every page of its own kind: those at the top, one of each folder, and a guide for a bike."""
    folders: set[str] = set()
    for path in sorted(root.rglob("*.html")):
        inside = path.relative_to(root).as_posix()
        folder = path.parent.relative_to(root).as_posix()
        if folder == ".":
            yield inside
        elif folder.split("/")[0] not in folders:
            folders.add(folder.split("/")[0])
            yield inside
    yield GUIDE


def troubles(page: Page, address: str, scheme: str, width: int) -> Iterator[str]:
    """What is wrong with a page in this scheme at this width [px]."""
    page.set_viewport_size({"width": width, "height": 800})
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    page.goto(address)
    yield from (f"{rule}: {', '.join(nodes[:3])}" for rule, nodes in violations(page, runOnly=list(RULES)))
    wide = page.evaluate("document.documentElement.scrollWidth")
    if wide > width:
        yield f"{wide} px wide"


def main() -> int:
    """Try all of it."""
    tried = found = 0
    with tempfile.TemporaryDirectory() as folder, started() as browser:
        page = browser.new_page()
        for number, theme in enumerate(THEMES):
            root = laid_down(Path(folder) / str(number), theme)
            for path, scheme, width in product(kinds(Path(folder) / str(number)), SCHEMES, WIDTHS):
                tried += 1
                for trouble in troubles(page, f"{root}/{path}", scheme, width):
                    found += 1
                    print(f"{theme} {path} {scheme} {width} px: {trouble}")
    print(f"{tried} pages tried, {found} troubles")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
