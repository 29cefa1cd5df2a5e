"""A drawing stands at a step that works on what it shows, and turns the way of that step."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from builder.drawings.drawing_kind import ShownAct
from builder.drawings.registry import DRAWING_KINDS
from builder.model.guide import Step
from builder.tailoring.figures import figure_numbers
from tests.demo import library


def _steps() -> Iterator[tuple[str, Step]]:
    books = library()
    for name, procedure in books.procedures.items():
        yield from ((name, step) for step in procedure.steps if isinstance(step, Step))
    for name, guide in books.guides.items():
        written = (*(step for section in guide.work for step in section.steps), *guide.finish, *guide.test)
        yield from ((name, step) for step in written if isinstance(step, Step))


DRAWN = [(f"{home}.{step.id}", step) for home, step in _steps() if step.figure]


def test_the_library_has_drawings() -> None:
    assert {step.figure for _, step in DRAWN} > {"chain-whip", "body-gap", "cage-back", "skewer-springs"}


@pytest.mark.parametrize(("_", "step"), DRAWN, ids=[where for where, _ in DRAWN])
def test_a_step_is_drawn_with_what_it_works_on(_: str, step: Step) -> None:
    worked_on = {*step.handles, step.tightens, step.loosens}
    assert worked_on & set(DRAWING_KINDS[step.figure].things)


@pytest.mark.parametrize(("_", "step"), DRAWN, ids=[where for where, _ in DRAWN])
def test_no_step_that_turns_a_fastener_is_drawn_with_the_contrary(_: str, step: Step) -> None:
    kind = DRAWING_KINDS[step.figure]
    if any(parameter.name == "act" for parameter in kind.parameters):
        wanted = "loosen" if step.loosens else "tighten" if step.tightens else None
        assert figure_numbers(step, None, None).get("act") == wanted
    elif step.loosens or step.tightens:
        assert kind.act != (ShownAct.TIGHTENING if step.loosens else ShownAct.LOOSENING)
        assert kind.act != ShownAct.LOOKING


def test_what_drawings_show_has_a_name_in_the_catalogue() -> None:
    known = {*library().glossary, *library().fasteners}
    assert {thing for kind in DRAWING_KINDS.values() for thing in kind.things} <= known


@pytest.mark.parametrize(
    ("step", "act"),
    [
        (Step(id="off", do="Loosen the right pedal.", loosens="right-pedal"), "loosen"),
        (Step(id="on", do="Tighten the right pedal.", tightens="right-pedal"), "tighten"),
        (Step(id="both", do="Turn the pedal.", tightens="right-pedal", loosens="right-pedal"), None),
        (Step(id="neither", do="Turn the pedal.", handles=("pedal",)), None),
    ],
    ids=lambda value: value.id if isinstance(value, Step) else str(value),
)
def test_a_drawing_turns_the_way_of_its_step(step: Step, act: str | None) -> None:
    drawn = Step(id=step.id, do=step.do, tightens=step.tightens, loosens=step.loosens, figure="pedal-threads")
    assert figure_numbers(drawn, None, None).get("act") == act
