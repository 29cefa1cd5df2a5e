"""How far a build is: a bar on a terminal, a plain line for each stretch of work elsewhere; always on stderr."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import click

from builder.build.order import Progress

_BETWEEN_COUNTS_S = 10.0
_BETWEEN_S = 0.1  # drawing takes time too


@contextmanager
def progress_shown() -> Iterator[Progress]:
    """What tells a person how far the build is."""
    if not sys.stderr.isatty():
        yield _Lines()
        return
    bars = _Bars()
    try:
        yield bars
    finally:
        bars.close()


class _Lines:
    """One line for each stretch, and a count now and then where it takes long."""

    def __init__(self) -> None:
        self._total = self._done = 0
        self._told_s = 0.0

    def begin(self, words: str, total: int) -> None:
        click.echo(f"{words} ({total})" if total > 1 else words, err=True)
        self._total, self._done, self._told_s = total, 0, time.monotonic()

    def advance(self) -> None:
        self._done += 1
        if time.monotonic() - self._told_s >= _BETWEEN_COUNTS_S and self._done < self._total:
            click.echo(f"  {self._done} of {self._total}", err=True)
            self._told_s = time.monotonic()


class _Bars:
    """A bar that moves when the work does. It has no thread of its own, since processes are forked while it stands."""

    def __init__(self) -> None:
        self._bar: Any = None
        self._task: Any = None
        self._drawn_s = 0.0

    def begin(self, words: str, total: int) -> None:
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

        self.close()
        columns = (TextColumn("{task.description:<20}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
        self._bar = Progress(*columns, console=Console(stderr=True), auto_refresh=False)
        self._bar.start()
        self._task = self._bar.add_task(words, total=total)
        self._bar.refresh()

    def advance(self) -> None:
        self._bar.advance(self._task)
        if self._bar.finished:
            self.close()
        elif time.monotonic() - self._drawn_s > _BETWEEN_S:
            self._bar.refresh()
            self._drawn_s = time.monotonic()

    def close(self) -> None:
        """Leave the bar as it stands."""
        if self._bar is not None:
            self._bar.stop()
            self._bar = None
