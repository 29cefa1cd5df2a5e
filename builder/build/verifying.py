"""Build the same again under other conditions, and compare byte by byte: what the output must not depend on."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from builder.build.exchange import OWNED, made_before
from builder.build.order import Order

# Another zone, locale and order of sets; the folder, the processes and the empty store are others as well.
_OTHER = {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Kiritimati", "LC_ALL": "C", "LANG": "C", "PYTHONUTF8": "1"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Verified:
    """How many files were compared, and which differ or stand on one side alone; `failed` is why there is no answer."""

    files: int = 0
    differing: tuple[str, ...] = ()
    failed: str = ""


def verified(order: Order) -> Verified:
    """Build what stands in `order.out` once more, in a process and a folder of its own, and compare the two.

    Files in the output that no build made are left out.
    """
    with tempfile.TemporaryDirectory(prefix="spannerleaf-verify-") as folder:
        out = Path(folder) / "a-folder-of-another-name" / "output"
        out.parent.mkdir()
        done = subprocess.run(
            _command(order, out), cwd=out.parent, env=_environment(Path(folder)), capture_output=True, text=True
        )
        if done.returncode != 0:
            last = (done.stderr.strip().splitlines() or ["no reason is told"])[-1]
            return Verified(failed=f"the second build ends with status {done.returncode}: {last}")
        one, other = _files(order.out), _files(out)
        own = made_before(order.out)
        here = {path for path in one if own is None or path in own}
        differing = (here ^ other.keys()) | {path for path in here & other.keys() if one[path] != other[path]}
        return Verified(files=len(here | other.keys()), differing=tuple(sorted(differing)))


def _command(order: Order, out: Path) -> list[str]:
    command = [sys.executable, "-m", "builder", "build", "--out", str(out)]
    if order.workspace is not None:
        command += ["--workspace", str(order.workspace.resolve())]
    asked = (
        ("--guide", order.guides),
        ("--bike", order.bikes),
        ("--paper", order.papers),
        ("--form", order.forms),
        ("--holes", (order.holes,) if order.holes else ()),
        ("--sheet", (order.sheet,) if order.sheet else ()),
    )
    for option, values in asked:
        for value in values:
            command += [option, str(value)]
    switches = (("--every", order.every), ("--single-sided", order.one_sided), ("--round-corners", order.rounded))
    command += [switch for switch, on in switches if on]
    return [*command, "--processes", "1" if order.processes > 1 else "2"]


def _environment(folder: Path) -> dict[str, str]:
    package = Path(__file__).parent.parent.parent
    paths = os.pathsep.join(filter(None, (str(package), os.environ.get("PYTHONPATH", ""))))
    return {**os.environ, **_OTHER, "PYTHONPATH": paths, "XDG_CACHE_HOME": str(folder / "cache")}


def _files(out: Path) -> dict[str, bytes]:
    found = (path for name in OWNED for path in sorted((out / name).rglob("*")) if path.is_file())
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in found}
