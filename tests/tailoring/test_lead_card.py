"""The lead job's card for each bike of the fleet: the right steps, every number in place, everything gathered."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from builder.model.catalogue import SignalWord
from builder.model.facts import Role
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
    lift = next(step for step in lead_card("plover").steps if step.step.id == "lift")
    assert "ebike-off" in {caution.caution.id for caution in lift.cautions}


def test_rear_suspension_brings_the_longest_path():
    assert "longest-path" in ids(lead_card("marten"))
    assert "longest-path" not in ids(lead_card("heron"))


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
    [diagnostic] = caught.value.diagnostics
    assert "What holds the rear wheel in the frame?" in diagnostic.message
    assert "write 'axle:' under 'parts: rear-hub:'" in diagnostic.hints[0]
    assert "quick-release, bolt-through, nutted" in diagnostic.hints[0]


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
