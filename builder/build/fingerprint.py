"""Fingerprints: one digest of everything that a result is made from, so that what has not changed is not made again."""

from __future__ import annotations

import ctypes
import ctypes.util
import hashlib
import platform
from collections.abc import Iterable
from functools import cache
from importlib import metadata
from pathlib import Path

# Whatever of these changes may change a page or a card.
_LIBRARIES = (
    "brotli",
    "cssselect2",
    "fonttools",
    "jinja2",
    "latex2mathml",
    "markdown",
    "markupsafe",
    "pikepdf",
    "pillow",
    "pydyf",
    "pyphen",
    "segno",
    "tinycss2",
    "tinyhtml5",
    "weasyprint",
    "zopfli",
)

_PACKAGE = Path(__file__).parent.parent
_SOURCE_FOLDERS = ("bikes", "catalogue", "images", "parts", "procedures")


def digest(*parts: str | bytes) -> str:
    """One digest of `parts` in their order; where one ends and the next begins counts."""
    sum_ = hashlib.sha256()
    for part in parts:
        data = part.encode() if isinstance(part, str) else part
        sum_.update(len(data).to_bytes(8, "big"))
        sum_.update(data)
    return sum_.hexdigest()


def of_folders(folders: Iterable[Path]) -> str:
    """One digest of the names and contents of all files below `folders`; byte code and hidden files do not count."""
    parts: list[str | bytes] = []
    for folder in folders:
        for path in sorted(folder.rglob("*")):
            inside = path.relative_to(folder)
            if (
                path.is_file()
                and "__pycache__" not in inside.parts
                and not any(p.startswith(".") for p in inside.parts)
            ):
                parts += [inside.as_posix(), path.read_bytes()]
        parts.append("")
    return digest(*parts)


def of_sources(workspace: Path, out: Path) -> str:
    """One digest of the sources in a workspace; what else lies beside them, but for `out`, counts by its name alone."""
    beside = (path for path in workspace.iterdir() if path.resolve() != out.resolve())
    names = sorted(path.name for path in beside if not path.name.startswith("."))
    files = [path for path in (workspace / name for name in names) if path.suffix == ".yaml" and path.is_file()]
    parts: list[str | bytes] = [*names, of_folders(workspace / name for name in _SOURCE_FOLDERS)]
    for path in files:
        parts += [path.name, path.read_bytes()]
    return digest(*parts)


@cache
def of_program() -> str:
    """One digest of this program's code and of the libraries that lay out and print."""
    return digest(of_folders([_PACKAGE]), platform.python_version(), *_versions(), *_text_engines())


@cache
def of_printing() -> str:
    """One digest of what turns a card's HTML into a PDF: this program's rooms for it and the libraries below them."""
    rooms = of_folders([_PACKAGE / "printing", _PACKAGE / "composing", _PACKAGE / "pages"])
    return digest(rooms, platform.python_version(), *_versions(), *_text_engines())


def _versions() -> list[str]:
    found = []
    for name in _LIBRARIES:
        try:
            found.append(f"{name} {metadata.version(name)}")
        except metadata.PackageNotFoundError:
            found.append(f"{name} none")
    return found


def _text_engines() -> list[str]:
    """The versions of the system's Pango and HarfBuzz, which shape and measure the text on a card."""
    return [f"pango {_pango_version()}", f"harfbuzz {_harfbuzz_version()}"]


def _shared_library(*names: str) -> ctypes.CDLL | None:
    for name in names:
        try:
            return ctypes.CDLL(name)
        except OSError:
            continue
    return None


def _pango_version() -> str:
    library = _shared_library("libpango-1.0.so.0", "libpango-1.0.dylib", "libpango-1.0-0.dll")
    return "none" if library is None else str(library.pango_version())


def _harfbuzz_version() -> str:
    library = _shared_library("libharfbuzz.so.0", "libharfbuzz.0.dylib", "libharfbuzz-0.dll")
    if library is None:
        return "none"
    library.hb_version_string.restype = ctypes.c_char_p
    return str(library.hb_version_string().decode())


@cache
def has_pango() -> bool:
    """Whether the system has the library that PDF cards are set with."""
    return _pango_version() != "none"
