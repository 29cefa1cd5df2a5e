"""How long a reader waits for an answer of the field for finding, over the whole library; the budget is 50 ms.

`python -m tests.benchmarks.bench_find` prints the slowest of ten answers to each query, each letter of it typed.
"""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

from playwright.sync_api import sync_playwright

from builder.pages import paths
from builder.pages.finding import index_scripts
from tests.pages.fleet import generic
from tests.pages.in_a_browser import CHROMIUM
from tests.pages.shop import files, site

BUDGET_MS = 50
QUERIES = ("squeal", "gears skip", "derailer casette", "brake lever soft", "the wheel wobbles a lot", "WRC-M-01")
# From the letter typed to the list on the page: the answer is put there before the next task of the browser.
ASK = """async (query) => {
  const field = document.querySelector("#find"), took = [];
  for (let time = 0; time < 10; time++) for (let letters = 2; letters <= query.length; letters++) {
    field.value = query.slice(0, letters);
    const start = performance.now();
    field.dispatchEvent(new Event("input"));
    await new Promise((resolve) => setTimeout(resolve, 0));
    took.push(performance.now() - start);
  }
  return Math.max(...took);
}"""


def main() -> None:
    index = index_scripts(replace(site(), generic=generic()))[paths.FIND_INDEX].encode()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        for path, data in (files() | {"assets/find-index.js": index}).items():
            (Path(folder) / path).parent.mkdir(parents=True, exist_ok=True)
            (Path(folder) / path).write_bytes(data)
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page()
        page.goto(f"{Path(folder).as_uri()}/index.html")
        page.fill("#find", "chain")
        page.locator(".top .found").wait_for(state="visible")
        for query in QUERIES:
            print(f"{page.evaluate(ASK, query):6.1f} ms  {query}")
        print(f"budget {BUDGET_MS} ms, index {len(index) / 1000:.0f} kB")
        browser.close()


if __name__ == "__main__":
    main()
