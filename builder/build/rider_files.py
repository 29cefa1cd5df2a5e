"""The files of the rider's page: interpreter, program, library, scripts and the page itself.

The interpreter is fetched by `.ci/rider-runtime`, once; where it is not there, a site is built without the page.
"""

from __future__ import annotations

import gzip
import hashlib
import io
import json
import marshal
import sys
import zipfile
from collections.abc import Callable, Mapping
from functools import cache, partial
from importlib import metadata
from pathlib import Path
from typing import Any

from builder.build import fingerprint
from builder.build.browser_program import LIBRARIES, OPENING_LIBRARIES, opening_files, program_files, zipped
from builder.build.store import kept_in
from builder.pages.contents import Site
from builder.pages.theme import Theme, known_by
from builder.rider.packing import OneOfEach
from builder.rider.page import rider_page
from builder.rider.shelf import Shelf, generated, packed
from builder.sources.loaded import shipped_themes

_ROOM = Path(__file__).parent.parent / "rider"
_RUNTIME, _WEB, _LIST = _ROOM / "runtime", _ROOM / "web", _ROOM / "runtime.json"
_FOLDER = "rider"
# A format that every Python reads, and in which the same is always written the same.
_EARLY_FORMAT = 2
# The parts of a few programs, a workspace's or a contributor's.
_MOST_KEPT = 24
# What a library is called among packages, where that is another name.
_PACKAGED_AS = {"yaml": "pyyaml"}
NOT_THERE = (
    "the site has no page on which a rider fits a guide to a bike, since the interpreter for browsers is not there; "
    "'.ci/rider-runtime' fetches it"
)


def runtime_list() -> dict[str, Any]:
    """What the interpreter is made of, with version, licence and digests."""
    found: dict[str, Any] = json.loads(_LIST.read_text(encoding="utf-8"))
    return found


def has_runtime() -> bool:
    """Whether the interpreter for browsers is there, as its list says."""
    return all(
        (_RUNTIME / name).is_file() and _digest((_RUNTIME / name).read_bytes()) == told["sha256"]
        for name, told in runtime_list()["files"].items()
    )


def rider_files(site: Site, theme: Theme) -> Mapping[str, bytes]:
    """Every file of the rider's page by its path below the site's root."""
    digest, dressed = known_by(theme)
    templates = site.memory.of("templates", digest, dressed, partial(generated, theme.templates))
    copies = site.memory.of("copies", (), (), OneOfEach)
    shelf = packed(Shelf(library=site.library, theme=theme, version=site.version), templates, copies)
    code, wasm = program(), _wasm()
    runtime = {name: (_RUNTIME / name).read_bytes() for name in ("pyodide.js", "pyodide.asm.js", "stdlib.zip")}
    fetched = {
        "wasm": ("runtime/pyodide.wasm.bin", wasm, True),
        "stdlib": ("runtime/stdlib.bin", _packed_whole(runtime["stdlib.zip"]), True),
        "program": ("program.bin", _files_of(code), True),
        "opening": ("opening.bin", _files_of(opening()), True),
        "shelf": ("library.bin", gzip.compress(shelf, 9, mtime=0), True),
        "loader": ("runtime/pyodide.js", runtime["pyodide.js"], False),
        "script": ("runtime/pyodide.asm.js", runtime["pyodide.asm.js"], False),
    }
    listed = {
        name: {"path": path, "bytes": len(data), "sha256": _digest(data), "gzip": packed_}
        for name, (path, data, packed_) in fetched.items()
    }
    scripts = {path.name: path.read_bytes() for path in sorted(_WEB.glob("*.js"))}
    # What else must be kept for the page to open without a connection, and the name under which it is.
    own = [*scripts, "files.json", "index.html", ""]
    build = _digest(json.dumps(listed).encode() + b"".join(scripts.values()))[:16]
    told = {"build": build, "own": own, "lock": runtime_list()["lock"], "files": listed}
    files = json.dumps(told, indent=1).encode()
    page = rider_page(site, theme)
    found = {path: data for path, data, _ in fetched.values()} | scripts
    found |= {"files.json": files, "licences.txt": _licences()}
    return {**{f"{_FOLDER}/{path}": data for path, data in found.items()}, page.path: page.html.encode()}


