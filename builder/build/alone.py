"""One build at a time in an output folder: who holds it, and what may stand in the folder beside the output."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

ASIDE = ".spannerleaf"
_LOCK, _HOLDER = "lock", "held-by"


class OutputRefused(Exception):
    """The output folder can't be used; the message is one line that says why and what to do."""


def lock_of(out: Path) -> Path:
    """The file that a build of `out` holds locked."""
    return out / ASIDE / _LOCK


@contextmanager
def alone(out: Path) -> Iterator[None]:
    """Hold `out` for one build; the folder beside the output is made.

    Raises:
        OutputRefused: another build holds it, it can't be written, or a link stands where a build keeps its own files.
    """
    aside = out / ASIDE
    try:
        aside.mkdir(parents=True, exist_ok=True)
        refuse_links(out)
        lock = FileLock(lock_of(out), timeout=0)
        lock.acquire()
    except Timeout:
        raise OutputRefused(
            f"another build{_holder(aside)} is writing to {out}; wait for it, or choose another --out"
        ) from None
    # The second is what older editions of filelock say of a file system that knows no locks.
    except (OSError, NotImplementedError) as error:
        raise OutputRefused(f"{out} can't be used for the output: {reason_of(error)}") from None
    try:
        with suppress(OSError):  # only for the message of another build
            (aside / _HOLDER).write_text(str(os.getpid()), encoding="ascii")
        yield
    finally:
        with suppress(OSError):
            (aside / _HOLDER).unlink(missing_ok=True)
        lock.release()


def refuse_links(out: Path) -> None:
    """Refuse links where a build writes and deletes: it would do so wherever they lead.

    Raises:
        OutputRefused: there is one.
    """
    aside = out / ASIDE
    inside = sorted(aside.iterdir()) if aside.is_dir() and not aside.is_symlink() else ()
    for path in (aside, out / "site", out / "cards", *inside):
        if path.is_symlink():
            raise OutputRefused(f"{path} is a link, which a build does not follow; take it away")


def refuse_place(out: Path, sources: tuple[Path, ...]) -> None:
    """Refuse to build into a folder of sources, a home folder or the root.

    Raises:
        OutputRefused: `out` is one of them, or what is built there would stand among the sources.
    """
    whole = out.resolve()
    with suppress(RuntimeError, OSError):  # nobody's home is known
        if whole == Path.home().resolve():
            raise OutputRefused(f"{out} is your home folder; name a folder of its own with --out")
    if whole == whole.parent:
        raise OutputRefused(f"{out} is the root of the file system; name a folder of its own with --out")
    for folder in (source.resolve() for source in sources):
        owned = (whole / "site", whole / "cards", whole / ASIDE)
        if whole == folder or any(folder.is_relative_to(own) for own in owned):
            raise OutputRefused(f"{out} holds the sources in {folder}; name a folder of its own with --out")
        if whole.is_relative_to(folder) and _among_sources(whole.relative_to(folder)):
            raise OutputRefused(f"{out} lies among the sources in {folder}; name a folder of its own with --out")


def _among_sources(inside: Path) -> bool:
    return inside.parts[0] in ("bikes", "catalogue", "images", "parts", "procedures", "theme")


def reason_of(error: BaseException) -> str:
    """What went wrong, in the words of the system where it has some."""
    return getattr(error, "strerror", None) or str(error) or type(error).__name__


def _holder(aside: Path) -> str:
    try:
        number = (aside / _HOLDER).read_text(encoding="ascii").strip()
    except (OSError, UnicodeError):
        return ""
    return f" (process {number})" if number.isdecimal() and len(number) < 12 else ""
