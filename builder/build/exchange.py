"""Put a complete next state in place of the last one, so that a site stands whole at every instant.

Where the system can exchange two folders in one step (Linux), `site` is never away; elsewhere it is away for the moment
between two renames. Every step can be repeated: a build that was killed in the middle is finished by the next.
"""

from __future__ import annotations

import ctypes
import json
import os
import shutil
import signal
import sys
import threading
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from builder.build.alone import ASIDE

OWNED = ("site", "cards")
_COMPLETE, _MADE, _MADE_HERE, _STATE = "complete", "made.json", "made-here", "state.json"
_HERE, _EXCHANGE = -100, 2  # AT_FDCWD and RENAME_EXCHANGE of linux/fcntl.h and linux/fs.h


def state_file(out: Path) -> Path:
    """Where the record of the last whole build is kept; an exchange removes it, so that it never tells of another."""
    return out / ASIDE / _STATE


def next_state(out: Path) -> Path:
    """The folder in which the next state is made."""
    return out / ASIDE / "next"


def was_built_here(out: Path) -> bool:
    """Whether `site` and `cards` of this folder were made by a build."""
    return (out / ASIDE / _MADE_HERE).exists()


def made_before(out: Path) -> frozenset[str] | None:
    """Every path that the last build made; None where no build told, so that it can't be known."""
    for name in (_MADE, _STATE):  # the record of a build is older, and is away after an exchange
        try:
            found = json.loads((out / ASIDE / name).read_text(encoding="utf-8"))
            return frozenset(map(str, found if name == _MADE else found["files"]))
        except (OSError, ValueError, TypeError, KeyError, RecursionError):
            continue
    return None


def complete(out: Path, paths: Iterable[str]) -> None:
    """Declare the next state complete, with every path that was made in it: from now on it goes in."""
    following = next_state(out)
    for name in OWNED:
        (following / name).mkdir(exist_ok=True)
    (following / _MADE).write_text(json.dumps(sorted(paths)), encoding="utf-8")
    # The folders are known again by their numbers, which stay theirs wherever they are moved to.
    numbers = {name: _number(following / name) for name in OWNED}
    beside = following / f"{_COMPLETE}.new"
    beside.write_text(json.dumps(numbers), encoding="utf-8")
    beside.replace(following / _COMPLETE)


def is_unsettled(out: Path) -> bool:
    """Whether a build was interrupted here."""
    return next_state(out).exists() or (out / ASIDE / "last").exists()


def settle(out: Path) -> None:
    """Finish what an interrupted build began: a complete next state goes in, an incomplete one is thrown away."""
    following, last = next_state(out), out / ASIDE / "last"
    if (following / _COMPLETE).exists():
        with _undisturbed():
            _put_in(out, following, last)
    shutil.rmtree(following, ignore_errors=True)
    shutil.rmtree(last, ignore_errors=True)


def _put_in(out: Path, following: Path, last: Path) -> None:
    numbers = _numbers(following)
    state_file(out).unlink(missing_ok=True)
    (out / ASIDE / _MADE_HERE).touch()
    for name in OWNED:
        new, old = following / name, out / name
        if not new.exists() or _number(old) == numbers.get(name, -1):
            continue  # it has moved already; what stands in its place is the state before
        if not old.exists():
            os.rename(new, old)
        elif not _exchanged(new, old):
            last.mkdir(exist_ok=True)
            shutil.rmtree(last / name, ignore_errors=True)
            os.rename(old, last / name)
            os.rename(new, old)
    if (following / _MADE).exists():
        os.replace(following / _MADE, out / ASIDE / _MADE)
    (following / _COMPLETE).unlink(missing_ok=True)


def _numbers(following: Path) -> dict[str, int]:
    try:
        found = json.loads((following / _COMPLETE).read_text(encoding="utf-8"))
        return {str(name): int(number) for name, number in found.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}


def _number(path: Path) -> int | None:
    try:
        return path.stat().st_ino or None
    except OSError:
        return None


def _exchanged(one: Path, other: Path) -> bool:
    """Exchange two folders in one step, where the system can."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):  # an older C library
        return False
    return bool(rename(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE) == 0)


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Hold Ctrl-C off for the moment of the exchange."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
