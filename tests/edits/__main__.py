"""Edit sources by chance and compare with builds of nothing: `python -m tests.edits [--number N] [--seed S]`."""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path

from tests.edits.sweep import edits


def main() -> int:
    """Edit, build three times, and print a line for each edit, then the count."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--number", type=int, default=20)
    parser.add_argument("--seed", type=int, default=20261126)
    options = parser.parse_args()
    wrong = 0
    with tempfile.TemporaryDirectory(prefix="spannerleaf-edits-") as folder:
        os.environ["XDG_CACHE_HOME"] = str(Path(folder) / "cache")
        for number, one in enumerate(edits(Path(folder), options.number, options.seed), 1):
            wrong += bool(one.in_preview or one.in_process)
            differing = one.in_preview or one.in_process
            said = f"in preview {one.in_preview}, in a process {one.in_process}" if differing else "the same bytes"
            print(f"{number}: {one.place}: {one.changed} files changed: {said}", flush=True)
    print(f"{options.number} edits, {wrong} made otherwise than from nothing")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
