"""The program for browsers run under Node, without a browser: the same interpreter, the same files."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from functools import cache
from pathlib import Path

import pytest

from builder.build import rider_files
from builder.pages.theme import load_theme
from builder.rider.shelf import Shelf, packed, unpacked
from builder.sources.loaded import shipped_themes
from tests.demo import library

RUNTIME = Path(rider_files.__file__).parent.parent / "rider" / "runtime"
needs_runtime = pytest.mark.skipif(
    not rider_files.has_runtime(), reason="the interpreter for browsers is not there; .ci/rider-runtime fetches it"
)
needs_node = pytest.mark.skipif(shutil.which("node") is None, reason="no Node on this machine")
_SCRIPT = """
import fs from "node:fs";
const [runtime, work] = process.argv.slice(2);
const { loadPyodide } = await import(`${work}/loader.mjs`);
const made = (await import(`${work}/script.mjs`)).default;
const { lock } = JSON.parse(fs.readFileSync(`${runtime}/../runtime.json`, "utf8"));
const python = await loadPyodide({
  indexURL: `${runtime}/`, stdLibURL: `${runtime}/stdlib.zip`, createPyodideModule: made, lockFileContents: lock,
});
for (const name of ["program.zip", "library.bin"]) python.FS.writeFile(`/${name}`, fs.readFileSync(`${work}/${name}`));
fs.writeFileSync(`${work}/answer.json`, python.runPython(fs.readFileSync(`${work}/run.py`, "utf8")));
process.exit(0);
"""
_START = """
import sys
sys.path.insert(0, "/program.zip")
from builder.rider.shelf import unpacked
with open("/library.bin", "rb") as held:
    shelf = unpacked(held.read())
"""


@cache
def data() -> bytes:
    """The library as it goes to a browser."""
    return packed(Shelf(library=library(), theme=load_theme(shipped_themes() / "bench"), version="1"))


@cache
def shelf() -> Shelf:
    """The same, opened here."""
    return unpacked(data())


def in_node(work: Path, module: Path, calls: str) -> object:
    """What `calls`, an expression of the names in `module`, comes to there; it must be plain data."""
    for name, source in (("loader.mjs", "pyodide.js"), ("script.mjs", "pyodide.asm.js")):
        shutil.copy(RUNTIME / source, work / name)
    (work / "program.zip").write_bytes(rider_files.program())
    (work / "library.bin").write_bytes(data())
    text = module.read_text(encoding="utf-8").replace("from __future__ import annotations\n", "")
    run = f"from __future__ import annotations\n{_START}\n{text}\njson.dumps({calls})\n"
    (work / "run.py").write_text(run, encoding="utf-8")
    (work / "run.mjs").write_text(_SCRIPT, encoding="utf-8")
    done = subprocess.run(
        ["node", "run.mjs", str(RUNTIME), str(work)], cwd=work, capture_output=True, text=True, env={**os.environ}
    )
    assert done.returncode == 0, done.stderr[-3000:]
    return json.loads((work / "answer.json").read_text(encoding="utf-8"))
