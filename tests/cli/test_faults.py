"""What goes wrong outside the sources is told in one line: a disk, a folder, and a fault of the program itself."""

from __future__ import annotations

import re
import sys
import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from builder.cli import check, main
from tests.cli.calling import started


def called_while(monkeypatch: pytest.MonkeyPatch, error: BaseException) -> Result:
    def broken(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(check, "load_remembered", broken)
    return CliRunner().invoke(main, ["check"])


def test_a_fault_of_the_program_is_one_line_and_a_report(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    result = called_while(monkeypatch, KeyError("wheel\nbase"))
    assert result.exit_code == 3
    (line,) = result.stderr.splitlines()
    found = re.search(
        r"this is a fault of the program, not of your sources: KeyError: .*; a report .* stands in (.*)$", line
    )
    assert found is not None
    report = Path(found[1]).read_text(encoding="utf-8")
    assert "Traceback" in report
    assert "spannerleaf" in report
    assert f"Python {sys.version_info.major}." in report


def test_a_fault_is_told_where_no_report_can_be_written(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "nowhere"))
    result = called_while(monkeypatch, RuntimeError("x" * 5000))
    assert result.exit_code == 3
    (line,) = result.stderr.splitlines()
    assert len(line) < 400


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (OSError(28, "No space left on device", "output/x"), "spannerleaf: output/x: No space left on device"),
        (PermissionError(13, "Permission denied"), "spannerleaf: Permission denied"),
        (OSError("odd\nwords"), "spannerleaf: odd words"),
    ],
)
def test_what_the_system_refuses_is_one_line(error: OSError, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    result = called_while(monkeypatch, error)
    assert result.exit_code == 1
    assert result.stderr.splitlines() == [said]


def test_ctrl_c_anywhere_ends_with_a_word(monkeypatch: pytest.MonkeyPatch) -> None:
    result = called_while(monkeypatch, KeyboardInterrupt())
    assert result.exit_code == 130
    assert result.stderr.splitlines()[-1] == "spannerleaf: stopped"


def test_an_output_folder_on_a_file_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("a file")
    done = started("build", "--bike", "coot", "--out", str(tmp_path / "file" / "out"), cwd=tmp_path)
    assert done.returncode == 2
    (line,) = [one for one in done.stderr.splitlines() if one.startswith("spannerleaf:")]
    assert "can't be used for the output" in line


@pytest.mark.parametrize("out", ["/", "~", "shop", "shop/parts"])
def test_a_folder_that_is_no_place_for_output_is_misuse(
    out: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "shop" / "parts").mkdir(parents=True)
    monkeypatch.setenv("HOME", str(tmp_path))
    place = {"/": "/", "~": str(tmp_path)}.get(out, str(tmp_path / out))
    result = CliRunner().invoke(main, ["build", "--workspace", str(tmp_path / "shop"), "--out", place])
    assert result.exit_code == 2
    assert "name a folder of its own with --out" in result.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["shop"]
