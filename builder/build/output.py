"""The output folder goes from one whole state to the next: what is built stands aside until it is complete.

    output/
      site/ cards/          the state that readers see
      .spannerleaf/next/    the state being built
      .spannerleaf/last/    the state that was, for as long as the two are being exchanged

A build that stops half way leaves the old state; one that stops while the two are exchanged is finished by the next.
Nothing else in the folder is touched.
"""

from __future__ import annotations

import os
import shutil
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

OWNED = ("site", "cards")
ASIDE = ".spannerleaf"
_COMPLETE = "complete"
_STATE = "state.json"
_MADE_HERE = "made-here"


class OutputRefused(Exception):
    """The output folder can't be used; the message is one line that says why and what to do."""


class Staging:
    """The next state while it is being built. A file that is as it was keeps its time stamp."""

    def __init__(self, folder: Path, current: Path) -> None:
        self._folder = folder
        self._current = current
        self.paths: list[str] = []
        self.changed: list[str] = []

    def write(self, path: str, data: bytes) -> None:
        """Put `data` at `path`, such as `site/index.html`, in the next state.

        Raises:
            ValueError: the path leads out of what a build owns, or was written before.
        """
        parts = PurePosixPath(path).parts
        if not parts or parts[0] not in OWNED or ".." in parts or len(parts) < 2:
            raise ValueError(f"'{path}' is not a place in the output")
        target, before = self._folder.joinpath(*parts), self._current.joinpath(*parts)
        if target.exists():
            raise ValueError(f"'{path}' is written twice")
        target.parent.mkdir(parents=True, exist_ok=True)
        self.paths.append(path)
        if _holds(before, data) and _linked(before, target):
            return
        self.changed.append(path)
        target.write_bytes(data)


@contextmanager
def staged(out: Path) -> Iterator[Staging]:
    """Build the next state of `out`; it takes the place of the old one only where the block ends without an exception.

    Raises:
        OutputRefused: the folder can't be written, holds a `site` or `cards` that no build made, or is being written
            by another build.
    """
    aside = out / ASIDE
    try:
        aside.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputRefused(f"{out} can't be used for the output: {error.strerror}") from None
    with _alone(aside / "lock", out):
        settle(out)
        _refuse_foreign(out)
        following = aside / "next"
        following.mkdir()
        try:
            staging = Staging(following, out)
            yield staging
        except BaseException:
            shutil.rmtree(following, ignore_errors=True)
            raise
        for name in OWNED:
            (following / name).mkdir(exist_ok=True)
        (following / _COMPLETE).touch()
        settle(out)


def settle(out: Path) -> None:
    """Finish what an interrupted build began: a complete next state goes in, an incomplete one is thrown away."""
    following, last = out / ASIDE / "next", out / ASIDE / "last"
    if (following / _COMPLETE).exists():
        _exchange(out, following, last)
    shutil.rmtree(following, ignore_errors=True)
    shutil.rmtree(last, ignore_errors=True)


def _exchange(out: Path, following: Path, last: Path) -> None:
    """Each step can be repeated: what has already moved is not there to move again."""
    with _undisturbed():
        last.mkdir(exist_ok=True)
        (out / ASIDE / _STATE).unlink(missing_ok=True)
        (out / ASIDE / _MADE_HERE).touch()
        for name in OWNED:
            if (following / name).exists():
                if (out / name).exists():
                    shutil.rmtree(last / name, ignore_errors=True)
                    os.rename(out / name, last / name)
                os.rename(following / name, out / name)


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


def state_file(out: Path) -> Path:
    """Where the record of the last whole build is kept; an exchange removes it, so that it never tells of another."""
    return out / ASIDE / _STATE


def _refuse_foreign(out: Path) -> None:
    if (out / ASIDE / _MADE_HERE).exists():
        return
    for name in OWNED:
        folder = out / name
        if folder.is_symlink() or (folder.exists() and (not folder.is_dir() or any(folder.iterdir()))):
            raise OutputRefused(
                f"{folder} was not built by spannerleaf and would be replaced; move it away, or choose another --out"
            )


def _holds(path: Path, data: bytes) -> bool:
    try:
        return path.stat().st_size == len(data) and path.read_bytes() == data
    except OSError:
        return False


def _linked(source: Path, target: Path) -> bool:
    try:
        os.link(source, target)
    except OSError:  # a file system without links: the file is written again
        return False
    return True


@contextmanager
def _alone(lock: Path, out: Path) -> Iterator[None]:
    """Hold the folder for one build at a time, as far as the system can."""
    try:
        import fcntl
    except ImportError:
        yield
        return
    with lock.open("w") as held:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise OutputRefused(f"another build is writing to {out}; wait for it, or choose another --out") from None
        yield
