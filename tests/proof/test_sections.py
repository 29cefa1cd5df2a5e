"""A group in which some bike finds nothing to do is a mistake, and so is one that keeps a bike from a step for it."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings

from builder.model.condition import ALWAYS, AnyOf, Is, holds
from builder.model.guide import Section, Step
from builder.proof.proving import prove
from builder.proof.sections import empty_sections, kept_out, told
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


def sheet_whose_brakes_are(*cases):
    """The yearly service with its group of the brakes for some brakes alone."""
    lib = library()
    guide = lib.guides["yearly-service"]
    when = AnyOf((Is("front-brake", cases), Is("rear-brake", cases)))
    work = tuple(replace(one, when=when) if one.title == "Measure the brakes" else one for one in guide.work)
    return replace(guide, work=work)


def test_a_group_for_disc_and_rim_brakes_keeps_the_rods_from_a_bike_that_has_nothing_else():
    track = track_of(sheet_whose_brakes_are("disc", "rim"), library())
    kept = {item.step.id: dict(cases) for item, _, cases in kept_out(track)}
    assert set(kept) == {"rod-pads", "brake-rods", "drum-adjusters", "front-arm", "coaster-arm"}
    assert "rod" in kept["rod-pads"].values()
    found = next(one for one in told(track) if "rod-pads" in one.message)
    assert found.message == "yearly-service: 'Measure the brakes' keeps step 'rod-pads' from a bike that it is for"
    assert "rod brake" in found.label


def test_a_group_that_names_every_bike_of_its_steps_keeps_none_out():
    track = track_of(sheet_whose_brakes_are("disc", "rim", "rod", "drum", "coaster"), library())
    assert list(kept_out(track)) == []


@settings(max_examples=50, deadline=None)
@given(libraries())
def test_just_the_steps_are_kept_out_that_some_single_configuration_is_kept_from(lib):
    guide = lib.guides["guide"]
    track = track_of(guide, lib)
    shared = {
        item.index
        for item in track.steps
        if item.section is not None
        and track.asked_by(item.conditions[1:])
        and set(track.asked_by((guide.work[item.section].when,))) & set(track.asked_by(item.conditions[1:]))
    }
    singly = {
        index
        for index in shared
        for cases in every_configuration(lib)
        if all(holds(one, cases) for one in track.steps[index].conditions[1:])
        and not holds(guide.work[track.steps[index].section].when, cases)
    }
    assert {item.index for item, _, _ in kept_out(track)} == singly
