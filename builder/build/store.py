"""A store of finished cards, by the fingerprint of everything that they were made from."""

from __future__ import annotations

import hashlib
import hmac
import os
import re
import secrets
import sys
import time
from contextlib import suppress
from functools import cache
from pathlib import Path

# Raised when an entry is written in another way.
_FORMAT = b"spannerleaf store 2\n"
_DIGEST_BYTES = 32
_KEPT_SECONDS = 30 * 24 * 3600
_BEGUN_SECONDS = 24 * 3600
_PRUNED_SECONDS = 3600
# Blocks of cards weigh some 8 kB each.
_MOST_BLOCKS = 50_000
# A theme has some 30 templates of 20 kB.
_MOST_TEMPLATES = 1_000
_ENTRY = re.compile(r"[0-9a-f]{64}")
_BEGUN = re.compile(r"[0-9a-f]{64}\.[0-9]+")


def cache_folder() -> Path | None:
    """Where the programs of whoever runs this keep what can be made again; None where no such place is known."""
    named = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_CACHE_HOME")
    try:
        folder = Path(named) if named else Path.home() / ".cache"
    except RuntimeError:  # nobody's home is known
        return None
    return folder / "spannerleaf" if folder.is_absolute() else None


def kept_in(name: str) -> Store | None:
    """The store of that name in the folder of whoever runs this; None where no such place is known."""
    folder = cache_folder()
    return None if folder is None else Store(folder / name)


def kept_blocks() -> Store | None:
    """Where whoever runs this keeps the blocks of cards that were laid out; None where no such place is known."""
    return kept_in("blocks")


def kept_templates() -> Store | None:
    """Where whoever runs this keeps the code of templates; None where no such place is known."""
    return kept_in("templates")


def prune_kept() -> None:
    """Throw away blocks and code that nobody has used for long, and what is beyond the number worth keeping.

    It takes as long as there are blocks, and is done once in a while.
    """
    folder = cache_folder()
    if folder is None or not _is_time(folder / "pruned"):
        return
    for kept, most in ((kept_blocks(), _MOST_BLOCKS), (kept_templates(), _MOST_TEMPLATES)):
        if kept is not None:
            kept.prune(most=most)


def _is_time(mark: Path) -> bool:
    """Whether it is an hour since this was last true."""
    with suppress(OSError):
        if 0 <= time.time() - mark.stat().st_mtime < _PRUNED_SECONDS:
            return False
    with suppress(OSError):
        mark.parent.mkdir(parents=True, exist_ok=True)
        mark.touch()
    return True


class Store:
    """Bytes by key, in a folder of their own. What is damaged, or written by somebody else, counts as absent.

    `seal` is what only the person knows whose builds write here: an entry that was not sealed with it is not believed,
    so that a folder that comes from elsewhere can't slip a card in.
    """

    def __init__(self, folder: Path, seal: bytes | None = None) -> None:
        self._folder = folder
        self._seal = own_seal() if seal is None else seal

    def get(self, key: str) -> bytes | None:
        """The bytes kept under `key`, or None. Marks them as in use."""
        path = self._folder / key
        try:
            raw = path.read_bytes()
        except OSError:
            return None
        digest, data = raw[:_DIGEST_BYTES], raw[_DIGEST_BYTES:]
        if not hmac.compare_digest(self._digest(key, data), digest):
            return None
        with suppress(OSError):  # somebody else's store may be read, and is kept by them
            os.utime(path)
        return data

    def put(self, key: str, data: bytes) -> None:
        """Keep `data` under `key`; whole or not at all. A disk that is full costs time later and nothing now."""
        beside = self._folder / f"{key}.{os.getpid()}"
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            beside.write_bytes(self._digest(key, data) + data)
            beside.replace(self._folder / key)
        except OSError:
            with suppress(OSError):
                beside.unlink(missing_ok=True)

    def prune(self, *, now: float | None = None, most: int | None = None) -> None:
        """Throw away what no build has used for thirty days, and what a killed build began; nothing else.

        With `most`, also what is beyond so many that were used last.
        """
        today = time.time() if now is None else now
        if self._folder.is_symlink() or not self._folder.is_dir():
            return
        used: list[tuple[float, Path]] = []
        for path in self._folder.iterdir():
            if _ENTRY.fullmatch(path.name):
                oldest = today - _KEPT_SECONDS
            elif _BEGUN.fullmatch(path.name):
                oldest = today - _BEGUN_SECONDS
            else:
                continue
            with suppress(OSError):  # another build may have thrown it away, or may be writing it
                last = path.lstat().st_mtime
                if last >= oldest and _ENTRY.fullmatch(path.name):
                    used.append((last, path))
                elif last < oldest:
                    path.unlink(missing_ok=True)
        if most is not None:
            for _, path in sorted(used, key=lambda one: one[0], reverse=True)[most:]:
                with suppress(OSError):
                    path.unlink(missing_ok=True)

    def _digest(self, key: str, data: bytes) -> bytes:
        return hmac.new(self._seal, _FORMAT + key.encode() + b"\n" + data, hashlib.sha256).digest()


def own_seal() -> bytes:
    """The seal of whoever runs this, made at the first use; where it can't be kept, one for this process alone."""
    folder = cache_folder()
    return _for_this_process() if folder is None else _kept_seal(folder) or _for_this_process()


@cache
def _for_this_process() -> bytes:
    return secrets.token_bytes(_DIGEST_BYTES)


def _kept_seal(folder: Path) -> bytes | None:
    path = folder / "seal"
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        beside = folder / f"seal.{os.getpid()}"
        with suppress(FileExistsError):
            if not path.exists():
                with open(os.open(beside, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as file:
                    file.write(_for_this_process())
                os.link(beside, path)  # whole or not at all, and the first of two processes wins
        with suppress(OSError):
            beside.unlink(missing_ok=True)
        seal = path.read_bytes()
        if len(seal) == _DIGEST_BYTES:
            return seal
    return None
