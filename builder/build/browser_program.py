"""The program for the browser: the modules that the page of a rider reaches and the libraries below them, as a zip.

What is reached is found by following every import from the page's doors, so that nothing is listed by hand.
"""

from __future__ import annotations

import ast
import importlib.util
import io
import json
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from builder.build.dressing import shipped
from builder.pages.theme import load_theme
from builder.rider.shelf import generated
from builder.sources.loaded import shipped_theme_names

# The page's door, and what its worker asks for besides.
DOORS = ("builder.rider.messages", "builder.rider.ready_made", "builder.rider.held")
LIBRARIES = ("jinja2", "markdown", "markupsafe")
# What the templates of the shipped themes come to, so that they are compiled beforehand too; nothing reads it there.
TEMPLATES = "templates.json"
# What opens a bike's file is fetched only then, beside the program.
OPENING, OPENING_LIBRARIES = "builder.rider.opening", ("yaml",)
_PACKAGE = Path(__file__).parent.parent
_LONG_AGO = (1980, 1, 1, 0, 0, 0)


@cache
def program_files() -> Mapping[str, bytes]:
    """Every file of the program by its path in the zip."""
    own = {f"{name.replace('.', '/')}{ending}": path.read_bytes() for name, ending, path in _reached(DOORS)}
    others = {name: data for library in LIBRARIES for name, data in _library_files(library)}
    texts = sorted(
        {text for name in shipped_theme_names() for text in generated(load_theme(*shipped(name)).templates).values()}
    )
    return dict(sorted({**own, **others, TEMPLATES: json.dumps(texts).encode()}.items()))


@cache
def opening_files() -> Mapping[str, bytes]:
    """What opens a bike's file, beyond the program."""
    own = {f"{name.replace('.', '/')}{ending}": path.read_bytes() for name, ending, path in _reached((OPENING,))}
    others = {name: data for library in OPENING_LIBRARIES for name, data in _library_files(library)}
    return {name: data for name, data in sorted({**own, **others}.items()) if name not in program_files()}


def zipped(files: Mapping[str, bytes]) -> bytes:
    """The files as a zip that is the same each time."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in files.items():
            archive.writestr(zipfile.ZipInfo(name, _LONG_AGO), data, zipfile.ZIP_DEFLATED, 9)
    return held.getvalue()


def _reached(doors: tuple[str, ...]) -> Iterator[tuple[str, str, Path]]:
    """Each module that is reached: its dotted name, the ending of its file, and the file."""
    seen: set[str] = set()
    waiting = [*doors]
    while waiting:
        name = waiting.pop()
        if name in seen:
            continue
        seen.add(name)
        found = _file_of(name)
        if found is None:
            continue
        ending, path = found
        yield name, ending, path
        parts = name.split(".")
        waiting.extend(".".join(parts[:length]) for length in range(1, len(parts)))
        imported, looks_round = _read(path)
        waiting.extend(imported)
        if looks_round:
            waiting.extend(f"{name.rpartition('.')[0]}.{one.stem}" for one in path.parent.glob("*.py"))


@cache
def _read(path: Path) -> tuple[tuple[str, ...], bool]:
    """What a module imports, and whether it finds its neighbours by itself, so that no import names them."""
    run = [*_run(ast.parse(path.read_bytes()))]
    names = (one.name for node in run if isinstance(node, ast.Import) for one in node.names)
    return tuple(_imported(run)), "pkgutil" in names


def _file_of(name: str) -> tuple[str, Path] | None:
    base = _PACKAGE.joinpath(*name.split(".")[1:])
    for ending, path in (("/__init__.py", base / "__init__.py"), (".py", base.with_suffix(".py"))):
        if path.is_file():
            return ending, path
    return None


def _imported(run: Iterable[ast.AST]) -> Iterator[str]:
    """What a module imports of this program, and what may be modules among the names that it imports from one.

    What is imported for types alone is left out: nothing runs it.
    """
    for node in run:
        match node:
            case ast.Import(names=names):
                yield from (one.name for one in names if one.name.partition(".")[0] == "builder")
            case ast.ImportFrom(module=str(module), level=0, names=names) if module.partition(".")[0] == "builder":
                yield module
                yield from (f"{module}.{one.name}" for one in names)
            case _:
                pass


def _run(tree: ast.AST) -> Iterator[ast.AST]:
    """The statements that are run; no import stands within an expression."""
    for node in _below(tree):
        yield node
        yield from _run(node)


def _below(node: ast.AST) -> Iterator[ast.AST]:
    for_types = isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    for name in ("body", "handlers", "cases", "orelse", "finalbody"):
        found = getattr(node, name, ())
        if isinstance(found, list) and not (for_types and name == "body"):  # a lambda's body is no list
            yield from found


def _library_files(library: str) -> Iterator[tuple[str, bytes]]:
    found = importlib.util.find_spec(library)
    assert found is not None
    for place in found.submodule_search_locations or ():
        folder = Path(place)
        for path in sorted(folder.rglob("*.py")):
            if path.parent.name == "extensions" and path.stem != "__init__":
                continue  # none is in use
            yield f"{library}/{path.relative_to(folder).as_posix()}", path.read_bytes()
