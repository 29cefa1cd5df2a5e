"""What stops a job stands once, and is something that a bike of the guide can have."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.guide import Guide
from builder.proof.stops import stops_help
from tests.demo import library


def told(guide: Guide) -> list[str]:
    return [one.message for one in stops_help(replace(library(), guides={guide.id: guide}))]


def test_no_guide_of_the_library_says_a_stop_twice_or_for_nothing() -> None:
    assert [one.message for one in stops_help(library())] == []


@pytest.mark.parametrize(
    ("before", "later", "twice"),
    [
        ("The frame is cracked or its dropout is bent.", "The dropout is bent or cracked.", True),
        ("The axle is bent.", "The axle is bent, or its thread is damaged.", False),
        ("The cable is frayed.", "A brake does not pass its test.", False),
    ],
)
def test_a_stop_that_is_said_twice_is_told(before: str, later: str, twice: bool) -> None:
    guide = replace(library().guides["hanger-replaced"], not_when=(before,), mechanic_when=(later,))
    assert any("says again" in message for message in told(guide)) is twice


@pytest.mark.parametrize(
    ("name", "line", "idle"),
    [
        ("front-rim-brake-pads-replaced", "The brake is hydraulic.", True),
        ("rear-inner-tube-replaced", "The tyre is tubeless.", True),
        ("chain-replaced-and-sized", "The bike has a gear hub.", True),
        ("pedals-fitted", "The bike has a gear hub.", False),
        ("front-disc-pads-replaced", "The brake is hydraulic.", False),
    ],
)
def test_a_stop_that_no_bike_of_the_guide_can_come_to_is_told(name: str, line: str, idle: bool) -> None:
    guide = replace(library().guides[name], not_when=(line,), mechanic_when=())
    assert any("keeps from such a bike already" in message for message in told(guide)) is idle
