"""Bikes and parts that contradict themselves are found, each at its line; the shipped ones do not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.bike import Bike
from builder.model.facts import Actuation, Fluid, Role
from builder.model.library import Library
from builder.model.parts import Brake, Cassette, Crankset, Fork, Frame, Hub, Pads, Part, Rim, Rotor, Shifter, Tyre
from builder.proof.part_records import parts_make_sense
from builder.proof.standing import standing_diagnostics
from tests.demo import library


def with_bike(bike: Bike) -> Library:
    return replace(library(), bikes={bike.id: bike})


def changed(bike_id: str, **parts: Part | str) -> Bike:
    """A bike of the fleet with other parts: `rear_tyre="ty-60-584"`, or a part written out."""
    bike = library().bikes[bike_id]
    put = {
        Role(role.replace("_", "-")): library().parts[part] if isinstance(part, str) else part
        for role, part in parts.items()
    }
    return replace(bike, parts={**bike.parts, **put})


def like(bike_id: str, role: Role, **facts: object) -> Part:
    """The part that the bike has in `role`, with some facts changed, as if it were written in the bike's file."""
    return replace(library().bikes[bike_id].parts[role], id="", **facts)  # type: ignore[arg-type]


def findings(bike: Bike) -> tuple[Diagnostic, ...]:
    return standing_diagnostics(with_bike(bike))


def test_no_shipped_bike_and_no_shipped_part_contradicts_itself() -> None:
    assert standing_diagnostics(library()) == ()


CONTRADICTIONS = [
    ("a 584 tyre on a 622 rim", changed("heron", rear_tyre="ty-60-584"), "Tyre and rim diameter (rear)", "rear-tyre"),
    ("a splined rotor on six bolts", changed("heron", front_rotor="ro-180-splined"), "Rotor and hub", "front-rotor"),
    (
        "a bolt-through frame with a quick-release hub",
        changed("marten", rear_hub="hub-r-qr-135-disc"),
        "Axle and dropouts (rear)",
        "rear-hub",
    ),
    ("a rotor that is too large", changed("dunlin", rear_rotor="ro-203-splined"), "Rotor diameter", "rear-rotor"),
    ("rim pads in a disc brake", changed("heron", rear_pads="pa-rim-long"), "Pads and brake (rear)", "rear-pads"),
    ("a rim brake at posts", changed("heron", rear_brake="br-rim-long"), "Brake mount (rear)", "rear-brake"),
    ("fine splines on a nine-spline body", changed("heron", cassette="cs-10-51-12s"), "their mount", "cassette"),
    ("ten clicks for eleven sprockets", changed("heron", rear_shifter="sh-10s"), "Positions", "rear-shifter"),
    (
        "an electronic shifter and a cable derailleur",
        changed("heron", rear_shifter="sh-12s-wireless"),
        "Cable or electronic",
        "rear-derailleur",
    ),
    ("a chain of nine speeds for eleven", changed("heron", chain="ch-9s-116"), "Width of the chain", "chain"),
    ("a large cassette on a short cage", changed("heron", cassette="cs-11-50-11s"), "Capacity", "rear-derailleur"),
    (
        "two pinch bolts on a square",
        changed("kestrel", crankset="ck-34"),
        "Cranks and bottom bracket",
        "bottom-bracket",
    ),
    (
        "a bracket for another shell",
        changed("kestrel", bottom_bracket="bb-splined-70"),
        "Bottom bracket and shell",
        "bottom-bracket",
    ),
    ("child's pedals in usual cranks", changed("heron", pedals="pe-child"), "Pedal and crank thread", "pedals"),
    ("a post thicker than its tube", changed("kestrel", seat_post="po-309-350"), "Clamp and part", "seat-post"),
    ("oval rails in round jaws", changed("heron", saddle="sa-carbon"), "Saddle rails", "seat-post"),
    ("36 spokes in 32 holes", changed("heron", rear_rim="ri-559-25"), "Spokes of rim and hub (rear)", "rear-rim"),
    (
        "a tyre that is wider than the frame",
        changed("fieldfare", rear_tyre="ty-57-622"),
        "Room for the tyre (rear)",
        "rear-tyre",
    ),
    (
        "a threaded steerer in a threadless headset",
        changed("coot", headset=like("heron", Role.HEADSET)),
        "Steerer",
        "headset",
    ),
    ("a shock of another length", changed("marten", shock="sk-coil-55"), "Shock and frame", "shock"),
    (
        "a through axle of another thread",
        changed("dunlin", rear_through_axle="ta-r-148"),
        "Through axle (rear)",
        "axle",
    ),
    ("a pear nipple in a barrel seat", changed("kestrel", rear_brake_cable="cb-brake-pear"), "Brake cable", "cable"),
    (
        "a front derailleur for two rings on three",
        changed("wren", front_derailleur="fd-two-53"),
        "Front derailleur and chainrings",
        "front-derailleur",
    ),
    (
        "a long-pull lever at short-pull arms",
        changed("fieldfare", rear_brake_lever="bl-long"),
        "Brake lever and brake (rear)",
        "brake",
    ),
]


