"""Broken workspaces with what is said of them: a text file each, the sources above and the diagnostics below.

    >>> bikes/coot.yaml
    name: Coot
    === diagnostics
    ours/bikes/coot.yaml:1:1: error: ...

The small library of `small/` lies below each workspace. Set WRITE_EXPECTED=1 to write what is said now into the files,
and then read every line of the difference: the files are what a reader will see.
"""

from __future__ import annotations

import os
import shutil
from dataclasses import dataclass
from pathlib import Path

from builder.diagnostics.diagnostic import ordered
from builder.diagnostics.rendering import as_text
from builder.proof.gate import gate
from builder.sources.workspace import Loaded, load

HERE = Path(__file__).parent
SMALL = HERE / "small"
_FILE, _EXPECTED = ">>> ", "=== diagnostics"


@dataclass(frozen=True, slots=True)
class Case:
    path: Path
    sources: dict[str, str]
    expected: str

    @property
    def name(self) -> str:
        return self.path.stem


def cases() -> list[Case]:
    return [_read(path) for path in sorted((HERE / "broken").glob("*.txt"))]


def _read(path: Path) -> Case:
    sources: dict[str, str] = {}
    above, _, expected = path.read_text(encoding="utf-8").partition(f"{_EXPECTED}\n")
    name = ""
    for line in above.splitlines(keepends=True):
        if line.startswith(_FILE):
            name = line.removeprefix(_FILE).strip()
            sources[name] = ""
        elif name:
            sources[name] += line
    return Case(path, sources, expected)


def read_in(folder: Path, sources: dict[str, str | bytes]) -> Loaded:
    """The sources read as the workspace `ours`, over a copy of the small library, both in the current `folder`."""
    shutil.copytree(SMALL, folder / "shipped")
    (folder / "ours").mkdir()
    for name, text in sources.items():
        path = folder / "ours" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return load(Path("ours"), Path("shipped"))


def said(loaded: Loaded) -> str:
    """All that is said of the workspace, as it is printed; the proof and the writing rules have tests of their own."""
    found = ordered((*loaded.diagnostics, *gate(loaded.library, sound=False)))
    return "".join(f"{as_text(diagnostic, loaded.texts)}\n" for diagnostic in found)


def write_expected(case: Case, text: str) -> bool:
    """Write what is said into the case's file, where that is asked for."""
    if not os.environ.get("WRITE_EXPECTED"):
        return False
    above = "".join(f"{_FILE}{name}\n{source}" for name, source in case.sources.items())
    case.path.write_text(f"{above}{_EXPECTED}\n{text}", encoding="utf-8")
    return True
