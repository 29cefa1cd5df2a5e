"""Remember what a reading of the sources came to, so that sources that have not changed are not read again.

What is kept is named by a digest of all that it comes from: every source, where it stands as it is shown, the modules
that read, the version of Python, and the number of this form. It is taken back only under the very same digest, whole,
and with nothing in it but records of this program.
"""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

from builder.build import fingerprint
from builder.build.collector import collector_at_rest
from builder.build.store import Store, kept_in
from builder.diagnostics.diagnostic import Diagnostic
from builder.sources.loaded import Loaded, shipped_library

# Raised whenever what is kept, or how, changes in a way that the digests do not show.
_FORM = "1"
_READ = "read"
# A reading takes a few megabytes, and every change of a source makes another.
_MOST_KEPT = 24
_PACKAGE = Path(__file__).parent.parent
# The modules that turn files into records; a test holds that reading needs no others.
READING_ROOMS = ("model", "diagnostics", "sources")
# Folders of a workspace that hold no sources.
_FREE = frozenset({"output", "themes", "schemas"})
_OWN = ("builder.model.", "builder.diagnostics.", "builder.sources.loaded")
_PLAIN = frozenset(
    {("builtins", "frozenset"), ("builtins", "set"), ("pathlib", "PosixPath"), ("copyreg", "_reconstructor")}
)


def load_remembered(workspace: Path | None = None) -> Loaded:
    """As `builder.sources.workspace.load`; what was read before from the same sources is taken from memory."""
    store, digest = kept_in(_READ), ""
    if store is not None:
        with suppress(OSError):  # what can not be read is told by the reading
            digest = _digest_of(workspace)
    if store is not None and digest:
        kept = _taken_back(store.get(digest))
        if isinstance(kept, Loaded):
            return replace(kept, digest=digest)
    # Only here, since it takes longer to get ready than all that is done with a remembered reading.
    from builder.sources.workspace import load

    with collector_at_rest():
        loaded = load(workspace)
        _keep(store, digest, loaded)
    return replace(loaded, digest=digest)


def remembered_findings(
    loaded: Loaded, name: str, find: Callable[[], tuple[Diagnostic, ...]]
) -> tuple[Diagnostic, ...]:
    """What `find` finds in what was read; taken from memory where the same program has looked at the same before."""
    store = kept_in(_READ) if loaded.digest else None
    if store is None:
        return find()
    digest = fingerprint.digest("findings", name, loaded.digest, fingerprint.of_code((_PACKAGE,)))
    kept = _taken_back(store.get(digest))
    if isinstance(kept, tuple) and all(isinstance(one, Diagnostic) for one in kept):
        return kept
    found = find()
    _keep(store, digest, found)
    return found


def _digest_of(workspace: Path | None) -> str:
    library = shipped_library()
    folders = [library, *([] if workspace is None or workspace.resolve() == library.resolve() else [workspace])]
    rooms = tuple(_PACKAGE / room for room in READING_ROOMS)
    parts: list[str | bytes] = [_FORM, sys.version, fingerprint.of_code(rooms)]
    for folder in folders:
        # The place of a mistake is shown as the user would write it, which hangs on the current folder.
        parts += [str(folder), os.getcwd(), *_sources_in(folder)]
    return fingerprint.digest(*parts)


def _sources_in(folder: Path) -> Iterator[str | bytes]:
    """Every name below the folder that the reading could look at, and the contents of every source."""
    for at, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield from folders
        if at == str(folder):
            folders[:] = [name for name in folders if name not in _FREE]
        # A photograph is read too, where a step shows it.
        at_images = Path(at).is_relative_to(folder / "images")
        for name in sorted(files):
            yield os.path.join(at, name)
            if name.endswith(".yaml") or at_images:
                with open(os.path.join(at, name), "rb") as file:
                    yield file.read()


def _keep(store: Store | None, digest: str, what: object) -> None:
    if store is not None and digest:
        with suppress(OSError):  # a full or a locked disk costs time and nothing else
            store.put(digest, pickle.dumps(what, protocol=5))
            store.prune(most=_MOST_KEPT)


def _taken_back(data: bytes | None) -> object:
    """What was kept; None where there is nothing, or anything in it that is no record of this program."""
    if data is None:
        return None
    try:
        with collector_at_rest():
            return _Records(BytesIO(data)).load()
    except Exception:
        return None


class _Records(pickle.Unpickler):
    """Takes back records of this program and plain values, and calls nothing else."""

    def find_class(self, module: str, name: str) -> Any:
        if module.startswith(_OWN) or (module, name) in _PLAIN:
            return super().find_class(module, name)
        raise pickle.UnpicklingError(f"{module}.{name} is no record")
