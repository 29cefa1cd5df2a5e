"""`build`: what is said on the way, the last line, and where the output goes."""

from __future__ import annotations

import os
import pty
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from builder.cli.progress import _Bars, _Lines
from tests.build.ordering import what_was_proven
from tests.cli.calling import LEAD, ROOT, call


def test_the_last_line_says_what_was_built_and_where(tmp_path: Path) -> None:
    out = tmp_path / "public"
    result = call("build", "--bike", "coot", "--guide", LEAD, "--out", str(out))
    assert result.exit_code == 0, result.stderr
    pages = len(list((out / "site").rglob("*.html")))
    assert result.stdout == (
        f"Built {pages} pages and 1 card set (1 printed anew) for 0 bikes: {out}/site/index.html and {out}/cards\n"
    )
    assert "not for this bike: Coot: Fit a wider-range cassette:" in result.stderr
    assert "Printing the cards" in result.stderr
    again = call("build", "--bike", "coot", "--guide", LEAD, "--out", str(out))
    assert again.stdout == (
        f"Nothing has changed: {pages} pages and 1 card set stand in {out}/site/index.html and {out}/cards\n"
    )
    assert "not for this bike: Coot" in again.stderr


def test_without_a_workspace_the_current_folder_is_one_where_it_looks_like_one(
    tmp_path: Path,
) -> None:
    (tmp_path / "bikes").mkdir()
    (tmp_path / "bikes" / "ours.yaml").write_text("nmae: Ours\n", encoding="utf-8")
    setting = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, "-m", "builder", "build"], cwd=tmp_path, env=setting, capture_output=True)
    assert done.returncode == 1
    assert b"output is as it was" in done.stderr
    assert not (tmp_path / "output").exists()


def test_an_unknown_bike_is_misuse_with_the_nearest_name(tmp_path: Path) -> None:
    result = call("build", "--bike", "hern", "--out", str(tmp_path / "output"))
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == "spannerleaf: unknown bike 'hern'; did you mean 'heron'?"


def test_sheets_that_hold_no_card_and_corners_without_sheets_are_misuse(tmp_path: Path) -> None:
    for asked, told in (
        (("--round-corners",), "name their paper with --sheet"),
        (("--paper", "a4", "--sheet", "a5"), "A5 is too small for cards of A4"),
    ):
        result = call("build", *asked, "--out", str(tmp_path / "output"))
        assert result.exit_code == 2
        assert told in result.stderr


def test_a_site_that_no_build_made_is_not_replaced(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "mine.html").write_text("mine", encoding="utf-8")
    result = call("build", "--bike", "coot", "--out", str(tmp_path))
    assert result.exit_code == 2
    assert "was not built by spannerleaf and would be replaced" in result.stderr
    assert (tmp_path / "site" / "mine.html").read_text(encoding="utf-8") == "mine"


def test_on_a_terminal_a_bar_shows_how_far_it_is(tmp_path: Path) -> None:
    mine, theirs = pty.openpty()
    setting = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm"}
    command = [sys.executable, "-m", "builder", "build", "--bike", "hern"]
    done = subprocess.run(command, cwd=tmp_path, env=setting, stdout=subprocess.PIPE, stderr=theirs)
    os.close(theirs)
    shown = os.read(mine, 65536).decode()
    os.close(mine)
    assert done.returncode == 2
    assert "Reading the sources" in shown
    assert "1/1" in shown


def test_the_bar_starts_no_thread_since_processes_are_forked_while_it_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    started: list[threading.Thread] = []
    monkeypatch.setattr(threading.Thread, "start", started.append)
    bars = _Bars()
    bars.begin("Reading the sources", 2)
    bars.advance()
    bars.advance()
    bars.close()
    assert started == []


def test_ctrl_c_ends_a_build_in_one_line_and_writes_nothing(tmp_path: Path) -> None:
    # What was read and proven is known, and no block: printing then takes as long as it ever does.
    cache = what_was_proven(tmp_path / "cache", and_read=True)
    setting = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(cache)}
    command = [sys.executable, "-m", "builder", "build", "--bike", "kestrel", "--guide", LEAD, "--processes", "2"]
    # A terminal sends the signal to every process of the build; so does this.
    build = subprocess.Popen(
        command,
        cwd=tmp_path,
        env=setting,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        # Tests that run in the background of a shell hand down that it is ignored.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    assert build.stderr is not None
    while "Printing the cards" not in (line := build.stderr.readline()):
        assert line, "the build ended before it printed"
    os.killpg(build.pid, signal.SIGINT)
    _, told = build.communicate(timeout=300)
    assert build.returncode == 130, told
    assert told.strip() == "spannerleaf: stopped"
    assert not (tmp_path / "output" / "site").exists()
    assert not (tmp_path / "output" / "cards").exists()


def test_a_guide_for_a_bike_that_plans_nothing_is_built_and_its_generic_card_is_not_with_every(tmp_path: Path) -> None:
    out = tmp_path / "public"
    wishes = ("build", "--bike", "coot", "--guide", "chain-wear-check", "--every", "--out", str(out))
    result = call(*wishes)
    assert result.exit_code == 0, result.stderr
    assert [path.relative_to(out).as_posix() for path in sorted((out / "cards").rglob("*.pdf"))] == [
        "cards/coot/chain-wear-check-a5.pdf"
    ]
    assert "for 1 bike:" in result.stdout


def test_a_long_stretch_of_work_tells_how_far_it_is(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("builder.cli.progress._BETWEEN_COUNTS_S", 0.0)
    lines = _Lines()
    lines.begin("Printing the cards", 3)
    for _ in range(3):
        lines.advance()
    assert capsys.readouterr().err.splitlines() == ["Printing the cards (3)", "  1 of 3", "  2 of 3"]
