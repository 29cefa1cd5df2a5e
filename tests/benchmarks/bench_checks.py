"""How long every check takes on its own example: `python -m tests.benchmarks.bench_checks [--tolerance]`."""

from __future__ import annotations

import argparse
import sys
import timeit

from builder.checks.reckoning import read_inputs, reckon
from builder.checks.registry import CHECKS
from builder.checks.result import Check, Given, Kind
from builder.model.units import Measure

BUDGET_US = 1000.0


def microseconds(check: Check, given: dict[str, Given]) -> float:
    """The best of five runs of `reckon`, in microseconds a call."""
    timer = timeit.Timer(lambda: reckon(check, given))
    number = max(1, timer.autorange()[0] // 8)
    return min(timer.repeat(5, number)) / number * 1e6


def with_tolerance(check: Check, given: dict[str, Given]) -> dict[str, Given]:
    """The same inputs, with a small tolerance on the first two measured ones that have room for it."""
    spread = dict(given)
    for item in check.inputs:
        value = given.get(item.name)
        if item.kind is Kind.QUANTITY and isinstance(value, Measure) and item.low is not None and item.high is not None:
            room = min(value.value - item.low, item.high - value.value) / 2
            if room > 0:
                spread[item.name] = Measure(value.value, min(room, abs(value.value) / 1000))
        if sum(isinstance(one, Measure) and bool(one.tolerance) for one in spread.values()) == 2:
            break
    return spread


def main() -> int:
    """Print the checks from the slowest to the fastest; 1 if one is over the budget."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--tolerance", action="store_true", help="with a tolerance on up to two inputs")
    tolerance = arguments.parse_args().tolerance
    times = {}
    for check in CHECKS.values():
        given = read_inputs(check, check.example)
        times[check.name] = microseconds(check, with_tolerance(check, given) if tolerance else given)
    for name, time in sorted(times.items(), key=lambda pair: -pair[1]):
        print(f"{time:9.1f} µs  {name}")
    slowest = max(times.values())
    print(f"slowest of {len(times)}: {slowest:.0f} µs, budget {BUDGET_US:.0f} µs")
    return int(not tolerance and slowest > BUDGET_US)


if __name__ == "__main__":
    sys.exit(main())
