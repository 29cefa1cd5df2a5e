"""The limits that a card prints are the checks' own, and a guide shows no branch that none of its bikes can have."""

from __future__ import annotations

import pytest

from builder.checks.brake_wear import typical_pad_mm
from builder.checks.registry import CHECKS
from builder.model.paths import unit_at
from builder.pages.figures import figure_of
from builder.proof.jobs import Ready, planned_jobs, work_out
from builder.tailoring import tailor
from builder.tailoring.limits import limits_of
from tests.demo import LEAD, library


def generic(guide: str) -> list[str]:
    return [step.do for step in tailor(library().guides[guide], library()).steps]


@pytest.mark.parametrize(
    ("bike", "name", "words"),
    [
        # 20 to 30 % of 140 mm and of 50 mm, as the check 'suspension-sag' has it.
        ("marten", "fork.sag", "28 to 42 mm, 20 to 30 % of 140 mm"),
        ("marten", "shock.sag", "10 to 15 mm, 20 to 30 % of 50 mm"),
        # 24 × 12.7 mm grown by 0.75 % (fewer than 11 speeds) and by 1 %.
        ("fieldfare", "chain.longest", "307.1 mm"),
        ("fieldfare", "chain.longest-for-sprockets", "307.8 mm"),
        # What is marked on the part.
        ("dotterel", "front-rotor.least", "1.5 mm"),
    ],
)
def test_a_limit_is_that_of_its_check(bike: str, name: str, words: str) -> None:
    assert limits_of(library().bikes[bike])[name].replace("\N{NO-BREAK SPACE}", " ") == words


def test_a_limit_that_nobody_knows_is_left_out() -> None:
    assert "shock.sag" not in limits_of(library().bikes["heron"])


def test_every_measurement_names_a_check_that_there_is() -> None:
    named = {one.id: one.check for one in library().measurements.values() if one.check}
    assert named
    assert not {name: check for name, check in named.items() if check not in CHECKS}


def test_a_guide_for_derailleurs_shows_no_step_of_a_gear_hub() -> None:
    assert "Disconnect the gear cable from the gear hub." not in generic(LEAD)
    assert "Disconnect the gear cable from the gear hub." in generic("rear-wheel-out-and-in")


# No drawing shows what is done in these; one of another act would mislead.
UNDRAWN = {
    "bar-tape-replaced",
    "belt-tension-set",
    "child-seat-fitted",
    "grips-fitted",
    "mudguards-fitted",
    "rack-fitted",
    "front-rod-brake-pads-replaced",
    "rear-rod-brake-pads-replaced",
    "rod-brakes-set",
}


@pytest.mark.parametrize("guide", sorted(library().guides))
def test_every_guide_but_those_named_has_a_drawing_for_any_bike(guide: str) -> None:
    shown = tailor(library().guides[guide], library()).steps
    assert any(figure_of(step) is not None for step in shown) is (guide not in UNDRAWN)


@pytest.mark.parametrize("name", ["chain.unworn", "rod-pads.least", "steerer.gap-least", "steerer.gap-most"])
def test_a_limit_that_is_the_same_for_every_bike_stands_in_the_catalogue_as_the_check_has_it(name: str) -> None:
    known = limits_of(library().bikes["heron"])[name].replace("\N{NO-BREAK SPACE}", " ")
    assert library().named_texts[name].unknown == known


def test_the_usual_least_of_a_rim_pad_is_that_of_the_check() -> None:
    for end in ("front", "rear"):
        unknown = library().named_texts[f"{end}-rim-pads.least"].unknown
        assert unknown.startswith(f"{typical_pad_mm('rim'):g} mm")


@pytest.mark.parametrize(
    ("path", "unit"),
    [
        ("frame.chainstay", "mm"),
        ("measured.front-lever-reach", "mm"),
        ("frame.hanger", ""),
        ("measured.bike-mass", "kg"),
        ("odd", ""),
    ],
)
def test_a_fact_that_is_measured_at_the_stand_brings_its_unit(path: str, unit: str) -> None:
    assert unit_at(path) == unit


def test_what_a_guide_measures_itself_is_not_measured_twice() -> None:
    marten = library().bikes["marten"]
    job = next(one for one in planned_jobs(marten, library()) if one.guide.id == "dropper-post-fitted")
    outcome = work_out(job, library())
    assert isinstance(outcome, Ready)
    taken = [one.measurement.id for one in outcome.tailored.steps if one.measurement is not None]
    assert taken.count("post-inserted") == 1
