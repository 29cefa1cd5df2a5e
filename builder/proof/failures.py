"""What can go wrong on a path, and the trace that shows the way there."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from builder.proof.configurations import Cases
from builder.proof.known import NOTHING, Known


class Flaw(StrEnum):
    """The ways in which a path can go wrong."""

    NEED = "need"
    LOOSENED_TWICE = "loosened-twice"
    OPEN = "left-open"
    NOT_READY = "not-ready"
    REPEATED = "repeated"
    RULE_NEED = "rule-need"
    RULE_LEAVES = "rule-leaves"
    RULE_ONLY = "rule-only"
    RULE_FIRST = "rule-first"
    RULE_THEN = "rule-then"


@dataclass(frozen=True, slots=True)
class Failure:
    """A flaw at a step (its index; -1 for the end of the guide).

    `name` is the state or the fastener, `rule` the rule of the trade that asks for it, '' where the step itself does.
    """

    flaw: Flaw
    step: int
    name: str
    wanted: str = ""
    found: str = ""
    rule: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """Where a group of configurations has come to.

    `cases` is all that was asked of them on the way, `taken` the steps that they did, by index.
    """

    states: Cases
    open: frozenset[str] = frozenset()
    cases: Known = NOTHING
    taken: tuple[int, ...] = ()
