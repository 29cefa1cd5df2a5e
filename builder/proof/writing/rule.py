"""What a rule of writing is: a module with an id, a source, a limit and one `check` that yields findings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Protocol, TypeVar

from builder.diagnostics.diagnostic import Gravity
from builder.model.position import Position
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind

Subject_contra = TypeVar("Subject_contra", contravariant=True)


class Known(StrEnum):
    """How far the source of a rule is known."""

    LOOKED_UP = "looked-up"
    RESTATED = "restated"
    FROM_MEMORY = "from-memory"
    DERIVED = "derived"
    OWN = "own"


_WORDS_FOR: dict[Known, str] = {
    Known.LOOKED_UP: "",
    Known.RESTATED: " (read as restated by others)",
    Known.FROM_MEMORY: " (from memory)",
    Known.DERIVED: " (worked out)",
    Known.OWN: "",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSource:
    """The published text that a house rule is made after, or none."""

    title: str = ""
    locator: str = ""
    known: Known = Known.OWN

    def __str__(self) -> str:
        if not self.title:
            return "house rule"
        place = f", {self.locator}" if self.locator else ""
        return f"house rule after {self.title}{place}{_WORDS_FOR[self.known]}"


def ste(locator: str) -> RuleSource:
    """A rule after ASD-STE100, which was read as restated by others only."""
    title = "ASD-STE100 Simplified Technical English, Issues 8 and 9"
    return RuleSource(title=title, locator=locator, known=Known.RESTATED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What a rule found: in words, and how to mend it. `at` is given where it is not the place of the subject."""

    found: str
    repair: str
    at: Position | None = None


class RuleModule(Protocol[Subject_contra]):
    """What every module under `rules` offers. `LIMIT` says in words what is allowed."""

    @property
    def __doc__(self) -> str | None: ...  # type: ignore[override]

    @property
    def ID(self) -> str:
        """The short id, such as `W01`."""

    @property
    def GRAVITY(self) -> Gravity:
        """How grave a finding is."""

    @property
    def SOURCE(self) -> RuleSource:
        """Where the rule comes from."""

    @property
    def LIMIT(self) -> str:
        """What is allowed."""

    def check(self, subject: Subject_contra, context: Context, /) -> Iterator[Finding]:
        """Everything in `subject` that breaks the rule."""


class PassageRule(RuleModule[Passage], Protocol):
    """A rule that looks at one text; `KINDS` are the kinds of text that it looks at, the plainest first."""

    @property
    def KINDS(self) -> tuple[TextKind, ...]:
        """The kinds of text that the rule looks at."""


def quoted(text: str, most: int = 70) -> str:
    """A text in quotation marks for a message, cut where it is long."""
    text = " ".join(text.split()).replace("⟦", "{{ ").replace("⟧", " }}")
    return f"“{text}”" if len(text) <= most else f"“{text[: most - 1].rstrip()}…”"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule as a page lists it: id, title, words with passing and failing examples, source and limit."""

    id: str
    title: str
    words: str
    gravity: Gravity
    source: str
    limit: str
