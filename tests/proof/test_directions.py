"""Directions are clockwise or anticlockwise, seen from somewhere, and never against the thread."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Hand
from builder.model.condition import Is
from builder.model.guide import Procedure, Step
from builder.proof.directions import directions_agree
from tests.demo import library


def told(step: Step, hand: Hand = Hand.RIGHT) -> list[Diagnostic]:
    bolt = replace(library().fasteners["cassette-lockring"], hand=hand)
    one = Procedure(id="odd", title="Odd", steps=(step,))
    lib = replace(library(), guides={}, procedures={"odd": one}, fasteners={**library().fasteners, bolt.id: bolt})
    return list(directions_agree(lib))


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Turn the nut to the left.", 1),
        ("Turn the left pedal to the right by hand.", 1),
        ("Turn the handlebar to the left.", 0),
        ("Move the wheel to the left. Then loosen the nut.", 0),
        ("Turn the nut anticlockwise, seen from the left.", 0),
        ("Turn the nut anticlockwise.", 1),
    ],
)
def test_a_thread_is_not_turned_left_or_right(text: str, count: int) -> None:
    assert [one.rule for one in told(Step(id="x", do=text))] == ["direction"] * count


@pytest.mark.parametrize(
    ("words", "key", "hand", "wrong"),
    [
        ("clockwise", "tightens", Hand.RIGHT, False),
        ("clockwise", "tightens", Hand.LEFT, True),
        ("anticlockwise", "tightens", Hand.RIGHT, True),
        ("anticlockwise", "loosens", Hand.RIGHT, False),
        ("clockwise", "loosens", Hand.RIGHT, True),
        ("clockwise", "loosens", Hand.LEFT, False),
        ("counterclockwise", "loosens", Hand.LEFT, True),
    ],
)
def test_a_direction_agrees_with_the_hand_of_the_thread(words: str, key: str, hand: Hand, wrong: bool) -> None:
    step = Step(id="x", do=f"Turn the lockring {words}, seen from the right.", **{key: "cassette-lockring"})  # type: ignore[arg-type]
    errors = [one for one in told(step, hand) if one.gravity is Gravity.ERROR]
    assert len(errors) == wrong
    assert all("the other way round" in one.message for one in errors)


def test_a_job_at_the_rear_does_not_name_the_front_wheel() -> None:
    guide = library().guides["rear-wheel-out-and-in"]
    section = guide.work[0]
    odd = replace(section, steps=(*section.steps, Step(id="odd", do="Remove the front wheel.")))
    lib = replace(library(), guides={guide.id: replace(guide, work=(odd, *guide.work[1:]))}, procedures={})
    (found,) = (one for one in directions_agree(lib) if one.rule == "wrong-end")
    assert found.message == "step 'rear-wheel-out-and-in.odd' names the front wheel in a job at the rear"


@pytest.mark.parametrize(("asked", "wrong"), [("shifter-mount", True), ("front-shifter-mount", False)])
def test_a_job_at_the_front_does_not_hang_on_the_shifter_of_the_rear(asked: str, wrong: bool) -> None:
    guide = library().guides["front-gear-cable-replaced"]
    section = guide.work[0]
    step = Step(
        id="odd", do="Lift the rubber hood of the brake lever.", when=Is(attribute=asked, cases=("brake-lever",))
    )
    odd = replace(section, steps=(*section.steps, step))
    lib = replace(library(), guides={guide.id: replace(guide, work=(odd, *guide.work[1:]))})
    found = [one.message for one in directions_agree(lib) if one.rule == "wrong-end"]
    assert found == (
        ["step 'front-gear-cable-replaced.odd' asks 'shifter-mount' in a job at the front"] if wrong else []
    )


def test_a_step_that_speaks_of_the_other_end_may_ask_of_it() -> None:
    assert [one.message for one in directions_agree(library()) if one.rule == "wrong-end"] == []
