"""One measured run in a process of its own: `python -m tests.benchmarks.one_run NAME JSON`; prints JSON.

CPU seconds and not those of a clock, so that a machine that is busy with something else tells the same.
"""

from __future__ import annotations

import json
import os
import random
import resource
import sys
import tempfile
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from builder.build.driver import build
from builder.build.order import Order, Quiet
from builder.model.memory import Memory

Answer = dict[str, Any]


class OwnMemory:
    """Looks now and then at how much memory each process that this one started has to itself, while it is entered.

    What a process shares with the one that it was forked from is not its own; the system tells (proc(5)).
    """

    def __init__(self) -> None:
        self.most_mb = 0.0
        self._done = threading.Event()
        self._looking = threading.Thread(target=self._look, daemon=True)

    def __enter__(self) -> OwnMemory:
        self._looking.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._done.set()
        self._looking.join()

    def _look(self) -> None:
        while not self._done.wait(0.2):
            for children in Path("/proc/self/task").glob("*/children"):
                with suppress(OSError):  # a thread or a process has ended meanwhile
                    for number in children.read_text().split():
                        self.most_mb = max(self.most_mb, private_mb(int(number)))


def private_mb(number: int) -> float:
    """The memory that no other process shares with this one."""
    with suppress(OSError):
        lines = Path(f"/proc/{number}/smaps_rollup").read_text().splitlines()
        return sum(int(line.split()[1]) for line in lines if line.startswith("Private")) / 1024
    return 0.0


def order_of(wishes: dict[str, Any]) -> Order:
    """The order that a run describes."""
    workspace = wishes.get("workspace")
    return Order(
        workspace=None if workspace is None else Path(workspace),
        out=Path(wishes["out"]),
        guides=tuple(wishes.get("guides", ())),
        bikes=tuple(wishes.get("bikes", ())),
        every=wishes.get("every", False),
        processes=wishes.get("processes", 1),
        printing=wishes.get("printing", True),
    )


def building(wishes: dict[str, Any]) -> Answer:
    """Build; tells how many cards and pages there are, how many were printed, and the most memory of both kinds.

    Not `knowing`, it takes nothing over that a build of the same order made before, and keeps nothing.
    """
    with OwnMemory() as own:
        built = build(order_of(wishes), Quiet(), None if wishes.get("knowing", True) else Memory(lasting=False))
    assert built.told is not None, built.diagnostics
    return {
        "worker_own_mb": own.most_mb,
        "cards": built.told.cards,
        "pages": built.told.pages,
        "printed": built.printed,
        "parent_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
        "worker_mb": resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024,
    }


def chosen_cards(wishes: dict[str, Any]) -> tuple[list[str], str]:
    """Some of the cards of an order, by chance with a seed, each with all within it; and where their theme stands."""
    from builder.build.printer import Printer
    from builder.pages.paper import Paper
    from builder.proof.jobs import Ready, wanted_jobs, work_out
    from builder.sources.workspace import load

    library = load(order_of(wishes).workspace).library
    printer = Printer(order_of(wishes).folders)
    chosen: list[str] = []
    jobs = list(wanted_jobs(library, guides=wishes["guides"], bikes=wishes["bikes"], every=wishes["every"]))
    random.Random(wishes["seed"]).shuffle(jobs)
    for job in jobs:
        if len(chosen) == wishes["number"]:
            break
        done = work_out(job, library)
        if isinstance(done, Ready) and not done.trouble:
            chosen.append(printer.html(done.tailored, Paper.A5, library.workshop, standalone=True))
    return chosen, printer.theme.folder.as_uri() + "/"


def plain_loop(wishes: dict[str, Any]) -> Answer:
    """The same cards by the printing library's own loop, with its defaults: one document after another."""
    from weasyprint import HTML

    chosen, base = chosen_cards(wishes)
    began = time.process_time()
    for html in chosen:
        HTML(string=html, base_url=base).write_pdf()
    return {"cards": len(chosen), "cpu_s": time.process_time() - began}


