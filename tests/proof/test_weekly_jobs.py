"""Jobs of every week in a workshop: what would go wrong in them is found, and what they can not do is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.facts import (
    CableSide,
    DropperLine,
    EndCaps,
    FrontMount,
    Hanger,
    HeadsetKind,
    HubCable,
    Role,
    ShifterMount,
)
from builder.model.guide import Step
from builder.model.library import Library
from builder.model.parts import SeatPost
from builder.proof.jobs import Job, Ready, Refused, work_out
from builder.proof.proving import prove
from tests.demo import library

POST = "po-316-dropper"
FRONT = "fd-three-48"


def edited(guide: str, step_id: str, **changes: object) -> Library:
    """The library with one step of a guide changed; without `changes` the step is left out."""
    old = library().guides[guide]

    def kept(steps: tuple[object, ...]) -> tuple[object, ...]:
        return tuple(
            replace(one, **changes) if isinstance(one, Step) and one.id == step_id else one  # type: ignore[arg-type]
            for one in steps
            if changes or not (isinstance(one, Step) and one.id == step_id)
        )

    work = tuple(replace(section, steps=kept(section.steps)) for section in old.work)  # type: ignore[arg-type]
    test = kept(old.test)
    assert (work, test) != (old.work, old.test)
    return replace(library(), guides={**library().guides, guide: replace(old, work=work, test=test)})  # type: ignore[arg-type]


def told(guide: str, lib: Library) -> str:
    return " | ".join(one.message for one in prove(lib.guides[guide], lib, counting=False).diagnostics)


@pytest.mark.parametrize(
    "guide",
    [
        "front-gear-cable-replaced",
        "stiff-link-freed",
        "chainrings-replaced",
        "pressed-bracket-replaced",
        "dropper-post-fitted",
        "belt-tension-set",
        "rod-brakes-set",
        "front-rod-brake-pads-replaced",
        "rear-rod-brake-pads-replaced",
        "front-derailleur-replaced",
        "hub-gear-cable-replaced",
        "front-brake-lever-replaced",
        "front-cartridge-bearings-replaced",
        "single-chainring-fitted",
        "chain-mended-on-the-road",
    ],
)
def test_the_job_is_proven_over_every_bike_that_it_suits(guide: str) -> None:
    assert told(guide, library()) == ""


@pytest.mark.parametrize(
    ("guide", "step", "words"),
    [
        ("front-gear-cable-replaced", "guide-cable", "the housing of the front gear cable"),
        ("stiff-link-freed", "try-link", "the stiff link of this job"),
        ("stiff-link-freed", "turn-all-round", "the stiff link of this job is freed and not yet tried"),
        ("chainrings-replaced", "tighten-small-ring", "the smallest of three chainrings"),
        ("chainrings-replaced", "grease-ring-bolts", "grease"),
        ("pressed-bracket-replaced", "left-in", "the left bearing of the pressed-in bottom bracket"),
        ("pressed-bracket-replaced", "inspect-shell", "to inspect the frame"),
        ("front-derailleur-replaced", "draw-cable", "the front gear cable"),
        ("front-derailleur-replaced", "derailleur-off", "the front derailleur"),
        ("front-derailleur-replaced", "on-band", "the front derailleur"),
        ("front-derailleur-replaced", "thread-cable", "the front gear cable"),
        ("front-derailleur-replaced", "large-sprocket", "the selected sprocket"),
        ("belt-tension-set", "tighten-axle-nuts", "the rear axle nuts"),
        ("hub-gear-cable-replaced", "tighten-bolt", "the clamp bolt on the cable of the gear hub"),
        ("hub-gear-cable-replaced", "adjuster-on", "the cable of the gear hub is"),
        ("front-brake-lever-replaced", "close-release", "the front rim brake"),
        ("front-cartridge-bearings-replaced", "caps-on", "the pair of end caps of this hub"),
        ("front-cartridge-bearings-replaced", "rock-in-bike", "the play of the new hub bearings"),
        ("single-chainring-fitted", "tighten-ring-bolts", "the chainring of this job"),
        ("chain-mended-on-the-road", "join-ends", "the chain is"),
        ("dropper-post-fitted", "tighten-lever", "the lever of the dropper post"),
        ("dropper-post-fitted", "back-up", "the test of the dropper post is still to do"),
        ("dropper-post-fitted", "grease-post", "to apply the seat post"),
    ],
)
def test_a_step_that_is_left_out_is_missed(guide: str, step: str, words: str) -> None:
    assert words in told(guide, edited(guide, step))


@pytest.mark.parametrize(
    ("guide", "procedure", "step", "words"),
    [
        ("rod-brakes-set", "front-rod-set", "front-rod-tight", "the rod of the front brake"),
        ("rod-brakes-set", "rear-rod-set", "rear-gap", "the rod of the rear brake"),
        ("front-rod-brake-pads-replaced", "rod-pads-on", "tighten-pads", "the nuts of the rod brake pads"),
        ("rear-rod-brake-pads-replaced", "rod-pads-on", "pads-on", "the pair of rod brake pads"),
        ("front-derailleur-replaced", "front-low-limit", "low-limit", "the pair of limit screws"),
        ("front-derailleur-replaced", "front-cage-place", "tighten-mount", "the front derailleur"),
        ("front-derailleur-replaced", "front-cable-end", "cap-cable", "the end of the front gear cable is bare"),
        ("front-gear-cable-replaced", "front-tape-wound", "wind-tape", "the handlebar tape on the side of the front"),
    ],
)
def test_a_step_that_several_jobs_share_is_missed_where_it_is_left_out(
    guide: str, procedure: str, step: str, words: str
) -> None:
    old = library().procedures[procedure]
    steps = tuple(one for one in old.steps if not (isinstance(one, Step) and one.id == step))
    assert steps != old.steps
    faulty = replace(library(), procedures={**library().procedures, procedure: replace(old, steps=steps)})
    assert words in told(guide, faulty)


@pytest.mark.parametrize(
    ("guide", "step", "tools", "words"),
    [
        ("pressed-bracket-replaced", "right-in", ("soft-mallet",), "bearing press"),
        ("pressed-bracket-replaced", "right-out", ("soft-mallet",), "bearing puller"),
        ("front-gear-cable-replaced", "cut-housing", ("cable-cutter",), "safety glasses"),
        ("dropper-post-fitted", "cut-cable", ("cable-cutter",), "safety glasses"),
        ("chainrings-replaced", "loosen-small-ring", ("hex-key-set",), "work gloves"),
    ],
)
def test_a_tool_that_hurts_the_bike_or_the_hand_is_found(
    guide: str, step: str, tools: tuple[str, ...], words: str
) -> None:
    assert words in told(guide, edited(guide, step, tools=tools))


def outcome(guide: str, post: SeatPost) -> object:
    lib = replace(library(), parts={**library().parts, POST: post})
    return work_out(Job(guide=lib.guides[guide], bike=lib.bikes["marten"], parts=(POST,)), lib)


def dropper() -> SeatPost:
    part = library().parts[POST]
    assert isinstance(part, SeatPost)
    return part


def test_a_dropper_post_with_a_cable_at_its_lever_is_planned() -> None:
    ready = outcome("dropper-post-fitted", dropper())
    assert isinstance(ready, Ready)
    assert any(step.step.id == "free-play" for step in ready.tailored.steps)


@pytest.mark.parametrize("line", [DropperLine.CLAMPED_AT_POST, DropperLine.HYDRAULIC, DropperLine.ELECTRONIC])
def test_a_dropper_post_with_another_line_is_refused_with_its_reason(line: DropperLine) -> None:
    refused = outcome("dropper-post-fitted", replace(dropper(), dropper_line=line))
    assert isinstance(refused, Refused)
    assert "clamped at a lever" in refused.reason


def test_a_gear_hub_with_a_box_of_two_cables_is_refused_with_its_reason() -> None:
    coot = library().bikes["coot"]
    hub = replace(coot.parts[Role.REAR_HUB], cable_joint=HubCable.TWO_CABLES)  # type: ignore[call-arg]
    bike = replace(coot, parts={**coot.parts, Role.REAR_HUB: hub})
    refused = work_out(Job(guide=library().guides["hub-gear-cable-replaced"], bike=bike), library())
    assert isinstance(refused, Refused)
    assert "Two cables that end in a box" in refused.reason


def test_a_dropper_post_is_not_put_in_as_if_it_were_a_plain_one() -> None:
    refused = outcome("saddle-and-seat-post-fitted", dropper())
    assert isinstance(refused, Refused)
    assert "the bike has a seat post without a lever, and the new part is a dropper post" in refused.reason


def test_a_dropper_post_of_another_diameter_does_not_go_in() -> None:
    other = outcome("dropper-post-fitted", replace(dropper(), diameter_mm=30.9))
    assert isinstance(other, Ready)
    assert [reason.partition(":")[0] for reason in other.trouble] == ["Clamp and part diameter"]


def front_derailleur(**changes: object) -> object:
    """What comes of a new front derailleur on a bike with a band of 28.6 mm, whose cable comes from below."""
    part = replace(library().parts[FRONT], **changes)  # type: ignore[arg-type]
    lib = replace(library(), parts={**library().parts, FRONT: part})
    return work_out(Job(guide=lib.guides["front-derailleur-replaced"], bike=lib.bikes["wren"], parts=(FRONT,)), lib)


def test_a_front_derailleur_that_suits_the_bike_is_planned_with_its_limits_after_the_old_one() -> None:
    ready = front_derailleur()
    assert isinstance(ready, Ready)
    assert ready.trouble == ()
    steps = [step.step.id for step in ready.tailored.steps]
    order = ["cap-off", "loosen-mount", "draw-cable", "derailleur-off", "on-band", "tighten-mount", "thread-cable"]
    order += ["low-limit", "tighten-cable", "cap-cable", "high-limit", "force-off", "firm-in-each-gear"]
    assert [one for one in steps if one in order] == order
    assert {"on-tab", "on-frame"} & {*steps} == set()


@pytest.mark.parametrize(
    ("changes", "check"),
    [
        ({"band_mm": 25.4}, "Mount of the front derailleur"),
        ({"front_cable": CableSide.ABOVE}, "Cable of the front derailleur"),
        ({"speeds": (11,)}, "Chain in the front cage"),
        ({"shift_standard": "front, two rings"}, "Pull of the front shifter"),
        ({"capacity_teeth": 16}, "Front derailleur and chainrings"),
        ({"largest_ring": 44}, "Front derailleur and chainrings"),
    ],
)
def test_a_front_derailleur_that_does_not_suit_is_named_by_the_check(changes: dict[str, object], check: str) -> None:
    ready = front_derailleur(**changes)
    assert isinstance(ready, Ready)
    assert [reason.partition(":")[0] for reason in ready.trouble] == [check]


@pytest.mark.parametrize("mount", [FrontMount.BRAZE_ON, FrontMount.BRACKET])
def test_a_front_derailleur_for_another_mount_is_refused_with_its_reason(mount: FrontMount) -> None:
    refused = front_derailleur(front_mount=mount)
    assert isinstance(refused, Refused)
    assert "for the same mount" in refused.reason


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("shifter", [Role.FRONT_SHIFTER, Role.REAR_SHIFTER])
def test_a_lever_that_works_a_gear_is_refused_where_a_lever_of_its_own_is_meant(end: str, shifter: Role) -> None:
    wren = library().bikes["wren"]
    guide = library().guides[f"{end}-brake-lever-replaced"]
    assert isinstance(work_out(Job(guide=guide, bike=wren), library()), Ready)
    both = replace(wren.parts[shifter], mount=ShifterMount.BRAKE_LEVER)  # type: ignore[call-arg]
    refused = work_out(Job(guide=guide, bike=replace(wren, parts={**wren.parts, shifter: both})), library())
    assert isinstance(refused, Refused)
    assert "a shifter too" in refused.reason


def test_the_hood_and_the_tape_are_opened_on_the_side_of_the_front_shifter_alone() -> None:
    fieldfare = library().bikes["fieldfare"]
    guide = library().guides["front-gear-cable-replaced"]
    own = replace(fieldfare.parts[Role.FRONT_SHIFTER], mount=ShifterMount.OWN_CLAMP)  # type: ignore[call-arg]
    without = replace(fieldfare, parts={**fieldfare.parts, Role.FRONT_SHIFTER: own})
    for bike, opened in ((fieldfare, True), (without, False)):
        ready = work_out(Job(guide=guide, bike=bike), library())
        assert isinstance(ready, Ready)
        assert any(step.step.id == "fold-hood" for step in ready.tailored.steps) is opened


@pytest.mark.parametrize(("bike_id", "said"), [("dipper", False), ("wren", True)])
def test_a_bike_without_a_shifter_is_told_of_none(bike_id: str, said: bool) -> None:
    bike = library().bikes[bike_id]
    threadless = replace(bike.parts[Role.HEADSET], headset_kind=HeadsetKind.THREADLESS)  # type: ignore[call-arg]
    bike = replace(bike, parts={**bike.parts, Role.HEADSET: threadless})
    ready = work_out(Job(guide=library().guides["stem-and-handlebar-fitted"], bike=bike), library())
    assert isinstance(ready, Ready)
    assert any("each shifter" in step.do for step in ready.tailored.steps) is said


def test_a_belt_gets_a_tension_and_no_slack_oil_or_link() -> None:
    teal = library().bikes["teal"]
    for guide in ("rear-wheel-out-and-in", "yearly-service", "belt-tension-set"):
        ready = work_out(Job(guide=library().guides[guide], bike=teal), library())
        assert isinstance(ready, Ready)
        texts = [step.do for step in ready.tailored.steps]
        assert any("belt" in text for text in texts)
        assert [text for text in texts if "chain" in text.replace("chainring", "").replace("chainstay", "")] == []


def test_a_belt_that_comes_off_under_tension_is_found() -> None:
    out = library().procedures["rear-wheel-out"]
    steps = tuple(one for one in out.steps if one.id != "push-wheel-forward-belt")  # type: ignore[union-attr]
    faulty = replace(library(), procedures={**library().procedures, out.id: replace(out, steps=steps)})
    assert "the tension of the belt" in told("rear-wheel-out-and-in", faulty)


@pytest.mark.parametrize("guide", ["drivetrain-cleaned", "stiff-link-freed", "chain-wear-check"])
def test_a_belt_is_refused_where_only_a_chain_is_meant(guide: str) -> None:
    refused = work_out(Job(guide=library().guides[guide], bike=library().bikes["teal"]), library())
    assert isinstance(refused, Refused)
    assert "belt" in refused.reason.lower()


def test_a_wheel_between_the_pads_of_a_rod_brake_gets_its_stirrup_out_of_the_way_and_back() -> None:
    for end in ("front", "rear"):
        ready = work_out(
            Job(guide=library().guides[f"{end}-wheel-out-and-in"], bike=library().bikes["dipper"]), library()
        )
        assert isinstance(ready, Ready)
        steps = [step.step.id for step in ready.tailored.steps]
        assert steps.index("open-rod-brake") < steps.index("close-rod-brake") < steps.index("hold-rods")
        assert {"open-rim-brake", "hold-cable", "hold-hydraulic"} & {*steps} == set()


def test_a_motor_gets_its_pulse_back_wherever_its_magnet_sits() -> None:
    for bike, step in (("plover", "magnet-on-spoke"), ("dotterel", "magnet-on-wheel")):
        ready = work_out(Job(guide=library().guides["rear-wheel-out-and-in"], bike=library().bikes[bike]), library())
        assert isinstance(ready, Ready)
        steps = [one.step.id for one in ready.tailored.steps]
        assert steps.index("wheel-out-past-cage") < steps.index(step) < steps.index("magnet-sensed")
    without = work_out(Job(guide=library().guides["rear-wheel-out-and-in"], bike=library().bikes["wren"]), library())
    assert isinstance(without, Ready)
    assert [one.do for one in without.tailored.steps if "magnet" in one.do] == []


@pytest.mark.parametrize("procedure", ["speed-magnet-set", "rear-wheel-test"])
def test_a_magnet_that_nobody_looks_at_again_is_found(procedure: str) -> None:
    old = library().procedures[procedure]
    steps = tuple(one for one in old.steps if not one.id.startswith("magnet"))  # type: ignore[union-attr]
    faulty = replace(library(), procedures={**library().procedures, procedure: replace(old, steps=steps)})
    assert "the magnet of the speed sensor" in told("rear-wheel-out-and-in", faulty)


@pytest.mark.parametrize(("bike", "words"), [("dunlin", "a drop handlebar"), ("wagtail", "for a rim brake or a disc")])
def test_a_lever_that_is_more_than_a_lever_is_refused(bike: str, words: str) -> None:
    refused = work_out(Job(guide=library().guides["front-brake-lever-replaced"], bike=library().bikes[bike]), library())
    assert isinstance(refused, Refused)
    assert words in refused.reason


def test_screwed_end_caps_are_refused_with_their_reason() -> None:
    marten = library().bikes["marten"]
    hub = replace(marten.parts[Role.FRONT_HUB], end_caps=EndCaps.SCREWED)  # type: ignore[call-arg]
    bike = replace(marten, parts={**marten.parts, Role.FRONT_HUB: hub})
    refused = work_out(Job(guide=library().guides["front-cartridge-bearings-replaced"], bike=bike), library())
    assert isinstance(refused, Refused)
    assert "Caps that are screwed on" in refused.reason


def test_an_extender_below_the_hanger_is_refused_with_its_reason() -> None:
    heron = library().bikes["heron"]
    frame = replace(heron.parts[Role.FRAME], hanger=Hanger.EXTENDED)  # type: ignore[call-arg]
    bike = replace(heron, parts={**heron.parts, Role.FRAME: frame})
    job = Job(guide=library().guides["wider-range-cassette"], bike=bike, parts=("cs-11-50-11s",))
    refused = work_out(job, library())
    assert isinstance(refused, Refused)
    assert "extender" in refused.reason


def test_what_a_conversion_takes_off_is_neither_judged_nor_missed() -> None:
    guide, bike = library().guides["single-chainring-fitted"], library().bikes["fieldfare"]
    ready = work_out(Job(guide=guide, bike=bike, parts=("ck-38-splined",)), library())
    assert isinstance(ready, Ready)
    plan = ready.tailored.plan
    assert plan is not None
    assert {Role.FRONT_DERAILLEUR, Role.FRONT_SHIFTER} <= plan.after.without
    assert ready.trouble == ()
    # Its chain stays, so that nobody is told to how many links one is cut.
    assert not {"chain-length", "chain-ends"} & {one.check for one in plan.checks}
    kept = work_out(Job(guide=replace(guide, drops=()), bike=bike, parts=("ck-38-splined",)), library())
    assert isinstance(kept, Ready)
    assert any("Front derailleur" in line for line in kept.trouble)
    assert "the cable clamp bolt of the front derailleur" in told(
        guide.id, replace(library(), guides={**library().guides, guide.id: replace(guide, drops=())})
    )


def test_a_card_counts_the_bolts_that_the_bike_has() -> None:
    ready = work_out(Job(guide=library().guides["chainring-replaced"], bike=library().bikes["dunlin"]), library())
    assert isinstance(ready, Ready)
    counts = {one.torque.fastener.id: one.torque.count for one in ready.tailored.steps if one.torque is not None}
    assert counts["chainring-bolts"] == 5
