"""Builds as tests order them: a few bikes of the demo, since a card takes seconds to print."""

from __future__ import annotations

import os
from pathlib import Path

from builder.build.driver import build
from builder.build.order import Built, Order
from builder.model.memory import Memory

LEAD = "wider-range-cassette"
# A guide of few steps that suits every bike.
SHORT = "mudguards-fitted"
# Everything fits; the job makes no sense; nothing in stock will do.
FITS, REFUSED, TROUBLED = "kestrel", "coot", "siskin"


class Quiet:
    """Takes no notice of how far a build is."""

    def begin(self, words: str, total: int) -> None:
        pass

    def advance(self) -> None:
        pass


def order(out: Path, **changes: object) -> Order:
    wishes: dict[str, object] = {"out": out, "guides": (LEAD,), "bikes": (FITS, REFUSED, TROUBLED), "processes": 2}
    return Order(**(wishes | changes))  # type: ignore[arg-type]


# What builds of this process made before, as a preview keeps it; that a build without it makes the same is tested too.
_MEMORY = Memory()


def built(out: Path, **changes: object) -> Built:
    return build(order(out, **changes), Quiet(), _MEMORY)


def what_was_proven(folder: Path, *, and_read: bool) -> Path:
    """A folder for a cache that holds what this run proved so far, and what it read, but no block of a card."""
    kept, cache = Path(os.environ["XDG_CACHE_HOME"]) / "spannerleaf", folder / "spannerleaf"
    cache.mkdir(parents=True)
    for one in kept.iterdir() if kept.exists() else ():
        if one.name != "blocks" if and_read else one.name in ("sound", "seal"):
            (cache / one.name).symlink_to(one)
    return folder


def state(out: Path) -> dict[str, bytes]:
    """Every file of the output that a reader may meet."""
    folders = (out / "site", out / "cards")
    files = (path for folder in folders for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in files}


def stamps(out: Path) -> dict[str, int]:
    """When each file of the output was written."""
    return {path: (out / path).stat().st_mtime_ns for path in state(out)}
