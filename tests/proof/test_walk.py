"""The walk over all configurations at once, held against walking every configuration by itself."""

from __future__ import annotations

from collections import Counter
from functools import cache
from itertools import product

import pytest
from hypothesis import Phase, given, seed, settings

from builder.model.condition import Is, Not, asked, holds
from builder.proof.configurations import configurations
from builder.proof.failures import Flaw
from builder.proof.proving import relevant_cases
from builder.proof.track import track_of
from builder.proof.walk import single, walk
from tests.demo import LEAD, library
from tests.proof.plain_walk import plain_walk
from tests.proof.small_guides import ATTRIBUTES, libraries


def every_configuration(lib):
    """Each full configuration that the exclusions and the guide's `suits` leave, by trying them all."""
    names = sorted(ATTRIBUTES)
    guide = lib.guides["guide"]
    for cases in product(*(ATTRIBUTES[name].cases for name in names)):
        full = dict(zip(names, cases, strict=True))
        if holds(guide.suits, full) and not any(holds(exclusion.never, full) for exclusion in lib.exclusions):
            yield full


@settings(max_examples=100, deadline=None)
@given(libraries())
def test_the_walk_finds_just_the_failures_that_single_configurations_have(lib):
    track = track_of(lib.guides["guide"], lib)
    walked = walk(track)
    singly = {failure for cases in every_configuration(lib) for failure in single(track, cases)[1]}
    assert set(walked.failures) == singly


@settings(max_examples=100, deadline=None)
@given(libraries())
def test_a_plain_walk_that_shares_no_code_takes_the_same_paths_and_finds_the_same(lib):
    guide = lib.guides["guide"]
    walked = walk(track_of(guide, lib))
    plain = [plain_walk(guide, lib, cases) for cases in every_configuration(lib)]
    assert walked.paths == len({taken for taken, _ in plain})
    found = {(one.flaw.value, one.step, one.name, one.rule) for one in walked.failures}
    assert found == {wrong for _, all_wrong in plain for wrong in all_wrong}


@cache
def flaws_of_random_guides():
    """How many of some hundred random guides, the same in every run, go wrong in each way."""
    counted = Counter()

    @seed(20261125)
    @settings(max_examples=800, deadline=None, database=None, phases=[Phase.generate])
    @given(libraries())
    def draw(lib):
        counted.update({failure.flaw for failure in walk(track_of(lib.guides["guide"], lib)).failures})

    draw()
    return counted


@pytest.mark.parametrize("flaw", Flaw)
def test_the_random_guides_go_wrong_in_every_way(flaw):
    # One in a hundred and more, so that the hundred guides of a test above are likely to show it too.
    assert flaws_of_random_guides()[flaw] >= 8


@settings(max_examples=100, deadline=None)
@given(libraries())
def test_the_walk_counts_the_distinct_paths(lib):
    track = track_of(lib.guides["guide"], lib)
    paths = {single(track, cases)[0] for cases in every_configuration(lib)}
    assert walk(track).paths == len(paths)


@settings(max_examples=100, deadline=None)
@given(libraries())
def test_the_walk_reaches_just_the_steps_that_some_configuration_reaches(lib):
    track = track_of(lib.guides["guide"], lib)
    singly = {index for cases in every_configuration(lib) for index in single(track, cases)[0]}
    assert walk(track).reached == singly


@settings(max_examples=100, deadline=None)
@given(libraries())
def test_the_configurations_are_counted_over_what_the_guide_asks(lib):
    track = track_of(lib.guides["guide"], lib)
    walked = walk(track)
    every = list(every_configuration(lib))
    assert walked.configurations == len({tuple(cases[name] for name in walked.asked) for cases in every})
    if every:
        assert len(list(track.space.every(walked.asked))) == walked.configurations


@settings(max_examples=60, deadline=None)
@given(libraries())
def test_a_counter_example_fails_whatever_the_attributes_that_it_leaves_out(lib):
    track = track_of(lib.guides["guide"], lib)
    for failure, trace in walk(track).failures.items():
        needed = relevant_cases(track, failure, trace)
        assert needed.items() <= track.space.knowing.named(trace.cases).items()
        assert any(
            failure in single(track, cases)[1] for cases in every_configuration(lib) if needed.items() <= cases.items()
        )


def test_choices_follow_the_exclusions():
    space = configurations(library().guides[LEAD], library())
    assert set(space.choices("sprocket-mount", {"transmission": "derailleur"})) == {
        "nine-spline",
        "fine-spline",
        "threaded-nose",
        "screw-on",
    }
    assert not space.feasible({"transmission": "hub-gear"})


def test_no_rule_asks_for_an_attribute_without_cases():
    space = configurations(library().guides[LEAD], library())
    assert {question.attribute for rule in space.rules for question in asked(rule)} <= set(space.domains)
    assert Not(Is("transmission", ("hub-gear",))) != space.rules[-1]
