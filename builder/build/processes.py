"""Processes that share what this one holds ready: forked ones, and how they and Ctrl-C get along."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

# How often a process looks whether the one that made it is still there.
_LOOK_UP_SECONDS = 0.3


def can_fork() -> bool:
    """Whether a process of this system may begin with all that this one holds."""
    return "fork" in multiprocessing.get_all_start_methods()


def settle_in(lock: Path | None = None) -> None:
    """In a new process: Ctrl-C ends it without a word, since the process that made it has the last one.

    It ends by itself when that process is gone, however that ended, and lets go of the `lock` that it was born with, so
    that nobody who comes after has to wait for it.
    """
    if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:  # as it is for what runs in the background of a shell
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})
    if lock is not None:
        _let_go(lock)
    parent = multiprocessing.parent_process()
    if parent is not None and parent.pid is not None and hasattr(signal, "SIGKILL"):
        threading.Thread(target=_end_with, args=(parent.pid,), daemon=True).start()


def _let_go(lock: Path) -> None:
    """Close every descriptor of the file, without unlocking it for the process that holds it."""
    try:
        held = os.stat(lock)
        numbers = [int(name) for name in os.listdir("/dev/fd") if name.isdecimal()]
    except OSError:  # a system without such a folder does not fork either
        return
    for number in numbers:
        with suppress(OSError):
            if os.path.samestat(os.fstat(number), held):
                os.close(number)


def _end_with(parent: int) -> None:
    while os.getppid() == parent:
        time.sleep(_LOOK_UP_SECONDS)
    os.kill(os.getpid(), signal.SIGKILL)


@contextmanager
def undisturbed() -> Iterator[None]:
    """Hold Ctrl-C back while processes are forked, so that none takes it before it has settled in."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
