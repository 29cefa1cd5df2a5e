"""The engine against a plain loop over the same cards: `python -m tests.benchmarks.bench_engine [--sample N]`.

Prints the table of ratios and the growth from ten cards on, and keeps both as JSON and the growth as SVG in a folder.
All is CPU time; a figure "on two cores" is half of it, since the work is shared out without loss but for the sources.
With `--sample` only so many sets are built and so many bikes invented, by chance with a seed, for a first look.
What a million cards would take is reckoned from such a table in the README beside this file.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A line of the table: a figure, in its unit, and what it should be at most; None where nobody said."""

    what: str
    value: float
    unit: str
    goal: float | None = None
    note: str = ""


class Bench:
    """Runs in processes of their own, with a cache that is theirs alone."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.folder, self.seed = folder, seed

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


def measured(bench: Bench, sample: int) -> tuple[list[Row], dict[str, Any]]:
    """Every line of the table, and the runs behind it."""
    chance = random.Random(bench.seed)
    names = sorted(library().guides)
    few = chance.sample(names, 2) if sample else []
    fleet_guides = chance.sample(names, 2 if sample else FLEET_GUIDES)
    runs: dict[str, Any] = {}
    demo = {"every": True, "guides": few, "bikes": []}
    number = sample or 30
    runs["plain"] = bench.run("plain", seed=bench.seed, number=number, **demo)
    card_s = runs["plain"]["cpu_s"] / runs["plain"]["cards"]
    rows = [Row(what="a card by the plain loop", value=card_s, unit="s", note=f"{runs['plain']['cards']} cards")]
    runs["browser"] = bench.run("browser", seed=bench.seed, number=number, **demo)
    browser_s = runs["browser"]["cpu_s"] / runs["browser"]["cards"]
    rows.append(
        Row(what="the same by a driven browser", value=browser_s, unit="s", note="no sides, no bands, no rules")
    )

    out = str(bench.folder / "demo")
    runs["cold"] = cold = bench.run("build", out=out, processes=2, **demo)
    rows.append(_of_sets("the demo's sets, cold, on two cores", cold, card_s, 0.15))
    rows.append(_against_browser("a cold card against the browser's", cold, browser_s))
    runs["same"] = same = bench.run("build", cache="cold-kept", out=out, processes=2, **demo)
    runs["again"] = again = bench.run("build", cache="cold-kept", out=out, processes=2, **demo)
    del same
    rows.append(Row(what="nothing changed", value=again["whole_cpu_s"] / card_s, unit="cards", goal=0.25))
    rows.append(Row(what="memory of a worker", value=cold["worker_mb"], unit="MB", goal=200))

    fleet = bench.workspace("fleet", 3 if sample else FLEET_BIKES)
    runs["fleet"] = bench.run("build", workspace=fleet, every=True, guides=fleet_guides, processes=2)
    rows.append(_of_sets("a fleet's sets, cold, on two cores", runs["fleet"], card_s, 0.08))
    rows.append(_against_browser("a fleet's card against the browser's", runs["fleet"], browser_s))
    runs["new-card"] = bench.run("new-card", workspace=fleet, guide=SHORT)
    runs["new-card-plain"] = plain = bench.run(
        "plain", seed=bench.seed, number=3, workspace=fleet, guides=[SHORT], bikes=[], every=True
    )
    own = plain["cpu_s"] / plain["cards"]
    rows.append(
        Row(what="a new bike's card", value=runs["new-card"]["cpu_s"] / own, unit="of that card plain", goal=0.05)
    )
    # The far anchor: a compiled typesetter set a like card in 13 ms.
    rows.append(Row(what="a new bike's card", value=1000 * runs["new-card"]["cpu_s"], unit="ms", note="anchor: 13 ms"))
    rows += _edits(bench, runs, card_s)
    rows += _pages(bench, runs, 60 if sample else MANY_BIKES)
    runs["growth"] = _growth(bench, GROWTH[: 2 if sample else None])
    return rows, runs


def _of_sets(what: str, run: dict[str, Any], card_s: float, goal: float) -> Row:
    ratio = run["whole_cpu_s"] / run["cards"] / card_s
    return Row(what=what, value=ratio / 2, unit="of a plain card a set", goal=goal, note=f"{run['cards']} sets")


def _against_browser(what: str, run: dict[str, Any], browser_s: float) -> Row:
    ratio = run["whole_cpu_s"] / run["cards"] / browser_s
    return Row(what=what, value=ratio, unit="of its CPU", goal=1, note="sources, proof, pages and rules with it")


def _edits(bench: Bench, runs: dict[str, Any], card_s: float) -> list[Row]:
    """A word edited in a guide, in a process of its own and in a preview."""
    place = bench.workspace("edited", 0)
    file, edit = Path(place) / f"{SHORT}.yaml", ("title: ", "title: Now ")
    wishes = {"workspace": place, "out": str(bench.folder / "edited-output"), "processes": 2}
    runs["before-edit"] = bench.run("build", cache="edits", **wishes)
    file.write_text(file.read_text(encoding="utf-8").replace(*edit, 1), encoding="utf-8")
    runs["edit"] = fresh = bench.run("build", cache="edits", **wishes)
    edits = [
        ("guide", str(file), "title: ", "title: Again "),
        ("bike", str(Path(place) / "bikes" / "kestrel.yaml"), "name: ", "name: New "),
    ]
    runs["preview"] = bench.run("preview", cache="edits", workspace=place, printing=False, edits=edits)
    note = f"{fresh['printed']} printed"
    return [
        Row(what="a word edited, fresh process", value=fresh["whole_cpu_s"] / card_s, unit="cards", goal=1, note=note),
        Row(what="a word edited, in preview", value=runs["preview"]["guide"] / card_s, unit="cards", goal=0.2),
        Row(what="a bike renamed, in preview", value=runs["preview"]["bike"] / card_s, unit="cards", goal=0.2),
    ]


def _pages(bench: Bench, runs: dict[str, Any], many: int) -> list[Row]:
    """What a page costs beyond what the smallest site costs, for a few bikes and for many."""
    rows = []
    least = runs["least"] = bench.run(
        "build", cache="pages", workspace=bench.workspace("bikes-1", 1), guides=[SHORT], printing=False
    )
    for number in (FEW_BIKES, many):
        run = bench.run("build", cache="pages", workspace=bench.workspace(f"bikes-{number}", number), printing=False)
        runs[f"pages-{number}"] = run
        spent = (run["whole_cpu_s"] - least["whole_cpu_s"]) / (run["pages"] - least["pages"])
        rows.append(Row(what=f"a page, {number} bikes", value=1000 * spent, unit="ms", goal=2, note=f"{run['pages']}"))
        if number == many:
            rows.append(Row(what=f"memory, {number} bikes", value=run["parent_mb"], unit="MB", goal=300))
    return rows


def _growth(bench: Bench, numbers: tuple[int, ...]) -> list[dict[str, float]]:
    """How the whole cost grows with the cards: one short guide for ever more bikes."""
    points = []
    for number in numbers:
        place = bench.workspace(f"growth-{number}", number)
        run = bench.run("build", cache="growth", workspace=place, guides=[SHORT], every=True, processes=2)
        points.append({"cards": run["cards"], "cpu_s": run["whole_cpu_s"], "parent_mb": run["parent_mb"]})
    return points


def table(rows: list[Row]) -> str:
    """The lines under one another, each with its goal and whether it is met."""
    lines = []
    for row in rows:
        goal = "" if row.goal is None else f"goal {row.goal:g}: {'met' if row.value <= row.goal else 'not met'}"
        lines.append(f"{row.what:<40} {row.value:>9.3f} {row.unit:<24} {goal:<20} {row.note}".rstrip())
    return "\n".join(lines)


def main() -> int:
    """Measure, print, keep."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sample", type=int, default=0, help="only so many cards, for a first look")
    parser.add_argument("--seed", type=int, default=20261126)
    parser.add_argument("--keep", type=Path, default=ROOT / "output" / "benchmarks")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="spannerleaf-bench-") as folder:
        rows, runs = measured(Bench(Path(folder), options.seed), options.sample)
    machine = f"{platform.machine()}, Python {platform.python_version()}, {os.cpu_count()} cores"
    kept = {"machine": machine, "sample": options.sample, "seed": options.seed}
    options.keep.mkdir(parents=True, exist_ok=True)
    kept |= {"rows": [asdict(row) for row in rows], "runs": runs}
    (options.keep / "engine.json").write_text(json.dumps(kept, indent=1), encoding="utf-8")
    (options.keep / "growth.svg").write_text(growth_svg(runs["growth"]), encoding="utf-8")
    print(f"{machine}\n{table(rows)}")
    for point in runs["growth"]:
        print(f"{point['cards']:>6} cards: {point['cpu_s']:.1f} s of CPU, {point['parent_mb']:.0f} MB in the parent")
    if len(runs["growth"]) > 1:
        print(f"{FAR:>6} cards: {extrapolated(runs['growth'], FAR):.0f} s of CPU, extrapolated and not measured")
    print(f"kept in {options.keep}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
