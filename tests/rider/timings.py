"""`python -m tests.rider.timings [TIMES]`: what a first result and a changed answer cost, as medians in milliseconds.

A rider comes by a link to the guide of the lead job, with a bike of which enough is told, and the whole library: cold,
with everything kept, and with the host gone. Beside each, what the browser's processes spent on it (CPU), since a
machine that is busy is slow. To be run where nothing else runs.
"""

from __future__ import annotations

import gzip
import json
import os
import statistics
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import BrowserContext, Page

from tests.demo import LEAD
from tests.pages.in_a_browser import started
from tests.rider.in_a_browser import WAIT_MS, Host, gone, host_of, site_files, until

_BIKE = {"key": "k", "name": "Coot", "answers": {"transmission": "derailleur", "crankset.rings": "32"}}
_KEPT = {"bikes": [{**_BIKE, "parts": {LEAD: {"cassette": "cs-11-50-11s"}}, "described": {}}], "current": "k"}
# When the first question and each guide stood on the page; and the guide is asked for as soon as there is a question.
_WATCH = """
if (!localStorage.getItem('spannerleaf bikes')) localStorage.setItem('spannerleaf bikes', KEPT);
window.seen = {question: 0, guides: []};
document.addEventListener('DOMContentLoaded', () => {
  const look = () => {
    if (seen.question || !document.querySelector('#question fieldset')) return;
    seen.question = performance.now();
    document.getElementById('show-now').click();
  };
  new MutationObserver(look).observe(document.getElementById('question'), {childList: true});
  const shown = () => seen.guides.push(performance.now());
  new MutationObserver(shown).observe(document.getElementById('guide-of-bike'), {childList: true});
});
"""
_MARKS = "() => performance.getEntriesByType('mark').map(one => [one.name, performance.timeOrigin + one.startTime])"
# Taking an answer back and giving it again: how long the guide then takes to stand there anew.
_CHANGED = """async () => {
  const back = [...document.querySelectorAll('#told-list li button')][1];
  const text = '32';
  const settled = () => new Promise(resolve => {
    const look = () => document.getElementById('busy').hidden ? resolve() : setTimeout(look, 5);
    setTimeout(look, 5);
  });
  back.click();
  await settled();
  document.getElementById('said').value = text;
  const before = seen.guides.length, began = performance.now();
  document.querySelector('.said button').click();
  await settled();
  if (seen.guides.length === before) { document.getElementById('show-now').click(); await settled(); }
  return seen.guides.at(-1) - began;
}"""


def main(times: int) -> None:
    """Print the medians, and what comes over the wire."""
    found: dict[str, list[float]] = {}
    files = site_files()
    # A bike's file is opened by a piece of its own, fetched then.
    wire = sum(
        len(gzip.compress(data, 6))
        for path, data in files.items()
        if path.startswith("rider/") and not path.endswith((".txt", "opening.bin"))
    )
    print(f"over the wire, gzipped: {wire / 1e6:.2f} MB")
    with tempfile.TemporaryDirectory() as work, started() as browser:
        host = host_of(files, Path(work))
        for _ in range(times):
            context = browser.new_context()
            context.add_init_script(_WATCH.replace("KEPT", json.dumps(json.dumps(_KEPT))))
            page = _visited(context, host, "cold", found)
            page.wait_for_selector("#offline:not([hidden])", state="attached", timeout=WAIT_MS)
            page.close()
            _visited(context, host, "warm", found).close()
            with gone(host):
                page = _visited(context, host, "offline", found)
            for _ in range(3):
                _note(found, "changed answer", page.evaluate(_CHANGED))
            context.close()
        host.stop()
    for name, values in found.items():
        print(f"{name:34} {statistics.median(values):7.0f}   ({min(values):.0f} to {max(values):.0f})")


def _visited(context: BrowserContext, host: Host, kind: str, found: dict[str, list[float]]) -> Page:
    """One visit to the page, until the guide stands there."""
    page = context.new_page()
    page.set_default_timeout(WAIT_MS)
    before = _cpu_ms()
    page.goto(f"{host.address}rider/index.html#for={LEAD}")
    until(page, "() => seen.guides.length > 0")
    _note(found, f"{kind}: CPU of the browser", _cpu_ms() - before)
    origin = page.evaluate("performance.timeOrigin")
    for name, at in page.workers[0].evaluate(_MARKS):
        _note(found, f"{kind}: {name}", at - origin)
    _note(found, f"{kind}: first question", page.evaluate("seen.question"))
    _note(found, f"{kind}: first guide", page.evaluate("seen.guides[0]"))
    return page


def _note(found: dict[str, list[float]], name: str, value: float) -> None:
    found.setdefault(name, []).append(value)


def _cpu_ms() -> float:
    """What all processes below this one have spent."""
    parents: dict[int, list[int]] = {}
    spent: dict[int, float] = {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            fields = (folder / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue  # it has ended
        parents.setdefault(int(fields[1]), []).append(int(folder.name))
        spent[int(folder.name)] = (int(fields[11]) + int(fields[12])) * 1000 / os.sysconf("SC_CLK_TCK")
    waiting, whole = [os.getpid()], 0.0
    while waiting:
        for child in parents.get(waiting.pop(), ()):
            whole += spent[child]
            waiting.append(child)
    return whole


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
