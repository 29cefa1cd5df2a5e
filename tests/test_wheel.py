"""The wheel carries the guide library and the themes, so that an installed command works from an empty folder."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.cli.calling import LEAD, ROOT


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel's contents in a folder of their own, as an installation lays them out."""
    made = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(made)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = made.glob("spannerleaf-*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(made / "unpacked")
    return made / "unpacked"


def run(unpacked: Path, *arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    setting = {**os.environ, "PYTHONPATH": str(unpacked)}
    return subprocess.run([sys.executable, *arguments], cwd=cwd, env=setting, capture_output=True, text=True)


def test_it_holds_the_library_the_themes_and_the_command(unpacked: Path) -> None:
    assert (unpacked / "builder" / "_library" / "guides" / f"{LEAD}.yaml").is_file()
    assert (unpacked / "builder" / "_library" / "themes" / "bench" / "tokens.css").is_file()
    (names,) = unpacked.glob("spannerleaf-*.dist-info/entry_points.txt")
    assert "spannerleaf = builder.cli:main" in names.read_text(encoding="utf-8")
    shipped = {path.relative_to(ROOT).as_posix() for path in (ROOT / "guides").rglob("*.yaml")}
    inside = {path.relative_to(unpacked / "builder/_library").as_posix() for path in unpacked.rglob("guides/**/*.yaml")}
    assert inside == shipped


def test_it_builds_from_an_empty_folder(unpacked: Path, tmp_path: Path) -> None:
    where = run(unpacked, "-c", "import builder; print(builder.__file__)", cwd=tmp_path).stdout
    assert where.startswith(str(unpacked))
    done = run(unpacked, "-m", "builder", "build", "--guide", LEAD, "--bike", "kestrel", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "output" / "site" / "index.html").is_file()
    assert (tmp_path / "output" / "cards" / "kestrel" / f"{LEAD}-a5.pdf").read_bytes().startswith(b"%PDF-")
    checked = run(unpacked, "-m", "builder", "check", cwd=tmp_path)
    assert checked.returncode == 0, checked.stdout
