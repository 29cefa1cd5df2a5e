"""The engine against a plain loop over the same cards: `python -m tests.benchmarks.bench_engine [--sample N]`.

Prints the table of ratios and the growth from ten cards on, and keeps both as JSON and the growth as SVG in a folder;
what is measured is kept after each line, so that a run that is stopped has told what it knew. All is CPU time; a figure
"on two cores" is half of it, since the work is shared out without loss but for the sources. A busy machine makes each
second of CPU dearer, from one minute to the next: so the plain loop is measured again between the others, and each line
is held against the two that it stands between. A line that misses its goal says what was tried and where the floor is.
With `--sample` only so many sets are built and so many bikes invented, by chance with a seed, for a first look. What a
million cards would take is reckoned from such a table in the README beside this file.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import random
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from builder.sources.workspace import shipped_library
from tests.benchmarks.growth import FAR, extrapolated, growth_svg
from tests.benchmarks.invented import write_fleet
from tests.build.ordering import LEAD, SHORT
from tests.demo import library

ROOT = Path(__file__).parent.parent.parent
FEW_BIKES, FLEET_GUIDES, FLEET_BIKES, MANY_BIKES = 12, 20, 50, 1000
GROWTH = (10, 30, 100, 300, 1000)
# Cards that the plain loop lays out each time that it is measured.
PLAIN_CARDS = 8
_PAGE_FLOOR = (
    "tried: steps, torques, answers, views and markup made once for all bikes alike in what they hang on (14 to 3 ms "
    "for each page more between 60 and 300 bikes). Few bikes share little: the guides for any bike take 25 ms each; of "
    "every page its own are its frame, its code, its digest and its writing (0.5 ms)"
)
_SETS_FLOOR = (
    "tried: blocks once, their words set in open places, verdicts by block; a cold build lays out each distinct block "
    "once, 25 to 30 ms: that, not its number of cards, is the floor"
)
_WORKER_FLOOR = (
    "tried: the sheets of each bike laid out by themselves (412 to 170 MB), cycles collected three times as often "
    "(32 MB less for 4 % more CPU), freed memory given back (4 to 8 MB less); the rest is layouts and faces"
)
_EDIT_FLOOR = (
    "tried: what a build made kept for the next process; guides, bikes and charts asked by themselves; upkeep known "
    "again where a guide turns the same. A quarter of a preview is the gate with a guide's proof, a quarter pages "
    "and the packed library, a third lies outside of what is made and is not looked into. A new process reads modules "
    "and what was kept (a third), packs the library (a sixth), and makes the printing library and its faces ready"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A line of the table: a figure, in its unit, and what it should be at most; None where nobody said.

    `floor` says what was tried and what stands in the way, for a line that misses its goal.
    """

    what: str
    value: float
    unit: str
    goal: float | None = None
    note: str = ""
    floor: str = ""


class Bench:
    """Runs in processes of their own, with a cache that is theirs alone."""

    def __init__(self, folder: Path, seed: int, few: list[str]) -> None:
        self.folder, self.seed = folder, seed
        self.plain_s: list[float] = []
        self._demo = {"every": True, "guides": few, "bikes": []}

    def plain_card_s(self) -> float:
        """What a card takes in the plain loop, measured now."""
        done = self.run("plain", seed=self.seed, number=PLAIN_CARDS, **self._demo)
        self.plain_s.append(done["cpu_s"] / done["cards"])
        return self.plain_s[-1]

    def beside(self, name: str, **wishes: Any) -> tuple[dict[str, Any], float]:
        """What a run answers, and what a card took in the plain loop before and after it, on average."""
        before = self.plain_s[-1] if self.plain_s else self.plain_card_s()
        answer = self.run(name, **wishes)
        card_s = (before + self.plain_card_s()) / 2
        answer["plain_card_s"] = card_s
        return answer, card_s

    def run(self, name: str, *, cache: str = "cold", **wishes: Any) -> dict[str, Any]:
        """What a run answers, with the CPU time of its whole process and of all that it started."""
        place = self.folder / "cache" / cache
        if cache == "cold":
            shutil.rmtree(place, ignore_errors=True)
        setting = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(place)}
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        done = subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.one_run", name, json.dumps(wishes)],
            env=setting,
            cwd=ROOT,
            capture_output=True,
            text=True,
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        if done.returncode:
            raise RuntimeError(f"the run '{name}' failed:\n{done.stderr}")
        whole = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        return {"whole_cpu_s": whole, **json.loads(done.stdout)}

    def workspace(self, name: str, bikes: int) -> str:
        """A workspace with so many invented bikes; with none, a copy of two guides and a bike of the demo."""
        place = self.folder / name
        place.mkdir()
        if bikes:
            write_fleet(place, bikes)
            return str(place)
        (place / "bikes").mkdir()
        shutil.copy(shipped_library() / "bikes" / "kestrel.yaml", place / "bikes" / "kestrel.yaml")
        for guide in (LEAD, SHORT):
            shutil.copy(shipped_library() / f"{guide}.yaml", place / f"{guide}.yaml")
        return str(place)


