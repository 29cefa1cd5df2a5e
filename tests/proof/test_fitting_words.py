"""A word or a drawing that fits only some of the bikes which come to its step is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.condition import ALWAYS, Condition, Is
from builder.model.guide import Section, Step
from builder.proof.fitting_words import WORDS, words_fit
from tests.demo import LEAD, library


def told(step: Step, suits: Condition = ALWAYS) -> list[str]:
    guide = replace(
        library().guides[LEAD], suits=suits, work=(Section(title="Odd", steps=(step,)),), finish=(), test=(), faults=()
    )
    return [one.message for one in words_fit(replace(library(), guides={LEAD: guide}))]


@pytest.mark.parametrize(
    ("text", "when", "said"),
    [
        ("Select the largest chainring.", ALWAYS, "largest chainring"),
        ("Select the largest chainring.", Is("chainrings", ("two", "three")), ""),
        ("If there are two chainrings, select the largest chainring.", ALWAYS, ""),
        ("Lift the chainring.", ALWAYS, ""),
        ("Clean the freehub body or the hub thread.", ALWAYS, "freehub body"),
        ("Open the quick-release lever or the nuts.", Is("rear-axle", ("nutted",)), "quick-release lever"),
        ("Lay the chain on the sprocket.", ALWAYS, "chain"),
        ("Lay the chain on the sprocket.", Is("transmission", ("derailleur",)), ""),
        ("Lay the belt on the sprocket.", Is("drive-line", ("belt",)), ""),
        ("Lay the belt on the sprocket.", Is("transmission", ("single-speed",)), "belt"),
        ("Hold the sprocket with the chain whip.", ALWAYS, ""),
        ("Inspect each rotor.", Is("rear-brake", ("disc",)), ""),
        ("While you turn the cranks, push the rear derailleur.", ALWAYS, "rear derailleur"),
    ],
)
def test_words_are_tailored_like_steps(text: str, when: Condition, said: str) -> None:
    step = Step(id="odd", do=text, when=when)
    suits: Condition = Is("front-axle", ("nutted",)) if "nuts" in text else ALWAYS
    expected = [f"step 'odd' names the {said}, and comes to bikes that have none"] if said else []
    assert told(step, suits) == expected


@pytest.mark.parametrize("key", ["prove", "limit"])
@pytest.mark.parametrize(("when", "said"), [(ALWAYS, True), (Is("rear-brake", ("disc", "rim", "rod")), False)])
def test_what_a_step_is_to_show_is_tailored_like_what_it_does(key: str, when: Condition, said: bool) -> None:
    texts = {key: "The wheel runs free and no pad rubs."}
    step = Step(id="odd", do="Spin the rear wheel.", when=when, **texts)  # type: ignore[arg-type]
    expected = ["step 'odd' names the pad, and comes to bikes that have none"] if said else []
    assert told(step) == expected


def test_a_guide_that_suits_only_bikes_with_the_thing_may_name_it() -> None:
    step = Step(id="odd", do="Select the largest chainring.")
    assert told(step, Is("chainrings", ("two", "three"))) == []


def test_a_rear_shock_is_not_drawn_for_a_hardtail() -> None:
    step = Step(id="odd", do="Sit on the saddle.", figure="suspension")
    assert told(step) == ["step 'odd' shows the drawing 'suspension', and comes to bikes that have none"]
    assert told(replace(step, when=Is("suspension", ("full",)))) == []


def test_every_word_asks_attributes_that_there_are() -> None:
    for word in WORDS:
        parts = getattr(word.bikes, "parts", (word.bikes,))
        for part in parts:
            assert set(part.cases) <= set(library().attributes[part.attribute].cases)
