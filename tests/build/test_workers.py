"""Pools of processes that end while Ctrl-C ends what is in them."""

from __future__ import annotations

from concurrent.futures import Executor

import pytest

from builder.build.processes import shut


class Broken(Executor):
    """Its processes were ended while it was being shut."""

    def __init__(self, error: Exception) -> None:
        self.error = error

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        assert cancel_futures
        raise self.error


def test_what_stopped_a_build_is_told_and_not_that_a_pipe_was_shut_meanwhile() -> None:
    with pytest.raises(KeyboardInterrupt):
        try:
            raise KeyboardInterrupt
        finally:
            shut(Broken(OSError("handle is closed")))


def test_any_other_fault_of_a_pool_is_told() -> None:
    with pytest.raises(RuntimeError):
        shut(Broken(RuntimeError("a fault")))
