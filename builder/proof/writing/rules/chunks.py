"""A long guide is parted into named sections, and each section says its end.

Passes:
    (a guide of two sections, each with an end)
Fails:
    (a guide with 10 steps in one section)
    (a section without an end)
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide
from builder.model.inlining import Phase, inlined
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S08"
GRAVITY = Gravity.WARNING
SOURCE = RuleSource(
    title="Degani and Wiener 1990, NASA CR-177549", locator="appendix A, guidelines 6 and 7", known=Known.RESTATED
)
MOST_UNPARTED = 9
LIMIT = f"sections with a title and an end, where the work has more than {MOST_UNPARTED} steps"


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """A long guide in one piece, and sections without an end or with the title of another."""
    guide = element.record
    steps = sum(placed.phase is Phase.WORK for placed in inlined(guide, context.library))
    if len(guide.work) == 1 and steps > MOST_UNPARTED:
        yield Finding(found=f"{steps} steps in one section", repair="part the work by assembly or area")
    titles: set[str] = set()
    for section in guide.work:
        if not section.end.strip():
            yield Finding(
                found=f"the section “{section.title}” does not say its end",
                repair="add 'end', the state in which it leaves the bike",
                at=section.places.of("end"),
            )
        if section.title in titles:
            yield Finding(
                found=f"two sections with the title “{section.title}”",
                repair="name what each is about",
                at=section.places.of("title"),
            )
        titles.add(section.title)
