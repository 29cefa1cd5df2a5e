"""A disk that fails and a process that is killed, at exactly the n-th thing that is done to files below a folder."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

_EVENTS = frozenset(
    {"open", "os.rename", "os.mkdir", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.utime", "os.scandir"}
)


@dataclass
class _Watch:
    """Counts what is done below `folder` and does `harm` at number `at`."""

    folder: str = ""
    at: int = -1
    harm: Callable[[], None] = lambda: None
    seen: list[str] = field(default_factory=list)


_watch = _Watch()
_hooked: list[bool] = []


def _look(event: str, arguments: tuple[Any, ...]) -> None:
    if not _watch.folder:
        return
    below = event in _EVENTS and any(
        os.fsdecode(one).startswith(_watch.folder)
        for one in arguments[:2]
        if isinstance(one, str | bytes | os.PathLike)
    )
    # The exchange of two folders in one step is asked of the C library.
    if below or (event == "ctypes.dlsym" and "renameat2" in map(str, arguments)):
        _watch.seen.append(event)
        if len(_watch.seen) - 1 == _watch.at:
            _watch.harm()


@contextmanager
def harmed(folder: Path, at: int, harm: Callable[[], None]) -> Iterator[_Watch]:
    """Do `harm` just before the thing number `at` that is done to files below `folder`."""
    if not _hooked:  # a hook can't be taken away again
        sys.addaudithook(_look)
        _hooked.append(True)
    _watch.folder, _watch.at, _watch.harm, _watch.seen = str(folder), at, harm, []
    try:
        yield _watch
    finally:
        _watch.folder = ""


def killed(folder: Path, at: int, act: Callable[[], object]) -> bool:
    """Whether `act`, in a process of its own, was killed there; False where it ended before."""
    child = os.fork()
    if child == 0:
        try:
            with harmed(folder, at, lambda: os.kill(os.getpid(), signal.SIGKILL)):
                act()
        finally:
            os._exit(0)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


def refuse_to_write() -> None:
    """What a full disk says."""
    raise OSError(28, "No space left on device")
