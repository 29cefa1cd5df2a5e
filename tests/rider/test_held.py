"""Modules held in memory are found, run and listed as those of files are."""

from __future__ import annotations

import importlib
import importlib.util
import io
import marshal
import pkgutil
import sys
import zipfile
import zipimport
from collections.abc import Iterator
from pathlib import Path

import pytest

from builder.checks.check import Check
from builder.checks.registry import CHECKS
from builder.rider.held import held_in, held_in_zip
from tests.rider.node import shelf

ROOT = "/workshop"
_HEADER = importlib.util.MAGIC_NUMBER + bytes(12)
FILES = {
    "stand_of_tests/__init__.py": b"HEIGHT_MM = 900",
    "stand_of_tests/clamp.pyc": _HEADER + marshal.dumps(compile("from . import HEIGHT_MM as JAW", "clamp", "exec")),
    "stand_of_tests/arm/__init__.py": b"",
    "stand_of_tests/arm/joint.py": b"raise ValueError('rusty')",
    "stand_of_tests/notes.txt": b"not a module",
}


@pytest.fixture
def program(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    finder, folders = held_in(ROOT, FILES)
    monkeypatch.setattr(sys, "meta_path", [finder, *sys.meta_path])
    monkeypatch.setattr(sys, "path_hooks", [folders, *sys.path_hooks])
    yield
    for name in [one for one in sys.modules if one.startswith("stand_of_tests")]:
        del sys.modules[name]


@pytest.mark.usefixtures("program")
def test_a_module_is_run_from_its_source_or_its_byte_code() -> None:
    clamp = importlib.import_module("stand_of_tests.clamp")
    assert clamp.JAW == 900
    assert clamp.__spec__ is not None
    assert clamp.__spec__.origin == f"{ROOT}/stand_of_tests/clamp.pyc"
    with pytest.raises(ValueError, match="rusty"):
        importlib.import_module("stand_of_tests.arm.joint")
    with pytest.raises(ModuleNotFoundError):
        importlib.import_module("stand_of_tests.vice")


@pytest.mark.usefixtures("program")
def test_who_looks_round_in_a_package_sees_its_modules_alone() -> None:
    package = importlib.import_module("stand_of_tests")
    assert [one.name for one in pkgutil.iter_modules(package.__path__)] == ["clamp"]


def test_a_zip_whose_files_lie_as_they_are_is_read_by_what_was_found_in_it(tmp_path: Path) -> None:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_STORED) as archive:
        for name, data in FILES.items():
            archive.writestr(name, data)
    path = tmp_path / "stand.zip"
    path.write_bytes(held.getvalue())
    zipimport.zipimporter(str(path))
    entries = zipimport._zip_directory_cache[str(path)]  # type: ignore[attr-defined]
    finder = held_in_zip(str(path), held.getvalue(), entries)
    spec = finder.find_spec("stand_of_tests")
    assert spec is not None
    assert bytes(spec.loader_state) == FILES["stand_of_tests/__init__.py"]
    assert finder.find_spec("stand_of_tests.vice") is None


def test_what_checks_ask_for_goes_along_as_their_annotations_say_it() -> None:
    shelf()
    read = vars(Check)["inputs"].func
    assert {name: read(check) for name, check in CHECKS.items()} == {
        name: vars(check)["inputs"] for name, check in CHECKS.items()
    }


def test_a_record_keeps_the_file_where_it_stood() -> None:
    at = {one.places.at for one in shelf().library.bikes.values()}
    assert {(one.line, one.column) for one in at} == {(0, 0)}
    assert len({one.file for one in at}) == len(shelf().library.bikes)
