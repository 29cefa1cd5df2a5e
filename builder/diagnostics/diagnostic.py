"""A diagnostic: what is wrong at which place of which source, and how to mend it. Data only; see `rendering`."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from builder.diagnostics.nearness import nearest as nearest
from builder.model.position import NOWHERE, Position


class Gravity(StrEnum):
    """How grave a diagnostic is; an error makes the exit status 1."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnostic:
    """One finding.

    `rule` is its short id, such as `unknown-name`; `message` stands alone in one line; `label` is what is said under
    the quoted source line; `hints` say how to mend it; `related` are other places with a word on each.
    """

    rule: str
    message: str
    at: Position = NOWHERE
    gravity: Gravity = Gravity.ERROR
    label: str = ""
    hints: tuple[str, ...] = ()
    related: tuple[tuple[Position, str], ...] = ()


def ordered(diagnostics: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """Diagnostics by file, line and column, without repeats."""
    return tuple(sorted(dict.fromkeys(diagnostics), key=lambda d: (d.at.file, d.at.line, d.at.column, d.rule)))
