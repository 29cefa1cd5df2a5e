"""The wheel carries the guide library and the themes, so that an installed command works from an empty folder."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.build.ordering import FITS, SHORT
from tests.cli.calling import LEAD, ROOT

LIBRARY = Path("builder", "_library")


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
    inside = {path.relative_to(unpacked / LIBRARY).as_posix() for path in unpacked.rglob("guides/**/*.yaml")}
    assert inside == shipped
    differing = (path for path in shipped if (unpacked / LIBRARY / path).read_bytes() != (ROOT / path).read_bytes())
    assert list(differing) == []


@pytest.fixture
def installed(unpacked: Path, tmp_path: Path) -> Path:
    """The same with the guides of one bike, since a library that stands elsewhere is proven anew."""
    shutil.copytree(unpacked, tmp_path / "installed")
    guides = tmp_path / "installed" / LIBRARY / "guides"
    bike = guides / "bikes" / f"{FITS}.yaml"
    jobs = set(re.findall(r"guide: ([\w-]+)", bike.read_text(encoding="utf-8")))
    for path in (*guides.glob("*.yaml"), *guides.glob("bikes/*.yaml")):
        if path != bike and path.stem not in (*jobs, "workshop"):
            path.unlink()
    return tmp_path / "installed"


def test_it_builds_from_an_empty_folder(installed: Path, tmp_path: Path) -> None:
    here = tmp_path / "empty"
    here.mkdir()
    where = run(installed, "-c", "import builder; print(builder.__file__)", cwd=here).stdout
    assert where.startswith(str(installed))
    done = run(installed, "-m", "builder", "build", "--guide", SHORT, "--bike", FITS, cwd=here)
    assert done.returncode == 0, done.stderr
    assert (here / "output" / "site" / "index.html").is_file()
    assert (here / "output" / "cards" / FITS / f"{SHORT}-a5.pdf").read_bytes().startswith(b"%PDF-")
    checked = run(installed, "-m", "builder", "check", cwd=here)
    assert checked.returncode == 0, checked.stdout
