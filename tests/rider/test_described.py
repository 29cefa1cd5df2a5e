"""A bike told of in answers is the bike that its written file comes to."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from builder.model.facts import Role
from builder.model.paths import fact_value
from builder.rider.answers import Sprockets, chosen, sprockets_in
from builder.rider.described import bike_of
from builder.rider.facts import FactError, Facts
from builder.rider.interview import FIRST, SPROCKETS, TRANSMISSION, Interview, Kind, Question
from builder.rider.mattering import known_cases
from builder.sources.starters import bike_start
from builder.sources.workspace import load
from tests.demo import LEAD, library

# What is said where a question wants words: one of these that can be taken.
_SAYINGS = ("11-36 10-speed", "46, 30", "11, 13, 15, 17, 19, 21, 24, 28", "10", "432 ± 1 mm", "43 cm", "114", "38")


def answered_at_random(seed: int, guide: str | None) -> Facts:
    """What is known after a talk in which each question is answered by chance or left open."""
    chance = random.Random(seed)
    facts = Facts(library())
    interview = Interview(facts, library(), library().guides[guide] if guide else None)
    for _ in range(200):
        question = interview.next()
        if question is None:
            return facts
        if chance.random() < 0.2:
            interview.leave(question)
            continue
        sayings = list(question.cases) if question.kind is Kind.CHOICE else list(_SAYINGS)
        chance.shuffle(sayings)
        for saying in sayings:
            try:
                interview.take(question, saying)
                break
            except FactError:
                continue
        else:
            interview.leave(question)
    raise AssertionError("the talk does not end")


def told() -> Facts:
    """What is known after flags: a known part, a place without a part, a measurement and the rider."""
    facts = Facts(library(), tag="C-1")
    facts.set("cassette", "cs-11-50-11s")
    facts.set("front-derailleur", "none")
    facts.set("measured.chain-links", "114")
    facts.set("rider.mass", "75 kg")
    return facts


def test_a_bike_told_of_is_the_bike_of_its_file(tmp_path: Path) -> None:
    """All are written into one workspace, since a reading takes a while."""
    talks = [(1, LEAD), (2, LEAD), (3, "yearly-service"), (4, None), (5, None)]
    every = {f"bike-{seed}": answered_at_random(seed, guide) for seed, guide in talks} | {"told": told()}
    (tmp_path / "bikes").mkdir()
    for name, facts in every.items():
        assert facts.parts
        (tmp_path / "bikes" / f"{name}.yaml").write_text(bike_start(facts.of_bike(name)), encoding="utf-8")
    (tmp_path / "workshop.yaml").write_text("name: Ours\n", encoding="utf-8")
    loaded = load(tmp_path)
    assert loaded.diagnostics == ()
    for name, facts in every.items():
        assert bike_of(facts, name, name) == loaded.library.bikes[name]
    bike = bike_of(every["told"], "told")
    assert bike.part(Role.CASSETTE) is library().parts["cs-11-50-11s"]
    assert bike.without == {Role.FRONT_DERAILLEUR}


def test_nothing_is_asked_whose_answer_changes_nothing() -> None:
    """A guide for the front wheel asks nothing of gears, sprockets or the rear axle."""
    interview = Interview(Facts(library()), library(), library().guides["front-wheel-out-and-in"])
    asked = []
    while (question := interview.next()) is not None:
        asked.append(question.id)
        interview.leave(question)
    assert asked
    assert "front-axle" in asked
    assert not {*FIRST, "rear-axle", "rear-tyre-seal"} & {*asked}


def test_sprockets_told_by_their_ends_lead_to_a_known_cassette() -> None:
    facts = Facts(library())
    interview = Interview(facts, library(), library().guides[LEAD], left={TRANSMISSION, "crankset.rings"})
    question = interview.next()
    assert question is not None
    assert question.id == SPROCKETS
    interview.take(question, "11-50 11-speed")
    question = interview.next()
    assert question is not None
    assert "cs-11-50-11s" in question.cases
    interview.take(question, "cs-11-50-11s")
    assert facts.parts[Role.CASSETTE] == "cs-11-50-11s"
    assert facts.text_of("rear-hub.sprocket-mount") == facts.text_of("cassette.mount")


def test_a_gear_hub_is_asked_for_its_sprocket_so_that_its_ratio_is_judged() -> None:
    facts = Facts(library())
    interview = Interview(facts, library())
    answers = {TRANSMISSION: "hub-gear", "rear-hub.gears": "five", "sprocket-of-the-hub": "13t", "crankset.rings": "50"}
    for name, answer in answers.items():
        question = interview.next()
        assert question is not None
        assert question.id == name
        interview.take(question, answer)
    bike = bike_of(facts, "told")
    assert fact_value("cassette.sprockets", bike) == (13,)
    assert fact_value("rear-hub.gears", bike) == 5
    assert known_cases(facts)["transmission"] == "hub-gear"
    with pytest.raises(FactError, match="out of range"):
        Interview(Facts(library()), library()).take(Question(id="sprocket-of-the-hub", words=""), "500")


@pytest.mark.parametrize(
    ("answer", "case"), [("QR", "quick-release"), ("bolt through", "bolt-through"), ("nuts", "nutted"), ("zz", "")]
)
def test_an_axle_is_understood_by_its_letters_and_its_words(answer: str, case: str) -> None:
    assert chosen(answer, library().attributes["rear-axle"].cases) == case


@pytest.mark.parametrize("answer", ["11-32 8sp", "11-32 8 spd", "11-32, 8-speed", "8s 11-32"])
def test_ends_and_a_count_are_understood_in_any_form(answer: str) -> None:
    assert sprockets_in(answer) == Sprockets(smallest=11, largest=32, count=8)
