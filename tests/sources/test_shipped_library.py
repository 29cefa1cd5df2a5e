"""The shipped library as a whole: a workshop that can do what its guides ask, and a fleet that shows what they can."""

from __future__ import annotations

import pytest

from builder.build.examining import examined
from builder.build.order import Quiet
from builder.diagnostics.diagnostic import Gravity
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.planning.attributes import cases_of
from builder.proof.wrenches import workshop_reaches
from tests.demo import library, loaded

# What a community workshop meets, by the attribute that asks for it.
STANDARDS = {
    "sprocket-mount": {"nine-spline", "fine-spline", "threaded-nose", "screw-on", "three-lug"},
    "shell-kind": {"threaded-left-right", "threaded-both-right", "pressed"},
    "crank-fixing": {"square-taper", "splined-bolt", "pinch-bolt", "self-extracting"},
    "headset-kind": {"threadless", "threaded"},
    "rear-axle": {"quick-release", "bolt-through", "nutted"},
    "rear-brake": {"disc", "rim", "coaster", "drum", "rod"},
    "rear-fluid": {"mineral-oil", "dot", "none"},
    "suspension": {"rigid", "front", "full"},
    "fork-spring": {"air", "coil", "none"},
    "chainrings": {"one", "two", "three"},
    "transmission": {"derailleur", "hub-gear"},
    "shifting": {"cable", "electronic"},
    "joiner": {"reusable-link", "single-use-link", "joining-pin"},
    "battery": {"removable", "built-in", "none"},
    "post-material": {"steel", "aluminium", "carbon"},
    "rear-rotor-mount": {"six-bolt", "splined", "none"},
    "rear-tyre-seal": {"tube", "tubeless"},
    "drive-line": {"chain", "belt"},
}


def cases(bike: Bike) -> dict[str, str]:
    return cases_of(library(), bike, None)


def with_cases(**wanted: str) -> list[str]:
    """The bikes that have all these cases."""
    asked = {name.replace("_", "-"): case for name, case in wanted.items()}
    return [bike.id for bike in library().bikes.values() if asked.items() <= cases(bike).items()]


@pytest.mark.parametrize("attribute", STANDARDS)
def test_the_fleet_has_a_bike_of_every_standard_that_a_workshop_meets(attribute: str) -> None:
    found = {cases(bike).get(attribute) for bike in library().bikes.values()}
    assert STANDARDS[attribute] - found == set()


def test_the_fleet_has_fourteen_bikes_of_fourteen_uses() -> None:
    assert len(library().bikes) == 14
    assert len({bike.tag for bike in library().bikes.values()}) == 14
    # A touring bike, a town bike, a road bike, a gravel bike, an electric bike, a full-suspension bike.
    assert with_cases(chainrings="three")
    assert with_cases(transmission="hub-gear", rear_brake="coaster")
    assert with_cases(chainrings="two", rear_brake="rim")
    assert with_cases(rear_brake="disc", post_material="carbon", suspension="rigid")
    assert with_cases(battery="built-in")
    assert with_cases(suspension="full")


def test_every_guide_is_planned_for_some_bike() -> None:
    planned = {job.guide for bike in library().bikes.values() for job in bike.jobs}
    assert library().guides.keys() - planned == set()


def test_the_fleet_has_gaps_in_its_data() -> None:
    """A real bike comes with something unknown, and the cards must live with that."""
    lacking = {
        "chainstay": [
            b.id for b in library().bikes.values() if getattr(b.parts[Role.FRAME], "chainstay_mm", None) is None
        ],
        "links": [b.id for b in library().bikes.values() if b.measured.chain_links is None],
        "power": [b.id for b in library().bikes.values() if b.rider.power_w is None],
        "tyre room": [
            b.id for b in library().bikes.values() if getattr(b.parts[Role.FRAME], "rear_tyre_room_mm", None) is None
        ],
    }
    assert all(lacking.values()), lacking


def test_some_bikes_have_a_wear_book_and_some_have_none() -> None:
    counts = {len(bike.wear) for bike in library().bikes.values()}
    assert {0, 1, 2} <= counts
    assert sum(len(bike.wear) >= 3 for bike in library().bikes.values()) >= 4
    assert any(entry.renewed for bike in library().bikes.values() for entry in bike.wear)


def test_the_workshop_has_a_tool_for_every_head_and_a_torque_wrench_for_every_figure() -> None:
    assert workshop_reaches(library()) == ()


def test_the_home_kit_opens_what_a_rider_meets_on_the_road_and_has_no_torque_wrench() -> None:
    kit = [tool for tool in library().tools.values() if tool.home]
    heads = {head for tool in kit for head in tool.fits}
    assert {"hex-4", "hex-5", "hex-6", "nut-15", "pedal-flats", "hand-lever"} <= heads
    assert [tool.id for tool in kit if tool.torque_nm is not None] == []
    assert len(kit) < len(library().tools) / 2


def test_the_library_is_proven_and_gives_no_warning() -> None:
    """Only notes are left: fasteners and tools that the wall charts show and no guide needs yet."""
    found = examined(loaded(), 1, Quiet())
    assert [str(one) for one in found if one.gravity is not Gravity.NOTE] == []
    assert {one.rule for one in found} <= {"unreached"}
