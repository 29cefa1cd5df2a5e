"""What few steps have: a choice, a wait, a left-hand thread, a reading to write down, no wrench, DANGER."""

from __future__ import annotations

import re
from dataclasses import replace

from builder.model.catalogue import Hand, SignalWord
from builder.model.units import Range
from builder.pages.card import card_html
from builder.pages.paper import Paper
from builder.printing.reading import read_sides
from builder.tailoring.tailored import ShownCaution, ShownStep, Tailored
from tests.demo import library
from tests.pages.shop import card_of, theme, writer


def rare_step(card: Tailored) -> ShownStep:
    """A step that has everything at once."""
    step = next(step for step in card.steps if step.torque is not None and step.torque.torque_nm is not None)
    assert step.torque is not None
    fastener = replace(step.torque.fastener, hand=Hand.LEFT, count=4)
    torque = replace(step.torque, fastener=fastener, count=4, torque_nm=Range(4.5, 6), maker=False, wrench=None)
    caution = next(iter(library().cautions.values()))
    cautions = tuple(ShownCaution(caution=caution, word=word, text=f"Text of {word}.") for word in reversed(SignalWord))
    return replace(
        step,
        step=replace(step.step, wait_min=10.0, boxes={"before": "bar", "after": "bar"}),
        torque=torque,
        turning="It tightens to the left, seen from the head.",
        cautions=cautions,
        choose=(("Press the pin in.", "For a chain with pins."), ("Close the link.", "")),
        until="no bubble comes",
        measurement=next(iter(library().measurements.values())),
    )


def rare_card() -> Tailored:
    card = card_of("kestrel")
    section = replace(card.sections[0], steps=(rare_step(card),))
    return replace(card, sections=(section,), finish=(), test=())


def test_the_rare_parts_of_a_step_are_shown() -> None:
    printed = writer().printed(card_html(rare_card(), theme(), Paper.A5))
    assert printed.overflows == ()
    text = " ".join(side.words for side in read_sides(printed.data))
    for words in (
        "4.5 to 6 N·m typical",
        "Maker's figure",
        "left-hand thread",
        "It tightens to the left",
        "each of 4",
        "No torque wrench of the workshop holds this value.",
        "Do one of these.",
        "Repeat until no bubble comes",
        "Before bar",
        "After bar",
        "Wait 10 min.",
        "Start",
        "End",
    ):
        assert words.casefold() in text.casefold(), words


def test_a_figure_that_only_its_maker_knows_has_a_line_to_write_it_on() -> None:
    card = rare_card()
    (step,) = card.steps
    assert step.torque is not None
    alone = library().fasteners["child-seat-bolts"]
    assert alone.is_makers_alone
    torque = replace(step.torque, fastener=alone, torque_nm=None)
    card = replace(card, sections=(replace(card.sections[0], steps=(replace(step, torque=torque),)),))
    html = card_html(card, theme(), Paper.A5)
    assert re.search(r'<span class="line"></span> N·m</span>\s*Only the seat maker', html)


def test_safety_messages_stand_gravest_first_and_a_notice_has_no_triangle() -> None:
    html = card_html(rare_card(), theme(), Paper.A5)
    step = html[html.index('<ol class="steps">') :]
    places = [step.index(f'<div class="strip {word}">') for word in SignalWord]
    assert places == sorted(places)
    strips = {word: step[place : step.index("says", place)] for word, place in zip(SignalWord, places, strict=True)}
    assert "mark-alert" in strips[SignalWord.CAUTION]
    assert "mark-alert" not in strips[SignalWord.NOTICE]
