"""Kill builds at random moments and say how many left a whole site: `python -m tests.kills [--number N] [--seed S]`."""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

from tests.kills.sweep import Shop, moments


def main() -> int:
    """Kill, look, and print a line for each kill, then the count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--number", type=int, default=100)
    parser.add_argument("--seed", type=int, default=20261125)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="spannerleaf-kills-") as folder:
        shop = Shop(Path(folder))
        outcomes = []
        for word, after, with_store in moments(options.number, options.seed):
            outcome = shop.killed(word, after, with_store=with_store)
            outcomes.append(outcome)
            late = ", which was too late" if outcome.too_late else ""
            said = "; ".join(outcome.wrong) or "a whole site and no trace"
            print(
                f"{len(outcomes)}: killed {outcome.after_seconds:.2f} s after '{outcome.word}'{late}: {said}",
                flush=True,
            )
    in_time = [outcome for outcome in outcomes if not outcome.too_late]
    sound = sum(not outcome.wrong for outcome in outcomes)
    print(f"{len(outcomes)} kills, {len(in_time)} before the build had ended: {sound} left a whole site and no trace")
    return 0 if sound == len(outcomes) else 1


if __name__ == "__main__":
    raise SystemExit(main())
