"""`python -m tests.rider.sweep [BIKES [KEPT]]`: every planned job, and random bikes on each of five guides, both ways.

What came out the same is noted in the file KEPT, under the digest of program and library, so that a sweep that was
ended goes on from there.
"""

from __future__ import annotations

import hashlib
import json
import sys
import tempfile
import time
from pathlib import Path

from builder.build import rider_files
from tests.demo import LEAD, library
from tests.rider import rendered
from tests.rider.node import data, in_node, shelf

GUIDES = (LEAD, "rear-wheel-out-and-in", "front-disc-pads-replaced", "chain-wear-check", "check-before-a-ride")
# So many bikes are tried in one start of the interpreter.
_STRIDE = 20


def main(bikes: int, kept: Path | None) -> int:
    """Print how many answers are the same, and name those that are not."""
    seeds = [range(bikes)[start : start + _STRIDE] for start in range(0, bikes, _STRIDE)]
    fleet = [f"planned(shelf, bikes=({bike!r},))" for bike in sorted(library().bikes)]
    calls = [*fleet, *(f"at_random(shelf, {guide!r}, {few!r})" for guide in GUIDES for few in seeds)]
    what = hashlib.sha256(rider_files.program() + data() + Path(rendered.__file__).read_bytes()).hexdigest()
    known = _known(kept, what)
    wrong = answers = 0
    for call in calls:
        if call not in known:
            same, differing = _tried(call)
            wrong += len(differing)
            known[call] = same
            if kept is not None and not differing:
                with kept.open("a", encoding="utf-8") as notes:
                    notes.write(json.dumps({"of": what, "call": call, "same": same}) + "\n")
        answers += known[call]
    print(f"{len(calls)} calls: {answers} answers are the same, {wrong} differ")
    return 1 if wrong else 0


def _tried(call: str) -> tuple[int, list[str]]:
    """How many answers of a call are the same here and there, and which are not."""
    started = time.perf_counter()
    here = eval(call, {**vars(rendered), "shelf": shelf()})
    middle = time.perf_counter()
    with tempfile.TemporaryDirectory() as work:
        there = in_node(Path(work), Path(rendered.__file__), call)
    assert isinstance(there, dict)
    names = here.keys() | there.keys()
    differing = sorted(name for name in names if here.get(name) != there.get(name))
    took = f"{middle - started:.0f} s here, {time.perf_counter() - middle:.0f} s there"
    print(f"{call}: {len(here)} answers, {len(differing)} differ ({took})", flush=True)
    for name in differing:
        print(f"  {name}", flush=True)
    return len(names) - len(differing), differing


def _known(kept: Path | None, what: str) -> dict[str, int]:
    """How many answers of each call were found the same before, of this program and library."""
    if kept is None or not kept.is_file():
        return {}
    notes = (json.loads(line) for line in kept.read_text(encoding="utf-8").splitlines())
    return {note["call"]: note["same"] for note in notes if note["of"] == what}


if __name__ == "__main__":
    given = sys.argv[1:]
    sys.exit(main(int(given[0]) if given else 20, Path(given[1]) if len(given) > 1 else None))
