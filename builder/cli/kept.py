"""Registers that commands write into a workspace: read as sources are, written so that a comparison shows each line."""

from __future__ import annotations

import datetime
import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from builder.cli.common import misused
from builder.diagnostics.diagnostic import Gravity
from builder.diagnostics.rendering import as_line
from builder.sources.nodes import data_of
from builder.sources.text import decode
from builder.sources.workspace import bytes_of
from builder.sources.yaml_tree import read_tree


def kept_records(path: Path) -> dict[str, Any]:
    """What the file holds: no alias unfolds, and nothing is written over that can't be read."""
    if not path.exists():
        return {}
    try:
        source = decode(str(path), bytes_of(path))
    except OSError as error:
        misused(f"{path} can not be read: {error.strerror or error}")
    tree = read_tree(source)
    if any(found.gravity is Gravity.ERROR and found.rule != "empty-file" for found in tree.diagnostics):
        misused(f"{path} can not be read: {as_line(tree.diagnostics[0])}")
    records = {} if tree.root is None else data_of(tree.root)
    if not isinstance(records, dict):
        misused(f"{path} does not hold records; 'spannerleaf check' says what is wrong with it")
    return dict(records)


def keep(path: Path, text: str) -> None:
    """Write the file in one go."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_suffix(".new")
    beside.write_text(text, encoding="utf-8")
    beside.replace(path)


def scalar(value: object) -> str:
    """A text in double quotes, which YAML reads as JSON does."""
    return json.dumps(str(value), ensure_ascii=False)


def day(date: str | None) -> str:
    """The day that was named, or today."""
    if date is None:
        return datetime.date.today().isoformat()
    try:
        return datetime.date.fromisoformat(date).isoformat()
    except ValueError:
        misused(f"'{date}' is no day; write it as in 2026-11-25")


def listed(records: Iterable[Mapping[str, Any]], line_of: Callable[[Any], str]) -> Iterator[str]:
    """Records of a list as lines of YAML, with a line for each of their steps."""
    for record in records:
        mark = "-"
        for key, value in record.items():
            if key == "steps":
                yield f"    {mark} steps:"
                yield from (f"        - {line_of(step)}" for step in value)
            else:
                yield f"    {mark} {key}: {written(value)}"
            mark = " "


def written(value: object) -> str:
    """A value in one line: one, or several in brackets."""
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(scalar(one) for one in value) + "]"
    return scalar(value)
