"""Every verb of a sentence counts: no caution vanishes because its act was the second one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.guide import Step
from builder.model.verbs import acts, lead_of
from builder.tailoring.hazards import attached
from tests.demo import library

VERBS = library().verbs


def read(text: str) -> list[tuple[str, str]]:
    return [(act.verb, " ".join(act.phrase)) for act in acts(text, VERBS) if not act.negated]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (
            "Pull the cage to the rear and remove the rear wheel.",
            [("pull", "the cage"), ("remove", "the rear wheel")],
        ),
        (
            "Push the rear wheel to the front, lift the chain off and remove the rear wheel.",
            [("push", "the rear wheel"), ("lift", "the chain"), ("remove", "the rear wheel")],
        ),
        (
            "Loosen the bolt of the reaction arm and remove it.",
            [("loosen", "the bolt of the reaction arm"), ("remove", "the bolt of the reaction arm")],
        ),
        ("Clean and lubricate the chain.", [("clean", "the chain"), ("lubricate", "the chain")]),
        ("While you hold the cone still, loosen the locknut.", [("loosen", "the locknut"), ("hold", "the cone still")]),
        ("If the chain is worn, remove it and clean the cassette.", [("remove", "it"), ("clean", "the cassette")]),
        # Nouns that are verbs elsewhere are no acts of their own.
        ("Loosen the bolt and clamp of the cable.", [("loosen", "the bolt and clamp of the cable")]),
        ("Tighten the locknut until the mark and press fit agree.", [("tighten", "the locknut")]),
    ],
)
def test_a_sentence_is_read_act_by_act(text: str, found: list[tuple[str, str]]) -> None:
    assert read(text) == found


def test_do_not_denies_what_or_joins_to_it() -> None:
    assert read("Do not squeeze or pull the brake lever.") == []


def test_a_wheel_that_goes_in_as_the_second_act_has_its_caution() -> None:
    step = Step(id="x", do="Lay the chain on the sprocket and insert the rear wheel in its seats.", handles=("chain",))
    assert "wheel-seat" in {caution.id for caution in attached(step, library())}


def test_a_wheel_that_comes_out_as_the_second_act_has_its_caution() -> None:
    step = Step(id="x", do="Pull the cage to the rear and remove the rear wheel.", handles=("rear-wheel",))
    assert "pad-gap" in {caution.id for caution in attached(step, library())}


def test_what_one_act_names_is_not_done_by_the_other() -> None:
    step = Step(id="x", do="Hold the frame and remove the rear wheel.", handles=("frame", "rear-wheel"))
    removed = replace(library().cautions["pad-gap"], verbs=("hold",), things=("rear-wheel",))
    lib = replace(library(), cautions={"pad-gap": removed})
    assert attached(step, lib) == ()


@pytest.mark.parametrize(
    ("text", "lead"),
    [
        ("If the chain is worn, replace it.", "If the chain is worn,"),
        ("Make sure that it is in.", "Make sure"),
        ("Loosen the bolt.", "Loosen"),
        ("{{ torque }} is enough.", ""),
    ],
)
def test_the_lead_of_an_instruction_is_its_condition_or_its_verb(text: str, lead: str) -> None:
    assert lead_of(text)[0] == lead
