"""A guide that takes a part does for one like the old one, and says what else there is where it does not."""

from __future__ import annotations

import pytest

from builder.model.facts import Role
from builder.model.parts import roles_of
from builder.planning import PlanError, wanted_parts
from builder.proof.jobs import Job, Outcome, Ready, Refused, work_out
from tests.demo import library


def outcome(guide: str, bike: str, *parts: str) -> Outcome:
    job = Job(guide=library().guides[guide], bike=library().bikes[bike], parts=parts, planned=False)
    return work_out(job, library())


@pytest.mark.parametrize(
    ("guide", "bike", "part"),
    [
        ("rear-disc-pads-replaced", "heron", "pa-disc-metal"),
        ("front-rotor-fitted", "heron", "ro-160-six"),
        ("saddle-and-seat-post-fitted", "heron", "po-309-350"),
        ("pedals-fitted", "heron", "pe-town"),
        ("crankset-off-and-on", "heron", "ck-32"),
        ("rear-rim-brake-pads-replaced", "kestrel", "pa-rim-long"),
        ("rear-rim-brake-cable-replaced", "kestrel", "cb-brake-barrel"),
        ("gear-cable-replaced", "heron", "cb-gear"),
        ("bottom-bracket-replaced", "kestrel", "bb-square-68"),
    ],
)
def test_a_part_that_is_like_the_old_one_goes_on_with_the_guide(guide: str, bike: str, part: str) -> None:
    found = outcome(guide, bike, part)
    assert isinstance(found, Ready)
    assert found.trouble == ()
    plan = found.tailored.plan
    assert plan is not None
    assert [bought.id for bought in plan.bought] == [part]


@pytest.mark.parametrize("guide", ["rear-disc-pads-replaced", "pedals-fitted", "saddle-and-seat-post-fitted"])
def test_without_a_part_the_guide_is_about_the_part_as_it_is(guide: str) -> None:
    assert isinstance(outcome(guide, "heron"), Ready)


@pytest.mark.parametrize(
    ("guide", "bike", "part", "words"),
    [
        # 34 + 42 teeth at 432 mm want 110 links, where 108 are on the bike.
        ("crankset-off-and-on", "heron", "ck-34", "the chain must change too"),
        ("crankset-off-and-on", "heron", "ck-38", "the bottom bracket must change too"),
        ("saddle-and-seat-post-fitted", "heron", "po-272-350", "fits with care alone"),
        # The old ones come off with a spanner, the new ones go on with a key: the steps of one guide are not both.
        ("pedals-fitted", "heron", "pe-clip", "pedals with an 8 mm socket in the axle"),
        ("rear-tubeless-tyre-fitted", "heron", "ty-50-622", "an inner tube in the rear tyre"),
    ],
)
def test_a_part_that_is_another_matter_is_refused_with_the_reason(guide: str, bike: str, part: str, words: str) -> None:
    found = outcome(guide, bike, part)
    assert isinstance(found, Refused)
    assert words in found.reason


def test_a_post_of_another_material_is_put_on_as_that_material_asks() -> None:
    def wordings(part: str) -> str:
        found = outcome("saddle-and-seat-post-fitted", "kestrel", part)
        assert isinstance(found, Ready), found
        return " ".join(step.do for section in found.tailored.sections for step in section.steps)

    assert "paste" in wordings("po-272-carbon")
    assert "paste" not in wordings("po-272-350")


def test_a_part_that_a_guide_does_not_plan_for_is_refused() -> None:
    for guide in library().guides.values():
        places = {*guide.wants, *guide.takes}
        for part, kind in (("sa-carbon", "saddle"), ("rd-11s-51", "rear-derailleur"), ("ty-57-622", "tyre")):
            if not places & set(roles_of(kind)):
                with pytest.raises(PlanError, match="this guide plans for"):
                    wanted_parts(guide, (part,), library())


def test_no_place_is_both_wanted_and_taken() -> None:
    for guide in library().guides.values():
        assert not set(guide.wants) & set(guide.takes)
        assert len(set(guide.takes)) == len(guide.takes)


def test_a_cable_without_its_place_is_asked_for_it() -> None:
    with pytest.raises(PlanError, match="rear-brake-cable=cb-gear"):
        wanted_parts(None, ("cb-gear",), library())
    assert set(wanted_parts(None, ("rear-shift-cable=cb-gear",), library())) == {Role.REAR_SHIFT_CABLE}
