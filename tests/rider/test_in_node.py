"""The interpreter for browsers makes what this one makes, byte for byte; `tests.rider.sweep` tries far more."""

from __future__ import annotations

from pathlib import Path

from tests.demo import LEAD
from tests.rider import rendered
from tests.rider.node import in_node, needs_node, needs_runtime, shelf

pytestmark = [needs_runtime, needs_node]
# The lead job, one of brakes, one of a bike with a gear hub.
JOBS = (
    f"heron/{LEAD}",
    "kestrel/rear-rim-brake-pads-replaced",
    "coot/hub-gear-cable-adjusted",
    "plover/check-before-a-ride",
)


def test_pages_cards_and_verdicts_come_out_the_same(tmp_path: Path) -> None:
    here = rendered.planned(shelf(), JOBS) | rendered.at_random(shelf(), "front-wheel-out-and-in", (1, 2))
    there = in_node(
        tmp_path,
        Path(rendered.__file__),
        f"planned(shelf, {JOBS!r}) | at_random(shelf, 'front-wheel-out-and-in', (1, 2))",
    )
    assert len(here) >= 12
    assert there == here
