"""A group of steps in which some bike finds nothing to do is a mistake: what its heading promises is not done."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings

from builder.model.condition import ALWAYS, Is, holds
from builder.model.guide import Section, Step
from builder.proof.proving import prove
from builder.proof.sections import empty_sections, told
from builder.proof.track import track_of
from tests.demo import library
from tests.proof.small_guides import libraries
from tests.proof.test_walk import every_configuration

JOB = "front-disc-pads-replaced"


def with_group(when):
    """The guide of the pads with a group of one step besides, for some bikes."""
    lib = library()
    guide = lib.guides[JOB]
    step = Step(id="idle", do="Clean the lever.", when=Is("front-brake", ("rim",)))
    return replace(guide, work=(*guide.work, Section(title="Clean the lever", when=when, steps=(step,))))


def test_no_group_of_the_library_is_empty_for_a_bike_that_comes_to_it():
    assert [one.message for guide in library().guides.values() for one in told(track_of(guide, library()))] == []


def test_a_group_whose_only_step_is_for_other_bikes_is_empty():
    guide = with_group(ALWAYS)
    (found,) = [one for one in prove(guide, library(), counting=False).diagnostics if one.rule == "proof-empty"]
    assert found.message == f"{JOB}: a bike finds no step under 'Clean the lever'"
    assert found.label == "for a bike with a front disc brake"


def test_a_group_with_a_condition_is_asked_about_its_own_bikes_alone():
    guide = with_group(Is("front-brake", ("rim",)))
    assert list(empty_sections(track_of(guide, library()))) == []


@settings(max_examples=100, deadline=None)
@given(libraries())
def test_just_the_groups_are_found_that_some_single_configuration_finds_empty(lib):
    guide = lib.guides["guide"]
    singly = {
        section.title
        for section in guide.work
        for cases in every_configuration(lib)
        if holds(section.when, cases) and not any(holds(step.when, cases) for step in section.steps)
    }
    assert {section.title for section, _ in empty_sections(track_of(guide, lib))} == singly