def measured(bench: Bench, sample: int, few: list[str], runs: dict[str, Any]) -> Iterator[Row]:
    """Every line of the table as it is measured; `runs` is given the runs behind it."""
    chance = random.Random(bench.seed)
    names = sorted(library().guides)
    fleet_guides = chance.sample(names, 2 if sample else FLEET_GUIDES)
    demo = {"every": True, "guides": few, "bikes": []}
    runs["browser"], card_s = bench.beside("browser", seed=bench.seed, number=PLAIN_CARDS, **demo)
    browser = runs["browser"]["cpu_s"] / runs["browser"]["cards"] / card_s
    yield Row(what="a card by the plain loop", value=card_s, unit="s", note=f"{PLAIN_CARDS} cards, each time")
    yield Row(what="the same by a driven browser", value=browser, unit="of a plain card", note="no bands, no rules")

    out = str(bench.folder / "demo")
    runs["cold"], card_s = bench.beside("build", cache="demo", out=out, processes=2, **demo)
    yield from _of_sets("the demo's sets, cold", runs["cold"], card_s, browser, 0.15)
    runs["again"] = again = bench.run("build", cache="demo", out=out, processes=2, **demo)
    yield Row(what="nothing changed", value=again["whole_cpu_s"] / card_s, unit="plain cards", goal=0.25)
    own_mb, note = runs["cold"]["worker_own_mb"], f"{runs['cold']['worker_mb']:.0f} with what it shares with its parent"
    yield Row(what="memory of a worker, its own", value=own_mb, unit="MB", goal=200, note=note, floor=_WORKER_FLOOR)

    fleet = bench.workspace("fleet", 3 if sample else FLEET_BIKES)
    runs["fleet"], card_s = bench.beside("build", workspace=fleet, every=True, guides=fleet_guides, processes=2)
    yield from _of_sets("a fleet's sets, cold", runs["fleet"], card_s, browser, 0.08)
    yield from _new_card(bench, runs, fleet)
    yield from _edits(bench, runs)
    yield from _pages(bench, runs, 60 if sample else MANY_BIKES)
    runs["growth"] = _growth(bench, GROWTH[: 2 if sample else None])


def _new_card(bench: Bench, runs: dict[str, Any], fleet: str) -> Iterator[Row]:
    """One more bike's card, three times, each beside the same card in the plain loop; the middle one counts."""
    wishes: dict[str, Any] = {
        "seed": bench.seed,
        "number": 3,
        "workspace": fleet,
        "guides": [SHORT],
        "bikes": [],
        "every": True,
    }
    tried = []
    for _ in range(3):
        plain = bench.run("plain", **wishes)
        card = bench.run("new-card", workspace=fleet, guide=SHORT)
        tried.append((card["cpu_s"] / (plain["cpu_s"] / plain["cards"]), card["cpu_s"]))
    runs["new-card"] = tried
    ratio, card_s = sorted(tried)[1]
    spread = f"{min(tried)[0]:.3f} to {max(tried)[0]:.3f}"
    yield Row(what="a new bike's card", value=ratio, unit="of that card plain", goal=0.05, note=spread)
    # The far anchor: a compiled typesetter set a like card in 13 ms.
    yield Row(what="a new bike's card", value=1000 * card_s, unit="ms", note="a compiled typesetter's: 13 ms")


def _of_sets(what: str, run: dict[str, Any], card_s: float, browser: float, goal: float) -> Iterator[Row]:
    ratio = run["whole_cpu_s"] / run["cards"] / card_s
    note = f"{run['cards']} sets"
    yield Row(
        what=f"{what}, on two cores", value=ratio / 2, unit="of a plain card", goal=goal, note=note, floor=_SETS_FLOOR
    )
    note = "with sources, proof, pages and rules"
    yield Row(what=f"{what}, a card", value=ratio / browser, unit="of the browser's CPU", goal=1, note=note)


def _edits(bench: Bench, runs: dict[str, Any]) -> Iterator[Row]:
    """A word of a step and a guide's title edited, in processes of their own and in a preview."""
    place = bench.workspace("edited", 0)
    file = Path(place) / f"{SHORT}.yaml"
    wishes = {"workspace": place, "out": str(bench.folder / "edited-output"), "processes": 2}
    runs["before-edit"] = bench.run("build", cache="edits", **wishes)
    for what, edit in (
        ("word of a step", ("Clean the threads", "Clean all threads")),
        ("title", ("title: ", "title: Now ")),
    ):
        file.write_text(file.read_text(encoding="utf-8").replace(*edit, 1), encoding="utf-8")
        runs[f"edit, {what}"], card_s = bench.beside("build", cache="edits", **wishes)
        ratio, note = runs[f"edit, {what}"]["whole_cpu_s"] / card_s, f"{runs[f'edit, {what}']['printed']} printed"
        yield Row(
            what=f"a {what} edited, fresh process",
            value=ratio,
            unit="plain cards",
            goal=1,
            note=note,
            floor=_EDIT_FLOOR,
        )
    edits = [
        ("word", str(file), "Clean all threads", "Clean all the threads"),
        ("guide", str(file), "title: ", "title: Again "),
        ("bike", str(Path(place) / "bikes" / "kestrel.yaml"), "name: ", "name: New "),
    ]
    runs["preview"] = preview = bench.run("preview", cache="edits", workspace=place, printing=False, edits=edits)
    for key, what in (("word", "a word of a step edited"), ("guide", "a title edited"), ("bike", "a bike renamed")):
        ratio = preview[key] / card_s
        yield Row(what=f"{what}, in preview", value=ratio, unit="plain cards", goal=0.2, floor=_EDIT_FLOOR)