@pytest.mark.parametrize(
    ("bike", "title", "place"), [row[1:] for row in CONTRADICTIONS], ids=[row[0] for row in CONTRADICTIONS]
)
def test_a_bike_that_can_not_be_is_found_at_the_line_of_the_part(bike: Bike, title: str, place: str) -> None:
    found = [one for one in findings(bike) if title in one.message]
    assert found, [one.message for one in findings(bike)]
    assert all(one.rule == "standing" and one.hints[0] for one in found)
    lines = {key: at for key, at in bike.places.keys if key.startswith("parts.") and key.endswith(place)}
    if lines:
        assert {one.at for one in found} <= set(lines.values())


def test_what_is_not_known_contradicts_nothing() -> None:
    blank = Bike(id="blank", name="Blank", parts={Role.FRAME: Frame(name=""), Role.FORK: Fork(name="")})
    assert findings(blank) == ()


def test_a_worn_chain_is_no_contradiction() -> None:
    heron = library().bikes["heron"]
    length = heron.measured.chain_length_mm
    assert length is not None
    worn = replace(heron, measured=replace(heron.measured, chain_length_mm=replace(length, value=309.0)))
    assert findings(worn) == ()


@pytest.mark.parametrize(
    ("part", "words"),
    [
        (Rotor(name="R", new_thickness_mm=1.5, least_thickness_mm=1.8), "worn out when it is new"),
        (Pads(name="P", new_thickness_mm=2.0, least_thickness_mm=2.0), "worn out when it is new"),
        (Tyre(name="T", least_pressure_bar=5.0, greatest_pressure_bar=3.0), "above the greatest"),
        (Cassette(name="C", sprockets=(11, 13, 12)), "not in order"),
        (Cassette(name="C", sprockets=(11, 13, 13)), "not in order"),
        (Crankset(name="K", rings=(34, 50, 42)), "not in order"),
        (Rim(name="F", spokes=31), "not even"),
        (Rim(name="F", spoke_bed_mm=630.0, bead_seat_mm=622.0), "outside the bead seat"),
        (Hub(name="H", spoke_holes=27), "not even"),
        (Hub(name="H", lowest_gear=1.5, highest_gear=0.6), "above the highest"),
        (Brake(name="B", actuation=Actuation.HYDRAULIC, fluid=Fluid.NONE), "has a fluid"),
        (Brake(name="B", actuation=Actuation.NONE, fluid=Fluid.DOT), "holds no fluid"),
    ],
    ids=lambda one: one if isinstance(one, str) else type(one).__name__,
)
def test_a_part_whose_figures_contradict_it_is_found(part: Part, words: str) -> None:
    alone = replace(library(), parts={"x": replace(part, id="x")}, bikes={})
    assert [words in one.message for one in parts_make_sense(alone)] == [True]


def test_a_part_that_is_written_in_a_bike_is_looked_at_too() -> None:
    bike = Bike(id="b", name="B", parts={Role.REAR_SHIFTER: Shifter(name=""), Role.REAR_RIM: Rim(name="F", spokes=31)})
    found = parts_make_sense(replace(library(), parts={}, bikes={"b": bike}))
    assert [one.rule for one in found] == ["part-figures"]
