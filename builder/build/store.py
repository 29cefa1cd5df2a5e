"""A store of finished cards, by the fingerprint of everything that they were made from."""

from __future__ import annotations

import hashlib
import os
import sys
import time
from contextlib import suppress
from pathlib import Path

_DIGEST_BYTES = 32
_KEPT_SECONDS = 30 * 24 * 3600


def cache_folder() -> Path | None:
    """Where the programs of whoever runs this keep what can be made again; None where no such place is known."""
    named = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_CACHE_HOME")
    try:
        folder = Path(named) if named else Path.home() / ".cache"
    except RuntimeError:  # nobody's home is known
        return None
    return folder / "spannerleaf" if folder.is_absolute() else None


class Store:
    """Bytes by key, in a folder of their own. What is damaged counts as absent."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def get(self, key: str) -> bytes | None:
        """The bytes kept under `key`, or None. Marks them as in use."""
        path = self._folder / key
        try:
            raw = path.read_bytes()
        except OSError:
            return None
        digest, data = raw[:_DIGEST_BYTES], raw[_DIGEST_BYTES:]
        if hashlib.sha256(data).digest() != digest:
            return None
        with suppress(OSError):  # somebody else's store may be read, and is kept by them
            os.utime(path)
        return data

    def put(self, key: str, data: bytes) -> None:
        """Keep `data` under `key`; whole or not at all."""
        self._folder.mkdir(parents=True, exist_ok=True)
        beside = self._folder / f"{key}.{os.getpid()}"
        beside.write_bytes(hashlib.sha256(data).digest() + data)
        beside.replace(self._folder / key)

    def prune(self, *, now: float | None = None, most: int | None = None) -> None:
        """Throw away what no build has used for thirty days, and what is beyond the `most` that were used last."""
        oldest = (time.time() if now is None else now) - _KEPT_SECONDS
        if not self._folder.is_dir():
            return
        used: list[tuple[float, Path]] = []
        for path in self._folder.iterdir():
            with suppress(OSError):  # another build may have thrown it away, or may be writing it
                used.append((path.stat().st_mtime, path))
        used.sort(key=lambda one: one[0], reverse=True)
        for place, (last, path) in enumerate(used):
            if last < oldest or (most is not None and place >= most):
                with suppress(OSError):
                    path.unlink(missing_ok=True)