def in_a_browser(wishes: dict[str, Any]) -> Answer:
    """The same cards by a browser without a window that is started once and driven, one page after another.

    What counts is the CPU time of the browser's own processes, without its start and without who drives it.
    """
    from playwright.sync_api import sync_playwright

    from tests.pages.in_a_browser import CHROMIUM

    chosen, _ = chosen_cards(wishes)
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_page()
        page.set_content("<p>warm</p>")
        page.pdf()
        before = browser_cpu_s()
        sizes = []
        for html in chosen:
            page.set_content(html)
            sizes.append(len(page.pdf(prefer_css_page_size=True)))
        spent = browser_cpu_s() - before
        browser.close()
    assert min(sizes) > 5000
    return {"cards": len(chosen), "cpu_s": spent}


def browser_cpu_s() -> float:
    """The CPU time so far of the browsers that this process started, by the system's own count (proc(5))."""
    parents, spent, named = {}, {}, {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            head, _, rest = (folder / "stat").read_text(encoding="utf-8", errors="replace").rpartition(")")
        except OSError:  # it has ended meanwhile
            continue
        fields, number = rest.split(), int(folder.name)
        parents[number], named[number] = int(fields[1]), head.partition("(")[2]
        # With what its ended children used.
        spent[number] = sum(map(int, fields[11:15])) / os.sysconf("SC_CLK_TCK")

    def is_ours(number: int) -> bool:
        while number in parents and number != os.getpid():
            number = parents[number]
        return number == os.getpid()

    return sum(spent[one] for one in parents if named[one].startswith(("chrom", "headless")) and is_ours(one))


def in_preview(wishes: dict[str, Any]) -> Answer:
    """A word of a guide, then a bike's name, edited in a workspace that a preview shows."""
    order, memory = order_of(wishes), Memory()
    build(order, Quiet(), memory)
    spent = {}
    for name, path, old, new in wishes["edits"]:
        file = Path(path)
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), encoding="utf-8")
        began = time.process_time()
        assert build(order, Quiet(), memory).told is not None
        spent[name] = time.process_time() - began
    return spent


def new_card(wishes: dict[str, Any]) -> Answer:
    """One more bike's card where those of all others stand in the store, with the printing library ready."""
    from builder.build.cards import card_of, printed_cards
    from builder.build.printer import Printer
    from builder.build.store import Store
    from builder.pages.form import Form
    from builder.pages.paper import Paper
    from builder.proof.jobs import Job, Ready, work_out
    from builder.sources.workspace import load

    order = order_of(wishes)
    library = load(order.workspace).library
    printer, store = Printer(order.folders), Store(order.out / ".spannerleaf" / "store")
    printer.warm()
    outcomes = [
        work_out(Job(guide=library.guides[wishes["guide"]], bike=one), library) for one in library.bikes.values()
    ]
    ready = [one for one in outcomes if isinstance(one, Ready) and not one.trouble]
    *others, last = (card_of(one, Form.STEPS, Paper.A5, printer, library.workshop) for one in ready)
    for _ in printed_cards(others, store, printer, order, Quiet()):
        pass
    began = time.process_time()
    ((_, pdf),) = printed_cards([last], store, printer, order, Quiet())
    assert pdf.new
    return {"cpu_s": time.process_time() - began, "others": len(others)}


RUNS: dict[str, Callable[[dict[str, Any]], Answer]] = {
    "build": building,
    "plain": plain_loop,
    "browser": in_a_browser,
    "preview": in_preview,
    "new-card": new_card,
}


def main() -> int:
    """Do the run that is named."""
    name, wishes = sys.argv[1], json.loads(sys.argv[2])
    with tempfile.TemporaryDirectory(prefix="spannerleaf-run-") as folder:
        wishes.setdefault("out", str(Path(folder) / "output"))
        print(json.dumps(RUNS[name](wishes)))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
