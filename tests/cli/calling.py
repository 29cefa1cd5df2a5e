"""Call the commands as a person does."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from click.testing import CliRunner, Result

from builder.cli import main

ROOT = Path(__file__).parent.parent.parent
LEAD = "wider-range-cassette"


def call(*arguments: str, answers: str | None = None) -> Result:
    """A command within this process; anything but an exit status is a failure."""
    result = CliRunner().invoke(main, list(arguments), input=answers)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code != 3, f"a fault of the program: {result.stderr}"
    return result


def started(*arguments: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    """A command in a process of its own."""
    setting = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "builder", *arguments]
    return subprocess.run(command, cwd=cwd, env=setting, capture_output=True, text=True, timeout=300)


def refusal(result: Result) -> str:
    """The one line that a misused command ends with."""
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    (line,) = result.stderr.splitlines()
    return line
