"""Open pages of a tainted library: `python -m tests.vectors [--number N]`; all turns bring each vector to each text."""

from __future__ import annotations

import argparse

from playwright.sync_api import sync_playwright

from tests.pages.in_a_browser import CHROMIUM
from tests.vectors.opening import wrongs
from tests.vectors.tainting import VECTORS, pages_of, tainted_files


def main() -> int:
    """Taint, open, and print what went wrong, then the count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--number", type=int, default=len(VECTORS), help="how many turns")
    options = parser.parse_args()
    found, pages, texts = 0, 0, 0
    kinds: set[str] = set()
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        for turn in range(options.number):
            files, tainting = tainted_files(turn)
            for one in wrongs(browser, files):
                found += 1
                print(f"turn {turn}: {one}", flush=True)
            pages += len(list(pages_of(files)))
            texts += tainting.texts
            kinds |= tainting.kinds
        browser.close()
    print(
        f"{len(VECTORS)} vectors, {options.number} turns through {len(kinds)} fields of records, {texts} texts, "
        f"{pages} pages opened: {found} wrong"
    )
    return 1 if found else 0


if __name__ == "__main__":
    raise SystemExit(main())
