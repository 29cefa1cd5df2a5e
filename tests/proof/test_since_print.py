"""A stale card is found out, and told what changed at which step. That a torque matters and a word less is our rule."""

from __future__ import annotations

from dataclasses import replace
from functools import cache, partial

import pytest

from builder.model.position import Places, Position
from builder.model.printed import Printed, PrintedCard, PrintedStep
from builder.model.units import Range
from builder.proof.jobs import work_out
from builder.proof.since_print import (
    Change,
    PrintKind,
    Today,
    What,
    as_today,
    printed_steps,
    stale_cards,
    standing,
    tailored_today,
)
from builder.tailoring import tailor
from builder.tailoring.tailored import Tailored
from tests.demo import library

TIGHT = "pedals-fitted"


@cache
def today(guide: str = TIGHT) -> Tailored:
    return tailor(library().guides[guide], library())


def card(steps: tuple[PrintedStep, ...], revision: str = "OLD000", **more: str) -> PrintedCard:
    return PrintedCard(revision=revision, date="2026-01-31", steps=steps, **more)


def now() -> Today:
    found = as_today(today(), "NOW000")
    assert found is not None
    return found


def tight() -> int:
    """The place of the first step with a torque."""
    return next(place for place, step in enumerate(printed_steps(today())) if step.torque)


def with_step(place: int, **changes: object) -> tuple[PrintedStep, ...]:
    steps = list(printed_steps(today()))
    steps[place] = replace(steps[place], **changes)  # type: ignore[arg-type]
    return tuple(steps)


def swapped() -> tuple[PrintedStep, ...]:
    first, second, *rest = printed_steps(today())
    return second, first, *rest


def test_a_card_of_today_is_current() -> None:
    assert standing(card(printed_steps(today()), "NOW000"), now()).kind is PrintKind.CURRENT


@pytest.mark.parametrize(
    ("then", "what", "matters"),
    [
        (lambda: with_step(tight(), torque="1 to 2 N·m, typical"), What.TORQUE, True),
        (lambda: with_step(0, cautions=("made-up",)), What.CAUTION, True),
        (lambda: printed_steps(today())[1:], What.ADDED, True),
        (lambda: (*printed_steps(today()), PrintedStep(step="gone", says="0")), What.REMOVED, True),
        (swapped, What.ORDER, True),
        (lambda: with_step(0, says="0"), What.TEXT, False),
    ],
)
def test_what_changed_is_told_and_whether_it_matters(then, what: What, matters: bool) -> None:  # type: ignore[no-untyped-def]
    how = standing(card(then()), now())
    assert how.kind is PrintKind.STALE
    assert how.whats == (what,)
    assert len(how.changes) == 1
    assert how.matters is matters


def test_a_change_beside_the_steps_makes_a_card_stale_and_matters_to_none() -> None:
    how = standing(card(printed_steps(today())), now())
    assert (how.kind, how.changes, how.matters) == (PrintKind.STALE, (), False)


def test_a_torque_is_told_as_it_was_and_as_it_is() -> None:
    fastener = next(step.torque for step in today().steps if step.torque is not None).fastener
    other = replace(fastener, torque_nm=Range(11.0, 12.0))
    then = tailor(library().guides[TIGHT], replace(library(), fasteners={**library().fasteners, fastener.id: other}))
    how = standing(card(printed_steps(then)), now())
    told = [change for change in how.changes if What.TORQUE in change.what]
    assert told
    assert all(change.torque_then.startswith("11 to 12 N·m") for change in told)
    assert all("11 to 12" not in change.torque_now for change in told)


def test_a_withdrawn_card_is_so_whatever_it_shows() -> None:
    taken_back = card(printed_steps(today()), "NOW000", withdrawn="A wrong torque.")
    assert standing(taken_back, now()).kind is PrintKind.WITHDRAWN
    assert standing(taken_back, now()).matters


def test_check_warns_of_each_card_that_is_stale_and_of_no_other() -> None:
    at = Places(Position("catalogue/printed.yaml", 7, 7))
    cards = (
        card(printed_steps(today()), "NOW000"),
        replace(card(with_step(tight(), torque="1 N·m, typical")), places=at),
        card((), "OLD001", withdrawn="Lost in the rain."),
    )
    register = {
        "one": Printed(id="one", guide=TIGHT, cards=cards),
        "two": Printed(id="two", guide="a-guide-of-old", bike="heron", cards=(card((), "OLD002"),)),
    }
    stale, gone = stale_cards(
        replace(library(), printed=register),
        lambda printed, parts: as_today(
            tailored_today(printed, parts, library(), partial(work_out, library=library())), "NOW000"
        ),
    )
    assert stale.message == (
        "card OLD000 of 'pedals-fitted' for any bike, printed on 2026-01-31, is stale; changed: torque: "
        "do not work from it"
    )
    assert stale.at == at.at
    assert any(hint.endswith(")") and "(1 N·m, typical → " in hint for hint in stale.hints)
    assert gone.message.startswith("card OLD002 of 'a-guide-of-old' for 'heron'")
    assert "no such card is made any more" in gone.message


def test_a_step_of_today_is_told_by_its_number() -> None:
    (change,) = standing(card(with_step(0, says="0")), now()).changes
    assert change == Change(
        step=printed_steps(today())[0].step,
        number=1,
        what=(What.TEXT,),
        torque_then=printed_steps(today())[0].torque,
        torque_now=printed_steps(today())[0].torque,
    )
