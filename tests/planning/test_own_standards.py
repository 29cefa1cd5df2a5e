"""A workshop brings standards of its own as data: parts that name one go together, and guides know what it is like."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import pytest

from builder.checks.registry import CHECKS
from builder.checks.result import Verdict
from builder.model.bike import Bike
from builder.model.catalogue import Standard
from builder.model.facts import Role, StandardSet
from builder.model.library import Library
from builder.model.parts import Brake, Cassette, Fork, Hub, Part, Rotor
from builder.planning import plan_job
from builder.planning.attributes import cases_of, foreign
from builder.planning.fitting import as_found
from builder.planning.limits import requirements
from builder.planning.looking_up import word_of
from builder.proof.jobs import Job, Outcome, Ready, Refused, work_out
from builder.rider.facts import FactError, Facts
from builder.rider.interview import Interview
from tests.demo import library as shipped

SPROCKETS = (11, 13, 15, 17, 19, 21, 24, 28, 32, 37, 42)
TEN = Standard(id="ten-spline", name="ten-spline freehub body", of=StandardSet.SPROCKET_MOUNT, like="nine-spline")
DOGS = Standard(id="three-dogs", name="body with three dogs", of=StandardSet.SPROCKET_MOUNT)
FOUR = Standard(id="four-bolt", name="four-bolt rotor", of=StandardSet.ROTOR_MOUNT)
SLIDE = Standard(id="slide-mount", name="caliper on a slide", of=StandardSet.BRAKE_MOUNT, like="post-mount")


@cache
def library() -> Library:
    parts: Mapping[str, Part] = {
        "cs-ten": Cassette(id="cs-ten", name="On ten splines", sprockets=SPROCKETS, mount="ten-spline"),
        "cs-dogs": Cassette(id="cs-dogs", name="On dogs", sprockets=SPROCKETS, mount="three-dogs"),
        "ro-four": Rotor(id="ro-four", name="On four bolts", diameter_mm=160, rotor_mount="four-bolt"),
    }
    standards = {one.id: one for one in (TEN, DOGS, FOUR, SLIDE)}
    return replace(shipped(), standards=standards, parts={**shipped().parts, **parts})


def bike(**facts: str) -> Bike:
    """The lead bike of the fleet on a rear hub with other facts, and the new rotor that goes with it."""
    heron = shipped().bikes["heron"]
    hub = heron.part(Role.REAR_HUB)
    assert isinstance(hub, Hub)
    return replace(heron, parts={**heron.parts, Role.REAR_HUB: replace(hub, **facts)}, jobs=())


def verdict(check: str, role: Role, part: str, on: Bike) -> Verdict:
    plan = plan_job(on, {role: library().parts[part]}, library())
    return next(one.verdict for one in plan.checks if one.check == check)


@pytest.mark.parametrize(
    ("hub", "cassette", "expected"),
    [
        ("ten-spline", "cs-ten", Verdict.FITS),
        ("ten-spline", "cs-11-42-11s", Verdict.DOES_NOT_FIT),
        ("ten-spline", "cs-dogs", Verdict.DOES_NOT_FIT),
        ("nine-spline", "cs-ten", Verdict.DOES_NOT_FIT),
        ("three-dogs", "cs-dogs", Verdict.FITS),
    ],
)
def test_sprockets_fit_on_the_same_standard_and_on_no_other(hub: str, cassette: str, expected: Verdict) -> None:
    assert verdict("sprocket-mount", Role.CASSETTE, cassette, bike(sprocket_mount=hub)) is expected


@pytest.mark.parametrize(
    ("hub", "rotor", "expected"),
    [
        ("four-bolt", "ro-four", Verdict.FITS),
        ("four-bolt", "ro-160-six", Verdict.DOES_NOT_FIT),
        ("six-bolt", "ro-four", Verdict.DOES_NOT_FIT),
        # An adaptor is made for six bolts on splines alone.
        ("splined", "ro-four", Verdict.DOES_NOT_FIT),
    ],
)
def test_a_rotor_fits_on_the_same_standard_and_on_no_other(hub: str, rotor: str, expected: Verdict) -> None:
    assert verdict("rotor-mount", Role.REAR_ROTOR, rotor, bike(rotor_mount=hub)) is expected


@pytest.mark.parametrize("frame", ["slide-mount", "post-mount", "none"])
def test_a_brake_fits_on_the_same_standard_and_on_no_other(frame: str) -> None:
    result = CHECKS["brake-mount"](brake="slide-mount", frame=frame)
    assert result.verdict is (Verdict.FITS if frame == "slide-mount" else Verdict.DOES_NOT_FIT)


def test_what_a_new_part_must_be_names_the_workshops_own_standard() -> None:
    (wanted,) = (
        one
        for one in requirements(Role.CASSETTE, as_found(bike(sprocket_mount="ten-spline"), library()))
        if one.fact.path == "cassette.mount"
    )
    assert wanted.one_of == ("ten-spline",)


def test_conditions_and_checks_take_a_standard_for_what_it_is_like() -> None:
    found = bike(sprocket_mount="ten-spline")
    assert cases_of(library(), found, None)["sprocket-mount"] == "nine-spline"
    assert word_of("rear-hub.sprocket-mount", "", as_found(found, library())) == "nine-spline"
    assert isinstance(outcome("cassette-replaced-like-for-like", found, "cs-ten"), Ready)


def test_an_attribute_with_a_case_of_that_name_has_it_for_its_own() -> None:
    attribute = shipped().attributes["sprocket-mount"]
    own = replace(attribute, cases={**attribute.cases, TEN.id: TEN.name, DOGS.id: DOGS.name})
    with_case = replace(library(), attributes={**shipped().attributes, attribute.id: own})
    for name in (TEN.id, DOGS.id):
        found = bike(sprocket_mount=name)
        assert cases_of(with_case, found, None)["sprocket-mount"] == name
        assert foreign(own, found, None, with_case.standards) is None


@pytest.mark.parametrize(
    ("guide", "facts", "part"),
    [
        # Whether the guide is for the bike hangs on it, or a step does.
        ("rear-rotor-fitted", {"rotor_mount": "four-bolt"}, "ro-four"),
        ("wider-range-cassette", {"sprocket_mount": "three-dogs"}, "cs-dogs"),
    ],
)
def test_a_guide_that_asks_refuses_a_standard_that_is_like_none(guide: str, facts: dict[str, str], part: str) -> None:
    refused = outcome(guide, bike(**facts), part)
    assert isinstance(refused, Refused)
    (standard,) = facts.values()
    assert library().standards[standard].name in refused.reason
    assert "catalogue/standards.yaml" in refused.reason


def test_a_guide_that_does_not_ask_takes_it() -> None:
    found = bike(sprocket_mount="three-dogs", rotor_mount="four-bolt")
    assert isinstance(outcome("front-rotor-fitted", found, "ro-160-six"), Ready)


def test_a_brake_that_is_like_a_known_one_is_aligned_as_that_one() -> None:
    heron = shipped().bikes["heron"]
    brake, fork = heron.part(Role.FRONT_BRAKE), heron.part(Role.FORK)
    assert isinstance(brake, Brake)
    assert isinstance(fork, Fork)
    own = {
        Role.FRONT_BRAKE: replace(brake, caliper_mount="slide-mount"),
        Role.FORK: replace(fork, caliper_mount="slide-mount"),
    }
    assert isinstance(outcome("front-caliper-aligned", replace(heron, parts={**heron.parts, **own})), Ready)


def test_a_talk_about_a_bike_offers_it_and_takes_no_other_word() -> None:
    interview = Interview(Facts(library()), library(), library().guides["freehub-body-serviced"])
    question = interview.question("sprocket-mount")
    assert question is not None
    assert question.cases["ten-spline"] == TEN.name
    assert "four-bolt" not in question.cases
    interview.facts.set("rear-hub.sprocket-mount", "ten-spline")
    with pytest.raises(FactError, match="did you mean 'ten-spline'"):
        interview.facts.set("cassette.mount", "ten-splines")
    with pytest.raises(FactError, match="spannerleaf new standard"):
        interview.facts.set("cassette.mount", "banana")


def outcome(guide: str, on: Bike, *parts: str) -> Outcome:
    return work_out(Job(guide=library().guides[guide], bike=on, parts=parts), library())
