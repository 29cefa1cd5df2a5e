"""A fault of the program itself: told in one line, with all that helps to mend it in a file."""

from __future__ import annotations

import os
import platform
import sys
import tempfile
import traceback
from pathlib import Path

import click

from builder.build.fingerprint import version

_WORDS = "this is a fault of the program, not of your sources"


def told_fault(error: BaseException) -> str:
    """One line that says what happened, and where the report is that was written of it."""
    said = " ".join(f"{type(error).__name__}: {error}".split())
    said = said if len(said) <= 200 else f"{said[:199]}…"
    report = _written(error)
    return f"{_WORDS}: {said}" + (f"; a report for those who look after it stands in {report}" if report else "")


def told_os_error(error: OSError) -> str:
    """One line that says what the system refuses, and of which file."""
    reason = error.strerror or str(error) or type(error).__name__
    name = error.filename if isinstance(error.filename, str | bytes) else ""
    shown = os.fsencode(name).decode("utf-8", "replace") if name else ""
    return " ".join(f"{shown}: {reason}".split()) if shown else " ".join(reason.split())


def tell(words: str) -> None:
    """Say a line on stderr, where there still is one."""
    try:
        click.echo(f"spannerleaf: {words}", err=True)
    except OSError:
        return


def _written(error: BaseException) -> Path | None:
    lines = (
        f"spannerleaf {version()}, Python {platform.python_version()}, {platform.platform()}",
        f"called: {' '.join(sys.argv)}",
        f"in: {_here()}",
        "",
        "".join(traceback.format_exception(error)),
    )
    try:
        number, name = tempfile.mkstemp(prefix="spannerleaf-fault-", suffix=".txt")
        with open(number, "w", encoding="utf-8", errors="replace") as file:
            file.write("\n".join(lines))
    except OSError:
        return None
    return Path(name)


def _here() -> str:
    try:
        return str(Path.cwd())
    except OSError:
        return "a folder that is no longer there"
