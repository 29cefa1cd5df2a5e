"""What goes to the browser: the runtime as its list says, a program that needs nothing more, data that is whole."""

from __future__ import annotations

import ast
import gzip
import hashlib
import json
import os
import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from builder.build import browser_program, rider_files
from builder.build.making import _has_rider_page
from builder.build.order import Order
from builder.build.website import website
from builder.checks.registry import CHECKS
from builder.model.catalogue import Workshop
from builder.model.library import Library
from builder.pages.site import Printouts
from builder.pages.theme import load_theme
from builder.proof.jobs import Job, work_out
from builder.rider import shelf as shelves
from builder.rider.shelf import Mismatch, unpacked
from builder.sources.loaded import shipped_themes
from tests.demo import library
from tests.rider.node import RUNTIME, data, needs_runtime, shelf
from tests.test_house import OUTSIDE, PURE_LIBRARIES, imports

ROOT = RUNTIME.parent


@cache
def own() -> dict[str, str]:
    """The modules of ours that go to a browser."""
    return {name: text for name, text in browser_program.program_files().items() if name.startswith("builder/")}


@needs_runtime
def test_the_runtime_is_the_one_of_the_list_byte_by_byte() -> None:
    files = rider_files.runtime_list()["files"]
    assert set(files) == {"pyodide.js", "pyodide.asm.js", "pyodide.asm.wasm", "stdlib.zip"}
    for name, told in files.items():
        held = (RUNTIME / name).read_bytes()
        assert (hashlib.sha256(held).hexdigest(), len(held)) == (told["sha256"], told["bytes"]), name


def test_the_list_names_version_licence_and_the_package_that_was_fetched() -> None:
    told = rider_files.runtime_list()
    assert told["licence"] == "MPL-2.0"
    assert len(told["archive"]) == 64
    text = (ROOT / "web" / "licences.txt").read_text(encoding="utf-8")
    assert f"Pyodide {told['version']}" in text
    assert "Mozilla Public License Version 2.0" in text
    assert "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2" in text


def test_without_the_runtime_no_page_is_promised(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rider_files, "_RUNTIME", tmp_path)
    assert not rider_files.has_runtime()
    for name in rider_files.runtime_list()["files"]:
        (tmp_path / name).write_bytes(b"something else")
    assert not rider_files.has_runtime()


def test_all_that_is_reached_needs_nothing_that_a_browser_lacks() -> None:
    known = (sys.stdlib_module_names - OUTSIDE) | PURE_LIBRARIES | {"builder", "<imported by name>"}
    needed = (
        (name, one)
        for name, text in own().items()
        for one, _ in imports(ast.parse(text), ".".join(name.split("/")[:-1]))
    )
    assert [(name, one) for name, one in needed if one.split(".")[0] not in known] == []


def test_every_check_goes_along_though_no_import_names_it() -> None:
    modules = {check.function.__module__.replace(".", "/") + ".py" for check in CHECKS.values()}
    assert modules <= own().keys()
    assert not [name for name in own() if name.split("/")[1] in ("cli", "build", "printing")]


def test_data_of_another_program_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    held = data()
    monkeypatch.setattr(shelves, "CHECKS", dict(list(CHECKS.items())[1:]))
    with pytest.raises(Mismatch):
        unpacked(held)


def test_the_data_is_the_library_and_the_same_whatever_the_order_of_sets() -> None:
    assert shelf().library == library()
    script = "import hashlib; from tests.rider.node import data; print(hashlib.sha256(data()).hexdigest())"
    setting = {**os.environ, "PYTHONHASHSEED": "4711"}
    done = subprocess.run([sys.executable, "-c", script], env=setting, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == hashlib.sha256(data()).hexdigest()


@pytest.mark.parametrize(
    ("order", "wanted"),
    [(Order(), True), (Order(guides=("chain-wear-check",)), False), (Order(bikes=("heron",)), False)],
)
def test_a_workspace_may_leave_the_page_out(order: Order, wanted: bool) -> None:
    assert _has_rider_page(order, Library()) is wanted
    assert not _has_rider_page(order, Library(workshop=Workshop(name="Ours", rider_page=False)))


@needs_runtime
def test_the_list_of_the_page_tells_length_and_digest_of_what_is_fetched() -> None:
    from tests.rider.in_a_browser import site_files

    files = site_files()
    for told in json.loads(files["rider/files.json"])["files"].values():
        held = files[f"rider/{told['path']}"]
        assert (len(held), hashlib.sha256(held).hexdigest()) == (told["bytes"], told["sha256"])
    fetched = sum(
        len(files[f"rider/{one}"])
        for one in ("runtime/pyodide.wasm.bin", "runtime/stdlib.bin", "program.bin", "library.bin")
    )
    # The two scripts of the interpreter, which a host packs on the way, and the page's own.
    scripts = sum(
        len(gzip.compress(data, 6))
        for name, data in files.items()
        if name.startswith("rider/") and name.endswith(".js")
    )
    assert fetched + scripts < 6_500_000


@needs_runtime
def test_a_site_links_to_the_page_where_it_has_one_and_else_says_nothing_of_it() -> None:
    theme = load_theme(shipped_themes() / "bench")
    small = replace(library(), bikes={})
    outcomes = [work_out(Job(guide=library().guides["front-wheel-out-and-in"]), small)]
    for rider in (True, False):
        files = dict(website(small, outcomes, (), Printouts(), theme, rider=rider))
        assert ("rider/index.html" in files) is rider
        guide = files["guides/front-wheel-out-and-in.html"].decode()
        assert ('href="../rider/index.html#for=front-wheel-out-and-in"' in guide) is rider
        assert ("data-reckon" in files["checks/chain-length.html"].decode()) is rider
