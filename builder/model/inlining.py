"""Turn a guide into one flat list of steps: procedures placed inline, each step with its whole condition.

Tailoring and proof both read this list, so that what is proven is what is printed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from builder.model.condition import ALWAYS, All, Condition
from builder.model.guide import Guide, Step, Use
from builder.model.library import Library


class Phase(StrEnum):
    """Which of the three stretches of a guide a step stands in, in the order in which they are done."""

    WORK = "work"
    FINISH = "finish"
    TEST = "test"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedStep:
    """A step at its place in a guide.

    `conditions` are those of its section, of each use that brought it in and its own, outermost first, without those
    that always hold; `condition` is all of them together. `uses` is the way in, outermost first, and `origin` the
    procedure that the step is written in, empty where that is the guide itself. `section` counts the sections of the
    work from 0 and is None in the finish and in the test.
    """

    index: int
    step: Step
    conditions: tuple[Condition, ...]
    phase: Phase
    section: int | None = None
    uses: tuple[Use, ...] = ()

    @property
    def condition(self) -> Condition:
        """What must hold for this step to be done."""
        return self.conditions[0] if len(self.conditions) == 1 else All(self.conditions)

    @property
    def origin(self) -> str:
        """The procedure that the step is written in, or ''."""
        return self.uses[-1].use if self.uses else ""

    @property
    def anchor(self) -> str:
        """The step's name: its id, with its procedure before it where it has one."""
        return f"{self.origin}.{self.step.id}" if self.origin else self.step.id


def inlined(guide: Guide, library: Library) -> tuple[PlacedStep, ...]:
    """Every step of `guide` in the order it is done: work, finish, test; procedures placed inline.

    A use of an unknown procedure, or of one that is already being placed, brings no steps; `loops` finds the latter.
    """
    runs: list[tuple[Phase, int | None, Condition, tuple[Step | Use, ...]]] = [
        (Phase.WORK, number, section.when, section.steps) for number, section in enumerate(guide.work)
    ]
    runs.append((Phase.FINISH, None, ALWAYS, guide.finish))
    runs.append((Phase.TEST, None, ALWAYS, guide.test))
    placed: list[PlacedStep] = []
    for stretch, section, condition, items in runs:
        for step, uses in _unfolded(items, library, ()):
            conditions = (condition, *(use.when for use in uses), step.when)
            placed.append(
                PlacedStep(
                    index=len(placed),
                    step=step,
                    conditions=tuple(part for part in conditions if part != ALWAYS),
                    phase=stretch,
                    section=section,
                    uses=uses,
                )
            )
    return tuple(placed)


def _unfolded(
    items: tuple[Step | Use, ...], library: Library, uses: tuple[Use, ...]
) -> Iterator[tuple[Step, tuple[Use, ...]]]:
    for item in items:
        match item:
            case Step():
                yield _renewed(item, library), uses
            case Use():
                procedure = library.procedures.get(item.use)
                if procedure is not None and all(use.use != item.use for use in uses):
                    yield from _unfolded(procedure.steps, library, (*uses, item))


def _renewed(step: Step, library: Library) -> Step:
    """The step with what is so of the new parts that it puts on; what it says itself goes first."""
    if not step.renews:
        return step
    new = {name: state.new for name, state in library.states.items() if state.new and set(state.of) & set(step.renews)}
    return replace(step, leaves={**new, **step.leaves})


def used_procedures(guide: Guide, library: Library) -> frozenset[str]:
    """The procedures whose steps stand in `guide`, and those that would be placed inside themselves."""
    placed = {use.use for item in inlined(guide, library) for use in item.uses}
    return frozenset(placed | {use.use for use in loops(guide, library)})


def loops(guide: Guide, library: Library) -> tuple[Use, ...]:
    """Every use that would place a procedure inside itself, and so is left out by `inlined`."""
    found: dict[int, Use] = {}

    def visit(items: tuple[Step | Use, ...], inside: tuple[str, ...]) -> None:
        for item in items:
            if isinstance(item, Step):
                continue
            if item.use in inside:
                found[id(item)] = item
            elif item.use in library.procedures:
                visit(library.procedures[item.use].steps, (*inside, item.use))

    for section in guide.work:
        visit(section.steps, ())
    visit(guide.finish, ())
    visit(guide.test, ())
    return tuple(found.values())
