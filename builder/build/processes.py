"""Processes that share what this one holds ready: forked ones, and how they and Ctrl-C get along."""

from __future__ import annotations

import multiprocessing
import signal
from collections.abc import Iterator
from contextlib import contextmanager


def can_fork() -> bool:
    """Whether a process of this system may begin with all that this one holds."""
    return "fork" in multiprocessing.get_all_start_methods()


def settle_in() -> None:
    """In a new process: Ctrl-C ends it without a word, since the process that made it has the last one."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})


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