@cache
def program() -> bytes:
    """The program: in byte code where somebody compiled it from the sources as they stand, else the sources."""
    return _compiled("program", _kept("program", _of_modules(), lambda: zipped(program_files())))


@cache
def opening() -> bytes:
    """What opens a bike's file, likewise."""
    return _compiled("opening", _kept("opening", _of_modules(), lambda: zipped(opening_files())))


@cache
def _of_modules() -> str:
    """The digest of all that a program for the browser is taken from."""
    versions = (metadata.version(_PACKAGED_AS.get(name, name)) for name in (*LIBRARIES, *OPENING_LIBRARIES))
    themes = fingerprint.of_folders([shipped_themes()], shipped_themes())
    return fingerprint.digest(sys.version, *versions, fingerprint.of_code((_ROOM.parent,)), themes)


def _kept(what: str, made_from: str, make: Callable[[], bytes]) -> bytes:
    """What `make` makes, or what any build of whoever runs this made of the same before: it takes seconds together."""
    store, key = kept_in("rider"), fingerprint.digest(what, made_from)
    if store is None:
        return make()
    kept = store.get(key)
    if kept is None:
        kept = make()
        store.put(key, kept)
        store.prune(most=_MOST_KEPT)
    return kept


def _compiled(name: str, sources: bytes) -> bytes:
    compiled = _RUNTIME / f"{name}-{_digest(sources)[:16]}.zip"
    return compiled.read_bytes() if compiled.is_file() else sources


@cache
def _wasm() -> bytes:
    """The interpreter, packed here so that it travels packed from any host."""
    wasm = (_RUNTIME / "pyodide.asm.wasm").read_bytes()
    return _kept("gzip", _digest(wasm), lambda: gzip.compress(wasm, 9, mtime=0))


@cache
def _packed_whole(archive: bytes) -> bytes:
    """A zip whose files lie in it as they are, packed as a whole: smaller so, and sooner unpacked by a browser."""

    def make() -> bytes:
        plain = io.BytesIO()
        with zipfile.ZipFile(io.BytesIO(archive)) as old, zipfile.ZipFile(plain, "w", zipfile.ZIP_STORED) as new:
            for info in old.infolist():
                new.writestr(zipfile.ZipInfo(info.filename, info.date_time), old.read(info))
        return gzip.compress(plain.getvalue(), 9, mtime=0)

    return _kept("packed whole", _digest(archive), make)


@cache
def _files_of(archive: bytes) -> bytes:
    """The files of a zip by their paths, as the interpreter for browsers reads them at once."""

    def make() -> bytes:
        with zipfile.ZipFile(io.BytesIO(archive)) as held:
            files = {info.filename: held.read(info) for info in held.infolist()}
        return gzip.compress(marshal.dumps(files, _EARLY_FORMAT), 9, mtime=0)

    return _kept("files", _digest(archive), make)


def _licences() -> bytes:
    """The licence of the interpreter and of each library below the program."""
    texts = [(_WEB / "licences.txt").read_text(encoding="utf-8")]
    for library in (*LIBRARIES, *OPENING_LIBRARIES):
        for path in metadata.files(_PACKAGED_AS.get(library, library)) or ():
            if "licen" in path.name.lower() and path.suffix in ("", ".txt", ".md"):
                text = Path(str(path.locate())).read_text(encoding="utf-8")
                texts.append(f"{library} {metadata.version(_PACKAGED_AS.get(library, library))}\n\n{text}")
    return "\n\n----\n\n".join(texts).encode()


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
