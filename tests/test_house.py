"""The rooms keep to their doors: who imports whom, what the pure core may use, who may print, exit and touch files."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "builder"

# The path of the data, and the rooms that each room may look into.
DOORS: dict[str, frozenset[str]] = {
    room: frozenset(others.split())
    for room, others in {
        "model": "",
        "diagnostics": "model",
        "composing": "",
        "checks": "model",
        "sources": "model diagnostics",
        "drawings": "model checks",
        "planning": "model diagnostics checks",
        "tailoring": "model diagnostics checks planning drawings",
        "proof": "model diagnostics checks planning tailoring drawings",
        "pages": "model diagnostics composing checks planning tailoring proof drawings",
        "printing": "model diagnostics composing pages",
        "rider": "model diagnostics composing checks sources planning tailoring proof drawings pages",
        "build": "model diagnostics composing checks sources planning tailoring proof drawings pages printing rider",
        "cli": "model diagnostics checks sources planning tailoring proof drawings pages printing rider build",
    }.items()
}
PURE_CORE = (
    "model",
    "composing",
    "checks",
    "planning",
    "tailoring",
    "proof",
    "pages",
    "drawings",
    "diagnostics",
    "rider",
)
PURE_LIBRARIES = frozenset({"jinja2", "markupsafe", "markdown"})
# Standard modules that reach outside the process; a rider's browser has none of it.
OUTSIDE = frozenset({"asyncio", "ctypes", "http", "multiprocessing", "socket", "subprocess", "threading", "urllib"})
# A theme is a folder; everything below it in the pure core works on what was read from there.
MAY_READ_FILES = frozenset({"builder/pages/theme.py"})
FILE_CALLS = frozenset({"open", "read_text", "read_bytes", "write_text", "write_bytes", "mkdir", "unlink", "iterdir"})


def modules() -> list[Path]:
    return sorted(path for path in PACKAGE.rglob("*.py") if "_library" not in path.parts)


def room_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).parts
    return parts[0] if len(parts) > 1 else ""


def imports(tree: ast.AST, package: str = "") -> Iterator[tuple[str, int]]:
    """Every module that is imported anywhere in `tree`, within functions and type-checking blocks too."""
    for node in ast.walk(tree):
        match node:
            case ast.Import(names=names):
                yield from ((alias.name, node.lineno) for alias in names)
            case ast.ImportFrom(module=module, level=0, names=names) if module == "builder":
                yield from ((f"builder.{alias.name}", node.lineno) for alias in names)
            case ast.ImportFrom(module=module, level=0) if module:
                yield module, node.lineno
            case ast.ImportFrom(module=module, level=level, names=names):
                base = package.split(".")[: len(package.split(".")) - level + 1]
                for name in [module] if module else [alias.name for alias in names]:
                    yield ".".join([*base, name]), node.lineno
            case ast.Call(func=ast.Name(id="__import__") | ast.Attribute(attr="import_module")):
                yield "<imported by name>", node.lineno


def speaks(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """Every place in `tree` that prints or ends the program."""
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id="print" | "exit" | "quit" | "input" as name)):
                yield name, node.lineno
            case ast.Attribute(value=ast.Name(id="sys"), attr="exit" | "stdout" | "stderr" as name):
                yield f"sys.{name}", node.lineno
            case ast.Attribute(value=ast.Name(id="os"), attr="_exit" | "abort" as name):
                yield f"os.{name}", node.lineno
            case ast.Name(id="SystemExit"):
                yield "SystemExit", node.lineno


def touches_files(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """Every call in `tree` that reads or writes a file."""
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name)) if name in FILE_CALLS:
                yield name, node.lineno


def package_of(path: Path) -> str:
    return ".".join(["builder", *path.relative_to(PACKAGE).parts[:-1]])


def each(path: Path) -> list[tuple[str, int]]:
    return list(imports(ast.parse(path.read_text(encoding="utf-8")), package_of(path)))


def named(path: Path) -> str:
    return str(path.relative_to(PACKAGE.parent))


@pytest.mark.parametrize("path", modules(), ids=named)
def test_a_room_looks_only_into_rooms_before_it(path: Path) -> None:
    room = room_of(path)
    if room == "":  # builder/__init__.py and __main__.py open the door of the house and nothing else
        assert {name.split(".")[1] for name, _ in each(path) if name.startswith("builder.")} <= {"cli"}
        return
    wrong = [
        f"{named(path)}:{line} imports {name}"
        for name, line in each(path)
        if name.split(".")[0] == "builder" and name.split(".")[1:2] and name.split(".")[1] not in DOORS[room] | {room}
    ]
    assert not wrong


@pytest.mark.parametrize("path", [p for p in modules() if room_of(p) in PURE_CORE], ids=named)
def test_the_pure_core_needs_nothing_that_a_browser_lacks(path: Path) -> None:
    known = (sys.stdlib_module_names - OUTSIDE) | PURE_LIBRARIES | {"builder"}
    wrong = [f"{named(path)}:{line} imports {name}" for name, line in each(path) if name.split(".")[0] not in known]
    assert not wrong


@pytest.mark.parametrize("path", [p for p in modules() if room_of(p) not in ("cli", "")], ids=named)
def test_only_the_command_line_prints_or_exits(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert not [f"{named(path)}:{line} uses {name}" for name, line in speaks(tree)]
    assert not [f"{named(path)}:{line} imports {name}" for name, line in each(path) if name.split(".")[0] == "click"]


@pytest.mark.parametrize("path", [p for p in modules() if room_of(p) in PURE_CORE], ids=named)
def test_the_pure_core_touches_no_file(path: Path) -> None:
    if named(path) in MAY_READ_FILES:
        pytest.skip("it reads a theme's folder")
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert not [f"{named(path)}:{line} calls {name}" for name, line in touches_files(tree)]


def test_every_room_has_its_doors_written_down() -> None:
    rooms = {path.name for path in PACKAGE.iterdir() if path.is_dir() and list(path.glob("*.py"))}
    assert rooms <= set(DOORS)


def test_no_two_rooms_look_into_each_other() -> None:
    assert not [(room, other) for room in DOORS for other in DOORS[room] if room in DOORS[other]]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("import weasyprint", ["weasyprint"]),
        ("def late():\n    from weasyprint import HTML", ["weasyprint"]),
        ("if TYPE_CHECKING:\n    import click.testing", ["click.testing"]),
        ("from builder import cli", ["builder.cli"]),
        ("from ..cli import main", ["builder.cli"]),
        ("from . import chain", ["builder.checks.chain"]),
        ("importlib.import_module('weasyprint')", ["<imported by name>"]),
    ],
)
def test_the_walk_sees_every_way_to_import(text: str, found: list[str]) -> None:
    assert [name for name, _ in imports(ast.parse(text), "builder.checks")] == found


@pytest.mark.parametrize(
    "text", ["print(1)", "sys.exit(1)", "raise SystemExit", "sys.stderr.write('x')", "os._exit(1)"]
)
def test_the_walk_sees_every_way_to_print_or_exit(text: str) -> None:
    assert list(speaks(ast.parse(text)))


@pytest.mark.parametrize("text", ["open('x')", "Path('x').read_text()", "path.write_bytes(b'')"])
def test_the_walk_sees_files_touched(text: str) -> None:
    assert list(touches_files(ast.parse(text)))
