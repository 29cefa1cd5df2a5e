"""`python -m tests.rider.sweep [BIKES]`: every planned job, and random bikes on each of five guides, both ways."""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from tests.demo import LEAD
from tests.rider import rendered
from tests.rider.node import in_node, shelf

GUIDES = (LEAD, "rear-wheel-out-and-in", "front-disc-pads-replaced", "chain-wear-check", "check-before-a-ride")


def main(bikes: int) -> int:
    """Print how many answers are the same, and name those that are not."""
    calls = ["planned(shelf)", *(f"at_random(shelf, {guide!r}, range({bikes}))" for guide in GUIDES)]
    wrong = 0
    for call in calls:
        started = time.perf_counter()
        here = eval(call, {**vars(rendered), "shelf": shelf()})
        middle = time.perf_counter()
        with tempfile.TemporaryDirectory() as work:
            there = in_node(Path(work), Path(rendered.__file__), call)
        assert isinstance(there, dict)
        differing = sorted(name for name in here.keys() | there.keys() if here.get(name) != there.get(name))
        wrong += len(differing)
        took = f"{middle - started:.0f} s here, {time.perf_counter() - middle:.0f} s there"
        print(f"{call}: {len(here)} answers, {len(differing)} differ ({took})", flush=True)
        for name in differing:
            print(f"  {name}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 20))
