"""The record of a whole build, from which the next one knows at once whether there is anything to do."""

from __future__ import annotations

import json
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Any

from builder.build.exchange import state_file

# Raised when the record or what a build tells of itself is written in another way.
_FORMAT = 3


def remembered(out: Path, made_from: str) -> dict[str, Any] | None:
    """What the last build told, where it was made from the same and everything it wrote still stands as it was."""
    try:
        state = json.loads(state_file(out).read_text(encoding="utf-8"))
        if state["format"] != _FORMAT or state["from"] != made_from:
            return None
        files: dict[str, list[int]] = state["files"]
        if any(_mark(out / path) != mark for path, mark in files.items()):
            return None
        told: dict[str, Any] = state["told"]
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
    return told


def remember(out: Path, made_from: str, paths: Iterable[str], told: dict[str, Any]) -> None:
    """Write the record down. Where that fails the output stands all the same, and the next build makes it anew."""
    beside = state_file(out).with_suffix(".new")
    try:
        files = {path: _mark(out / path) for path in paths}
        told = {"format": _FORMAT, "from": made_from, "files": files, "told": told}
        beside.write_text(json.dumps(told, ensure_ascii=False), encoding="utf-8")
        beside.replace(state_file(out))
    except OSError:
        with suppress(OSError):
            beside.unlink(missing_ok=True)


def _mark(path: Path) -> list[int]:
    """What changes when a file is written again, even by somebody who sets its time back.

    The record is beside the output and not part of it.
    """
    status = path.stat()
    return [status.st_size, status.st_mtime_ns, status.st_ctime_ns]
