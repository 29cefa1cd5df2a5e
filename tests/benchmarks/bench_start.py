"""How long a command takes from start to answer: `python -m tests.benchmarks.bench_start`.

Each is started several times as a process of its own, in an empty folder and with a warm memory of the sources; the
quickest run counts, since whatever else runs only makes a run slower. The ratio to `python -c pass` tells
machines apart, and the budget is such a ratio: 60 is 0.6 s where Python starts in 10 ms.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path

_ROOT = Path(__file__).parent.parent.parent
_RUNS = 7
# Command -> how many times as long as `python -c pass` it may take.
BUDGETS: Mapping[str, float] = {
    "reckon chain-length chainstay=425mm ring=32 sprocket=40": 60.0,
    "fit heron --with cs-11-42-11s": 60.0,
    "parts cassette": 60.0,
    "check": 150.0,
}


def main() -> int:
    """Print a line for each command; 1 where one is over its budget."""
    with tempfile.TemporaryDirectory() as folder:
        setting = {**os.environ, "PYTHONPATH": str(_ROOT), "XDG_CACHE_HOME": str(Path(folder) / "cache")}
        bare_s = _quickest_s(["-c", "pass"], folder, setting)
        print(f"{'python -c pass':<58} {bare_s:6.3f} s")
        over = False
        for command, budget in BUDGETS.items():
            arguments = ["-m", "builder", *command.split()]
            first_s = _once_s(arguments, folder, setting)
            taken_s = _quickest_s(arguments, folder, setting)
            ratio = taken_s / bare_s
            over |= ratio > budget
            words = "over its budget of" if ratio > budget else "of"
            print(f"{command:<58} {taken_s:6.3f} s, {ratio:5.1f} {words} {budget:.0f} ×; first {first_s:.2f} s")
    return 1 if over else 0


def _quickest_s(arguments: list[str], folder: str, setting: Mapping[str, str]) -> float:
    return min(_once_s(arguments, folder, setting) for _ in range(_RUNS))


def _once_s(arguments: list[str], folder: str, setting: Mapping[str, str]) -> float:
    begin = time.perf_counter()
    subprocess.run([sys.executable, *arguments], cwd=folder, env=setting, capture_output=True, check=False)
    return time.perf_counter() - begin


if __name__ == "__main__":
    sys.exit(main())