def _pages(bench: Bench, runs: dict[str, Any], many: int) -> Iterator[Row]:
    """What a page costs beyond what the smallest site costs, for a few bikes and for many."""
    wishes = {"workspace": bench.workspace("bikes-1", 1), "guides": [SHORT], "printing": False}
    bench.run("build", cache="pages", **wishes)  # what is proven and packed once is no page's cost
    least = runs["least"] = bench.run("build", cache="pages", knowing=False, **wishes)
    for number in (FEW_BIKES, many):
        run = bench.run("build", cache="pages", workspace=bench.workspace(f"bikes-{number}", number), printing=False)
        runs[f"pages-{number}"] = run
        spent = (run["whole_cpu_s"] - least["whole_cpu_s"]) / (run["pages"] - least["pages"])
        note = f"{run['pages']} pages, working out with them"
        yield Row(what=f"a page, {number} bikes", value=1000 * spent, unit="ms", goal=2, note=note, floor=_PAGE_FLOOR)
        if number == many:
            yield Row(what=f"memory, {number} bikes", value=run["parent_mb"], unit="MB", goal=300)


def _growth(bench: Bench, numbers: tuple[int, ...]) -> list[dict[str, float]]:
    """How the whole cost grows with the cards: one short guide for ever more bikes."""
    points = []
    for number in numbers:
        place = bench.workspace(f"growth-{number}", number)
        run = bench.run("build", cache="growth", workspace=place, guides=[SHORT], every=True, processes=2)
        points.append({"cards": run["cards"], "cpu_s": run["whole_cpu_s"], "parent_mb": run["parent_mb"]})
    return points


def line(row: Row) -> str:
    """A line of the table, with its goal and whether it is met; below it what was tried where it is not."""
    missed = row.goal is not None and row.value > row.goal
    goal = "" if row.goal is None else f"goal {row.goal:g}: {'not met' if missed else 'met'}"
    told = f"{row.what:<40} {row.value:>9.3f} {row.unit:<21} {goal:<20} {row.note}".rstrip()
    return f"{told}\n    {row.floor}" if missed and row.floor else told


def main() -> int:
    """Measure, print, keep."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sample", type=int, default=0, help="only so many cards, for a first look")
    parser.add_argument("--seed", type=int, default=20261126)
    parser.add_argument("--keep", type=Path, default=ROOT / "output" / "benchmarks")
    options = parser.parse_args()
    machine = f"{platform.machine()}, Python {platform.python_version()}, {os.cpu_count()} cores"
    options.keep.mkdir(parents=True, exist_ok=True)
    few = random.Random(options.seed).sample(sorted(library().guides), 2) if options.sample else []
    rows: list[Row] = []
    runs: dict[str, Any] = {}
    print(machine)
    with tempfile.TemporaryDirectory(prefix="spannerleaf-bench-") as folder:
        bench = Bench(Path(folder), options.seed, few)
        for row in measured(bench, options.sample, few, runs):
            rows.append(row)
            print(line(row), flush=True)
            _keep(options.keep, rows, runs, {"machine": machine, "sample": options.sample, "seed": options.seed})
    _keep(options.keep, rows, runs, {"machine": machine, "sample": options.sample, "seed": options.seed})
    plain = ", ".join(f"{one:.2f}" for one in bench.plain_s)
    print(f"the plain loop's card each time that it was measured: {plain} s")
    (options.keep / "growth.svg").write_text(growth_svg(runs["growth"]), encoding="utf-8")
    for point in runs["growth"]:
        print(f"{point['cards']:>6} cards: {point['cpu_s']:.1f} s of CPU, {point['parent_mb']:.0f} MB in the parent")
    if len(runs["growth"]) > 1:
        print(f"{FAR:>6} cards: {extrapolated(runs['growth'], FAR):.0f} s of CPU, extrapolated and not measured")
    print(f"kept in {options.keep}")
    return 0


def _keep(folder: Path, rows: list[Row], runs: dict[str, Any], known: dict[str, Any]) -> None:
    kept = known | {"rows": [asdict(row) for row in rows], "runs": runs}
    (folder / "engine.json").write_text(json.dumps(kept, indent=1), encoding="utf-8")


if __name__ == "__main__":
    raise SystemExit(main())
