"""Every rule and every caution that an author has set aside on purpose, with the reason: what a build and a check list.

Whether a waiver silences anything, and whether it is a sound one, is judged by `writing.engine` and `static`.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.guide import Waiver
from builder.model.library import Library
from builder.model.position import Position
from builder.model.steps import written_steps
from builder.tailoring.hazards import CAUTION_WAIVER


@dataclass(frozen=True, slots=True, kw_only=True)
class Waived:
    """What is set aside, at which step or guide, why, and who answers for it ('' where nobody is named)."""

    what: str
    element: str
    reason: str
    by: str
    at: Position

    def __str__(self) -> str:
        return f"{self.at.file}:{self.at.line}: '{self.element}' goes without {self.what}: {self.reason}{self._who()}"

    def _who(self) -> str:
        return f" ({self.by})" if self.by else ""

    def as_note(self) -> Diagnostic:
        """The same for programs that read diagnostics."""
        return Diagnostic(
            rule="waived",
            message=f"'{self.element}' goes without {self.what}: {self.reason}",
            at=self.at,
            gravity=Gravity.NOTE,
            label=f"answered for by {self.by}" if self.by else "",
        )


def waived(library: Library) -> tuple[Waived, ...]:
    """Every waiver of the library, by file and line."""
    found = [
        Waived(
            what=_what(waiver.rule),
            element=name,
            reason=" ".join(waiver.reason.split()),
            by=waiver.by.strip(),
            at=waiver.places.at,
        )
        for name, waivers in _elements(library)
        for waiver in waivers
    ]
    return tuple(sorted(found, key=lambda one: (one.at.file, one.at.line, one.element, one.what)))


def own_waivers(found: Iterable[Waived], laid_under: Container[str]) -> tuple[Waived, ...]:
    """Those of a workspace: what stands in the files of the library below it is not its own to answer for."""
    return tuple(one for one in found if one.at.file not in laid_under)


def _what(rule: str) -> str:
    if rule.startswith(CAUTION_WAIVER):
        return f"the caution '{rule.removeprefix(CAUTION_WAIVER)}'"
    return f"the rule {rule}"


def _elements(library: Library) -> Iterator[tuple[str, tuple[Waiver, ...]]]:
    yield from ((guide.id, guide.waivers) for guide in library.guides.values())
    yield from ((f"{home}.{step.id}", step.waivers) for home, step in written_steps(library))
