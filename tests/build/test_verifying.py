"""`build --verify`: the same again under other conditions, and every byte compared."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from builder.build import verifying
from builder.build.verifying import verified
from tests.build.ordering import SHORT, order, what_was_proven
from tests.cli.calling import call


def test_a_build_is_the_same_in_another_folder_zone_locale_and_number_of_processes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The second build reads, lays out and prints anew; what was proven before is not proven again for it.
    of_elsewhere = verifying._environment

    def environment(folder: Path) -> dict[str, str]:
        return {**of_elsewhere(folder), "XDG_CACHE_HOME": str(what_was_proven(folder / "cache", and_read=False))}

    monkeypatch.setattr(verifying, "_environment", environment)
    arguments = ("build", "--bike", "coot", "--guide", SHORT, "--out", str(tmp_path / "out"), "--verify")
    result = call(*arguments)
    assert result.exit_code == 0, result.stderr
    assert result.stdout.splitlines()[-1].endswith(", the same bytes each")
    shutil.copytree(tmp_path / "out", tmp_path / "as-built")
    page = tmp_path / "out" / "site" / "index.html"
    page.write_bytes(page.read_bytes() + b"<!-- later -->")
    (tmp_path / "out" / "site" / "CNAME").write_text("mine")
    monkeypatch.setattr(verifying, "_command", lambda _, out: ["cp", "-r", str(tmp_path / "as-built"), str(out)])
    found = verified(order(tmp_path / "out", bikes=("coot",), guides=(SHORT,), processes=2))
    assert found.differing == ("site/index.html",)
    assert found.files > 10


def test_a_second_build_that_ends_badly_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(verifying, "_command", lambda order, out: ["sh", "-c", "echo 'the disk burns' >&2; exit 7"])
    assert verified(order(tmp_path)).failed == "the second build ends with status 7: the disk burns"
