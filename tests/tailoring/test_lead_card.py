"""The lead job's card for each bike of the fleet: the right steps, every number in place, everything gathered."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from builder.model.bike import Bike
from builder.model.catalogue import SignalWord
from builder.model.facts import MotorPlace, Role, Spring
from builder.model.parts import RearDerailleur
from builder.planning import plan_job, wanted_parts
from builder.tailoring import CannotTailor, NotSuited, tailor
from tests.demo import LEAD, lead_card, lead_plan, library

SUITED = ["heron", "kestrel", "plover", "marten", "wren", "dunlin", "linnet"]


def ids(tailored):
    return [step.step.id for step in tailored.steps]


@pytest.mark.parametrize("bike_id", SUITED)
def test_no_value_is_left_unfilled(bike_id):
    card = lead_card(bike_id)
    texts = [card.purpose, card.done_when, *card.before]
    texts += [text for s in card.steps for text in (s.do, s.why, s.prove, s.limit, *(do for do, _ in s.choose))]
    assert not [text for text in texts if "{{" in text or "}}" in text]


@pytest.mark.parametrize("bike_id", SUITED)
def test_steps_are_numbered_in_order_from_one(bike_id):
    card = lead_card(bike_id)
    assert [step.number for step in card.steps] == list(range(1, len(card.steps) + 1))


@pytest.mark.parametrize("bike_id", SUITED)
def test_at_most_nine_steps_stand_between_two_pauses(bike_id):
    since = 0
    for step in lead_card(bike_id).steps:
        since += 1
        assert since <= 9
        since = 0 if step.pause else since


@pytest.mark.parametrize("bike_id", SUITED)
def test_every_step_of_the_guide_is_on_the_card_or_left_out_with_a_reason(bike_id):
    card, generic = lead_card(bike_id), tailor(library().guides[LEAD], library())
    shown = {step.anchor for step in card.steps}
    left_out = {step.step for step in card.left_out}
    assert {step.anchor for step in generic.steps} <= shown | left_out
    assert all("This one has" in step.reason for step in card.left_out)


@pytest.mark.parametrize("bike_id", SUITED)
def test_the_torque_in_a_step_is_the_one_in_the_table(bike_id):
    card = lead_card(bike_id)
    rows = {line.torque.fastener.id: line for line in card.torques}
    shown = [step for step in card.steps if step.torque is not None]
    assert shown
    for step in shown:
        row = rows[step.torque.fastener.id]
        assert row.torque == step.torque
        assert step.number in row.steps


@pytest.mark.parametrize("bike_id", SUITED)
def test_every_tool_named_in_a_step_is_laid_out(bike_id):
    card = lead_card(bike_id)
    laid_out = {item.tool.id for item in card.tools if item.tool is not None}
    assert {tool for step in card.steps for tool in step.step.tools} <= laid_out


def test_the_lead_card_changes_derailleur_and_chain():
    shown = ids(lead_card("heron"))
    assert shown.index("chain-off") < shown.index("loosen-mounting-bolt") < shown.index("tighten-mounting-bolt")
    assert shown.index("tighten-lockring") < shown.index("count-links") < shown.index("close-quick-link")
    count = next(step for step in lead_card("heron").steps if step.step.id == "count-links")
    assert "Count 112 links" in count.do
    cut = next(step for step in lead_card("heron").steps if step.step.id == "cut-new-chain")
    assert "4 links come off" in cut.do


def test_a_part_with_its_own_figure_goes_before_the_typical_range():
    lockring = next(step for step in lead_card("heron").steps if step.step.id == "tighten-lockring")
    assert lockring.torque.maker
    assert "40 N·m" in lockring.do.replace("\u00a0", " ")
    typical = next(step for step in lead_card("kestrel").steps if step.step.id == "tighten-lockring")
    assert not typical.torque.maker
    assert "35 to 45 N·m" in typical.do.replace("\u00a0", " ")


@pytest.mark.parametrize("bike_id", SUITED)
def test_the_limit_screws_are_drawn_with_the_sprockets_of_this_bike(bike_id):
    sprockets = lead_plan(bike_id).after.part(Role.CASSETTE).sprockets
    drawn = [dict(step.figure_numbers) for step in lead_card(bike_id).steps if step.figure == "limit-screws"]
    assert drawn
    assert all(numbers["sprockets"] == sprockets for numbers in drawn)


def test_a_shouldered_hanger_brings_the_adjusting_tab():
    assert "hold-tab" in ids(lead_card("heron"))
    assert "hold-tab" not in ids(lead_card("marten"))


def test_a_rim_brake_is_opened_first_and_closed_last():
    shown = ids(lead_card("kestrel"))
    assert shown.index("open-rim-brake") < shown.index("open-lever") < shown.index("lock-lever")
    assert shown.index("lock-lever") < shown.index("close-rim-brake")
    assert "pad-block-in" not in shown


def test_the_clutch_goes_off_and_comes_on_again():
    shown = ids(lead_card("heron"))
    assert shown.index("clutch-off") < shown.index("wheel-out-past-cage")
    assert shown.index("through-all") < shown.index("clutch-on")
    assert "clutch-off" not in ids(lead_card("wren"))


def test_an_electric_bike_is_without_power_before_it_is_lifted():
    shown = ids(lead_card("plover"))
    assert shown.index("switch-off") < shown.index("battery-out") < shown.index("lift")
    out = next(step for step in lead_card("plover").steps if step.step.id == "battery-out")
    assert "ebike-off" in {caution.caution.id for caution in out.cautions}


def without_growth(spring):
    """The Marten with a shock of that spring, and with nobody having measured how far its axle moves."""
    bike = library().bikes["marten"]
    frame = replace(bike.parts[Role.FRAME], axle_growth_mm=None)
    shock = replace(bike.parts[Role.SHOCK], spring=spring)
    return replace(bike, parts={**bike.parts, Role.FRAME: frame, Role.SHOCK: shock})


def card_of(bike, *part_ids):
    plan = plan_job(bike, wanted_parts(library().guides[LEAD], part_ids, library()), library())
    return tailor(library().guides[LEAD], library(), bike=bike, plan=plan)


def test_a_shock_whose_air_is_let_out_gets_it_back_and_is_tried():
    shown = ids(card_of(without_growth(Spring.AIR), "cs-10-51-12s"))
    order = ["read-shock", "release-shock", "longest-path", "tie-rear-end"]
    order += ["size-at-stand", "free-rear-end", "refill-shock", "compress-shock"]
    assert [step for step in shown if step in order] == order


def test_where_the_growth_is_known_the_shock_keeps_its_air():
    assert "release-shock" not in ids(lead_card("marten"))
    assert "release-shock" not in ids(lead_card("heron"))


def test_a_coil_shock_of_unknown_growth_is_refused():
    with pytest.raises(NotSuited, match="With a coil shock the growth"):
        card_of(without_growth(Spring.COIL), "cs-10-51-12s")


def test_a_motor_in_the_rear_hub_and_a_shifter_in_a_brake_lever_are_refused():
    plover, fieldfare = library().bikes["plover"], library().bikes["fieldfare"]
    motor = replace(plover.parts[Role.DRIVE_UNIT], place=MotorPlace.REAR_HUB)
    with pytest.raises(NotSuited, match="a motor in the rear hub"):
        card_of(replace(plover, parts={**plover.parts, Role.DRIVE_UNIT: motor}), "cs-11-36-11s")
    lever = replace(fieldfare.parts[Role.REAR_SHIFTER], speeds=9, shift_standard="nine, 2.5 mm a click")
    plan = plan_job(
        fieldfare,
        {Role.CASSETTE: library().parts["cs-11-32-10s"], Role.REAR_SHIFTER: lever},
        library(),
    )
    with pytest.raises(NotSuited, match="a new shifter in a brake lever"):
        tailor(library().guides[LEAD], library(), bike=fieldfare, plan=plan)


def test_a_new_derailleur_gets_its_limits_before_any_chain_is_on():
    shown = ids(lead_card("heron"))
    assert shown.index("low-limit-bare") < shown.index("thread-chain") < shown.index("hold-at-largest")
    assert shown.index("clutch-stays-off") < shown.index("thread-chain")


def test_a_kept_derailleur_is_guarded_before_the_chain_is_driven_to_the_largest_sprocket():
    shown = ids(lead_card("kestrel"))
    assert shown.index("barrel-fully-in") < shown.index("high-limit") < shown.index("guard-low-limit")
    assert shown.index("body-screw-in") < shown.index("push-to-largest") < shown.index("low-limit")


def test_a_freewheel_tool_is_held_until_the_freewheel_is_loose():
    shown = ids(lead_card("linnet"))
    assert shown.index("hold-tool-nut") < shown.index("loosen-freewheel") < shown.index("free-tool-nut")


def test_a_chain_decided_at_the_stand_comes_with_its_tools_and_a_chain_in_reserve():
    card = lead_card("dunlin")
    cut = next(step for step in card.steps if step.step.id == "cut-at-stand")
    assert "chip-eye" in {caution.caution.id for caution in cut.cautions}
    assert {"chain-tool", "safety-glasses"} <= set(cut.step.tools)
    assert "chain-in-reserve" in {item.consumable.id for item in card.consumables}


def test_a_screw_on_freewheel_has_no_lockring():
    shown = ids(lead_card("linnet"))
    assert "loosen-freewheel" in shown
    assert "tighten-lockring" not in shown


def test_a_missing_measurement_becomes_a_step_with_a_table_to_read():
    card = lead_card("dunlin")
    measuring = [step for step in card.steps if step.measurement is not None]
    assert {step.measurement.id for step in measuring} == {"chainstay", "chain-wear", "chain-links"}
    chainstay = next(step for step in measuring if step.measurement.id == "chainstay")
    # 38 + 42 teeth: at 430 mm the chain wants 110 links (see the Kestrel).
    spans = re.findall(r"(\d+) to (\d+) mm: (\d+) links", chainstay.limit)
    assert [links for low, high, links in spans if int(low) <= 430 <= int(high)] == ["110"]
    assert "size-at-stand" in ids(card)


def test_a_gear_hub_is_refused_with_the_reason():
    with pytest.raises(NotSuited, match="bikes with a rear derailleur"):
        lead_card("coot")


def test_a_fact_that_a_condition_asks_for_is_named_with_what_to_write():
    bike = library().bikes["kestrel"]
    hub = replace(bike.parts[Role.REAR_HUB], axle=None)
    vague = replace(bike, parts={**bike.parts, Role.REAR_HUB: hub})
    with pytest.raises(CannotTailor) as caught:
        tailor(library().guides[LEAD], library(), bike=vague, plan=lead_plan("kestrel"))
    diagnostic, closing = caught.value.diagnostics
    assert "write 'axle-closing:' under 'parts: rear-hub:'" in closing.hints[0]
    assert "What holds the rear wheel in the frame?" in diagnostic.message
    assert "write 'axle:' under 'parts: rear-hub:'" in diagnostic.hints[0]
    assert "quick-release, bolt-through, nutted" in diagnostic.hints[0]


def test_what_a_bike_leaves_open_is_shown_with_its_condition_where_that_is_asked_for():
    bike = library().bikes["kestrel"]
    hub = replace(bike.parts[Role.REAR_HUB], axle=None)
    vague = replace(bike, parts={**bike.parts, Role.REAR_HUB: hub})
    card = tailor(library().guides[LEAD], library(), bike=vague, plan=lead_plan("kestrel"), leave_open=True)
    opened = {step.anchor: step.condition for step in card.steps if step.condition}
    assert opened["rear-wheel-out.open-lever"] == "With a quick-release rear axle"
    assert opened["rear-wheel-out.loosen-axle-nuts"] == "With a rear axle with nuts"
    known = {step.anchor: step.do for step in lead_card("kestrel").steps}
    assert known.items() <= {step.anchor: step.do for step in card.steps}.items()
    assert all("axle" in words for words in opened.values())


def test_a_bike_of_which_nothing_is_known_gets_every_branch_that_it_may_have():
    bike = Bike(id="open", name="Open")
    card = tailor(library().guides["rear-wheel-out-and-in"], library(), bike=bike, leave_open=True)
    generic = tailor(library().guides["rear-wheel-out-and-in"], library())
    assert {step.anchor for step in card.steps} <= {step.anchor for step in generic.steps}
    assert {step.condition for step in card.steps} <= {step.condition for step in generic.steps}
    assert any(step.condition for step in card.steps)


def test_a_card_says_what_to_make_sure_of_where_the_file_leaves_open_whether_the_guide_is_for_the_bike():
    bike = Bike(id="open", name="Open")
    card = tailor(library().guides["crankset-off-and-on"], library(), bike=bike, leave_open=True)
    assert card.before[0] == (
        "Make sure that the bike has no motor, a motor in the front hub or a motor in the rear hub."
    )


def test_a_step_that_does_not_go_with_what_is_known_is_left_out_though_its_own_question_is_open():
    bike = Bike(id="open", name="Open", parts={Role.REAR_DERAILLEUR: RearDerailleur(name="R")})
    card = tailor(library().guides["rear-wheel-out-and-in"], library(), bike=bike, leave_open=True)
    reasons = {one.step: one.reason for one in card.left_out}
    assert reasons["brake-test.push-against-coaster"] == (
        "It is for a bike with a coaster brake, which does not go with what this one has."
    )


def test_cautions_stand_at_their_act_and_in_the_summary():
    card = lead_card("heron")
    at_steps = {caution.caution.id for step in card.steps for caution in step.cautions}
    in_summary = {caution.caution.id for caution in card.summary_cautions}
    assert {"chip-eye", "sprocket-slip", "wheel-seat", "disc-turn"} <= at_steps <= in_summary
    words = [list(SignalWord).index(caution.word) for caution in card.summary_cautions]
    assert words == sorted(words)


def test_the_generic_guide_shows_every_branch_with_its_condition():
    generic = tailor(library().guides[LEAD], library())
    by_id = {step.anchor: step for step in generic.steps}
    assert by_id["rear-wheel-out.open-lever"].condition == "With a quick-release rear axle"
    assert by_id["rear-wheel-out.pad-block-in"].condition == "With a rear disc brake and a hydraulic rear brake"
    assert {"open-lever", "loosen-through-axle", "loosen-axle-nuts"} <= set(ids(generic))
    assert generic.left_out == ()


@pytest.mark.parametrize("guide", ["rear-wheel-out-and-in", "rear-rod-brake-pads-replaced", "front-rotor-fitted"])
def test_what_a_thread_is_dressed_with_is_laid_out(guide):
    card = tailor(library().guides[guide], library())
    dressed = {step.torque.fastener.preparation.consumable for step in card.steps if step.torque is not None} - {""}
    assert dressed
    assert dressed <= {item.consumable.id for item in card.consumables}
