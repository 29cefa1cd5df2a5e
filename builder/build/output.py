"""The output folder goes from one whole state to the next: what is built stands aside until it is complete.

    output/
      site/ cards/          the state that readers see
      .spannerleaf/next/    the state being built
      .spannerleaf/last/    the state that was, for as long as the two are being exchanged
      .spannerleaf/made.json what the last build made: only that is ever deleted

A build that stops half way leaves the old state; one that stops while the two are exchanged is finished by the next.
Files of somebody else in `site` and `cards` are carried along; nothing else in the folder is touched.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from builder.build.alone import ASIDE, OutputRefused, alone, reason_of
from builder.build.exchange import (
    OWNED,
    complete,
    is_unsettled,
    made_before,
    next_state,
    settle,
    state_file,
    was_built_here,
)

__all__ = ["ASIDE", "OWNED", "OutputRefused", "Staging", "refuse_unusable", "settle", "settled", "staged", "state_file"]


class Staging:
    """The next state while it is being built. A file that is as it was keeps its time stamp.

    `made` is every path that the last build made; None where that is not known. `kept` are the files of somebody else
    that were carried along.
    """

    def __init__(self, folder: Path, current: Path, made: frozenset[str] | None = None) -> None:
        self._folder = folder
        self._current = current
        self._made = made
        self.paths: list[str] = []
        self.changed: list[str] = []
        self.kept: tuple[str, ...] = ()

    @property
    def made_before(self) -> frozenset[str]:
        """Every path that the last build made."""
        return self._made or frozenset()

    def write(self, path: str, data: bytes) -> None:
        """Put `data` at `path`, such as `site/index.html`, in the next state.

        Raises:
            ValueError: the path leads out of what a build owns, or was written before.
            OutputRefused: somebody else's file stands there.
        """
        parts = PurePosixPath(path).parts
        if not parts or parts[0] not in OWNED or ".." in parts or len(parts) < 2:
            raise ValueError(f"'{path}' is not a place in the output")
        target, before = self._folder.joinpath(*parts), self._current.joinpath(*parts)
        if target.exists():
            raise ValueError(f"'{path}' is written twice")
        if self._made is not None and path not in self._made and os.path.lexists(before):
            raise OutputRefused(_foreign(before))
        target.parent.mkdir(parents=True, exist_ok=True)
        self.paths.append(path)
        if _holds(before, data) and _linked(before, target):
            return
        self.changed.append(path)
        target.write_bytes(data)

    def read(self, path: str) -> bytes | None:
        """What was written at `path`; None where nothing was."""
        target = self._folder.joinpath(*PurePosixPath(path).parts)
        return target.read_bytes() if target.exists() else None

    def carry_along(self) -> None:
        """Take the files of somebody else, which no build made, over into the next state.

        Raises:
            OutputRefused: one of them stands in the way.
        """
        if self._made is None:
            return
        kept = []
        for name in OWNED:
            for path in _files_below(self._current / name):
                inside = path.relative_to(self._current)
                if inside.as_posix() not in self._made:
                    self._carry(path, self._folder / inside)
                    kept.append(inside.as_posix())
        self.kept = tuple(sorted(kept))

    def _carry(self, path: Path, target: Path) -> None:
        if os.path.lexists(target):
            raise OutputRefused(_foreign(path))
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            if path.is_symlink():
                target.symlink_to(os.readlink(path))
            elif not _linked(path, target):
                shutil.copy2(path, target)
        except (FileExistsError, NotADirectoryError):
            raise OutputRefused(_foreign(path)) from None


@contextmanager
def staged(out: Path) -> Iterator[Staging]:
    """Build the next state of `out`; it takes the place of the old one only where the block ends without an exception.

    Raises:
        OutputRefused: the folder can't be written, holds a `site` or `cards` that no build made, or is being written
            by another build.
        OSError: the disk is full, or something like it; the old state stands.
    """
    with alone(out):
        settle(out)
        _refuse_foreign(out)
        following = next_state(out)
        try:
            following.mkdir()
            staging = Staging(following, out, made_before(out))
            yield staging
            staging.carry_along()
            complete(out, staging.paths)
        except BaseException:
            shutil.rmtree(following, ignore_errors=True)
            raise
        settle(out)


def settled(out: Path) -> None:
    """Finish what a build that was killed began, before anything else is asked of the folder.

    Raises:
        OutputRefused: as `staged`.
    """
    if is_unsettled(out):
        with alone(out):
            try:
                settle(out)
            except OSError as error:
                raise OutputRefused(f"{out} can't be used for the output: {reason_of(error)}") from None


def refuse_unusable(out: Path) -> None:
    """Refuse at once what `staged` would refuse only when all is worked out.

    Raises:
        OutputRefused: `out` lies below a file, or holds a `site` or `cards` that no build made.
    """
    standing = next((folder for folder in (out, *out.parents) if folder.exists()), out)
    if not standing.is_dir():
        raise OutputRefused(f"{out} can't be used for the output: {standing} is no folder")
    _refuse_foreign(out)


def _refuse_foreign(out: Path) -> None:
    if was_built_here(out):
        return
    for name in OWNED:
        folder = out / name
        if folder.is_symlink() or (folder.exists() and (not folder.is_dir() or any(folder.iterdir()))):
            raise OutputRefused(_foreign(folder))


def _foreign(path: Path) -> str:
    return f"{path} was not built by spannerleaf and would be replaced; move it away, or choose another --out"


def _files_below(folder: Path) -> Iterator[Path]:
    """Every file and link below a folder; links are not followed."""
    for base, folders, files in os.walk(folder):
        for name in sorted((*files, *(one for one in folders if (Path(base) / one).is_symlink()))):
            yield Path(base) / name


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
