"""Fingerprints: one digest of everything that a result is made from, so that what has not changed is not made again."""

from __future__ import annotations

import ctypes
import hashlib
import os
import platform
from collections.abc import Iterable, Iterator
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
_SOURCE_FOLDERS = ("bikes", "catalogue", "images", "parts", "procedures", "theme")


def digest(*parts: str | bytes) -> str:
    """One digest of `parts` in their order; where one ends and the next begins counts."""
    sum_ = hashlib.sha256()
    for part in parts:
        data = part.encode() if isinstance(part, str) else part
        sum_.update(len(data).to_bytes(8, "big"))
        sum_.update(data)
    return sum_.hexdigest()


def of_folders(folders: Iterable[Path], within: Path | None = None, left_out: frozenset[str] = frozenset()) -> str:
    """One digest of the names and contents of all files below `folders`; byte code and hidden files do not count.

    Links are followed as long as they stay within `within`, or each within its own folder; of others, and of what is
    no plain file, the name alone counts. What is `left_out` by its name at the top of a folder does not count.
    """
    parts: list[str | bytes] = []
    for folder in folders:
        bounds = os.path.realpath(within or folder)
        for name, path in _below(folder, "", bounds, frozenset()):
            if name.partition("/")[0] not in left_out:
                parts += [name, "" if path is None else _contents(path)]
        parts.append("")
    return digest(*parts)


def _below(folder: Path, inside: str, bounds: str, above: frozenset[str]) -> Iterator[tuple[str, Path | None]]:
    """Every file below a folder with its name from there; no path where its contents do not count."""
    real = os.path.realpath(folder)
    if real in above or not (real == bounds or real.startswith(bounds.rstrip(os.sep) + os.sep)):
        yield f"{inside} -> {real}", None
        return
    try:
        names = sorted(os.listdir(folder))
    except FileNotFoundError:
        return
    except OSError as error:
        yield f"{inside}: {error.strerror}", None
        return
    for name in names:
        if name.startswith(".") or name == "__pycache__":
            continue
        path, shown = folder / name, f"{inside}{os.fsencode(name).decode('utf-8', 'replace')}"
        if path.is_dir():
            yield from _below(path, f"{shown}/", bounds, above | {real})
        else:
            yield shown, path if _is_plain(path, bounds) else None


def _is_plain(path: Path, bounds: str) -> bool:
    real = os.path.realpath(path)
    return path.is_file() and real.startswith(bounds.rstrip(os.sep) + os.sep)


def _contents(path: Path) -> bytes:
    """The digest of a file, read piece by piece; what can't be read counts as that."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").digest()
    except OSError as error:
        return f"unreadable: {error.strerror}".encode()


@cache
def of_code(folders: tuple[Path, ...]) -> str:
    """One digest of the modules below `folders`."""
    parts: list[str | bytes] = []
    for folder in folders:
        for at, below, files in os.walk(folder):
            below[:] = sorted(name for name in below if name not in ("__pycache__", "_library"))
            for name in sorted(files):
                if name.endswith(".py"):
                    parts += [os.path.relpath(os.path.join(at, name), folder), Path(at, name).read_bytes()]
        parts.append("")
    return digest(*parts)


def of_sources(workspace: Path, out: Path) -> str:
    """One digest of the sources in a workspace; what else lies beside them, but for `out`, counts by its name alone."""
    beside = (path for path in workspace.iterdir() if path.resolve() != out.resolve())
    names = sorted(path.name for path in beside if not path.name.startswith("."))
    files = [path for path in (workspace / name for name in names) if path.suffix.lower() in (".yaml", ".yml")]
    bounds = os.path.realpath(workspace)
    shown = (os.fsencode(name).decode("utf-8", "replace") for name in names)
    parts: list[str | bytes] = [*shown, of_folders((workspace / name for name in _SOURCE_FOLDERS), workspace)]
    for path in files:
        parts += [os.fsencode(path.name), _contents(path) if _is_plain(path, bounds) else ""]
    return digest(*parts)


@cache
def of_program() -> str:
    """One digest of this program's code, its version and the libraries that lay out and print."""
    return digest(of_folders([_PACKAGE]), version(), platform.python_version(), *_versions(), *_text_engines())


@cache
def of_printing() -> str:
    """One digest of what turns a card's HTML into a PDF: this program's rooms for it and the libraries below them."""
    rooms = of_folders([_PACKAGE / "printing", _PACKAGE / "composing", _PACKAGE / "pages"])
    return digest(rooms, platform.python_version(), *_versions(), *_text_engines())


def version() -> str:
    """The version of this program, which its pages show."""
    try:
        return metadata.version("spannerleaf")
    except metadata.PackageNotFoundError:
        return ""


@cache
def of_system_fonts() -> str:
    """One digest of the faces that this system offers, which stand in where a theme's faces lack a letter.

    Names, sizes and times count, not the contents: a system may hold gigabytes of them.
    """
    return digest(*sorted(_system_faces()))


def _system_faces() -> Iterator[str]:
    for folder in _font_folders():
        for base, _, files in os.walk(folder):
            for name in files:
                try:
                    status = os.stat(os.path.join(base, name))
                except OSError:
                    continue
                shown = os.fsencode(os.path.join(base, name)).decode("utf-8", "replace")
                yield f"{shown} {status.st_size} {status.st_mtime_ns}"


def _font_folders() -> list[str]:
    """Where fontconfig looks for faces; where it can't be asked, where systems keep them."""
    library = _shared_library("libfontconfig.so.1", "libfontconfig.1.dylib", "libfontconfig-1.dll")
    if library is None:
        usual = ("/usr/share/fonts", "/usr/local/share/fonts", "~/.local/share/fonts", "~/.fonts", "/Library/Fonts")
        return [os.path.expanduser(folder) for folder in usual]
    library.FcInitLoadConfig.restype = ctypes.c_void_p
    library.FcConfigGetFontDirs.restype = ctypes.c_void_p
    library.FcConfigGetFontDirs.argtypes = [ctypes.c_void_p]
    library.FcStrListNext.restype = ctypes.c_char_p
    library.FcStrListNext.argtypes = [ctypes.c_void_p]
    library.FcStrListDone.argtypes = [ctypes.c_void_p]
    library.FcConfigDestroy.argtypes = [ctypes.c_void_p]
    settings = library.FcInitLoadConfig()
    if not settings:
        return []
    listed = library.FcConfigGetFontDirs(settings)
    found = []
    while (folder := library.FcStrListNext(listed)) is not None:
        found.append(os.fsdecode(folder))
    library.FcStrListDone(listed)
    library.FcConfigDestroy(settings)
    return found


def _versions() -> list[str]:
    from importlib import metadata  # it takes a while to get ready, and few need it

    found = []
    for name in _LIBRARIES:
        try:
            found.append(f"{name} {metadata.version(name)}")
        except metadata.PackageNotFoundError:
            found.append(f"{name} none")
    return found


def _text_engines() -> list[str]:
    """The versions of the system's libraries that choose faces, and shape and measure the text on a card."""
    return [f"pango {_pango_version()}", f"harfbuzz {_harfbuzz_version()}", f"fontconfig {_fontconfig_version()}"]


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


def _fontconfig_version() -> str:
    library = _shared_library("libfontconfig.so.1", "libfontconfig.1.dylib", "libfontconfig-1.dll")
    return "none" if library is None else str(library.FcGetVersion())


@cache
def has_pango() -> bool:
    """Whether the system has the library that PDF cards are set with."""
    return _pango_version() != "none"
