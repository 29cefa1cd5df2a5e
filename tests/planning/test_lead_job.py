"""The lead job over the demo fleet: each bike shows another way that a wider-range cassette can turn out.

The expected parts and links are worked out by hand from the demo's invented numbers, as the comments show; the checks
themselves are held against published values in tests/checks.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.checks.result import Verdict
from builder.model.facts import Role
from builder.model.parts import Frame
from builder.model.units import Measure
from builder.planning import ChainWork, PlanError, plan_job, wanted_parts
from builder.planning.planner import meets, stocked
from tests.demo import LEAD, lead_plan, library


def changed(plan):
    return {change.role.value: change.choice.id if change.choice else None for change in plan.changes}


def verdicts(plan):
    return {result.check: result.verdict for result in plan.checks}


def test_where_everything_fits_nothing_else_changes():
    plan = lead_plan("kestrel")
    assert changed(plan) == {}
    assert plan.chain_work is ChainWork.KEPT
    assert plan.trouble == ()
    # 38 + 42 teeth at 430 mm: 107.7 pitches round both, and two: 109.7, so 110 links, which is what the bike has.
    assert verdicts(plan)["chain-reach"] is Verdict.FITS


def test_a_cassette_that_overruns_the_derailleur_forces_a_derailleur_and_that_a_chain():
    plan = lead_plan("heron")
    # 50 teeth against a rating of 42; 50 − 11 = 39 teeth of capacity against 35. 112 links wanted, 108 on the bike.
    assert changed(plan) == {"rear-derailleur": "rd-11s-51", "chain": "ch-11s-116"}
    assert plan.chain_work is ChainWork.REPLACED
    because = {change.role: change.because for change in plan.changes}
    assert because[Role.REAR_DERAILLEUR] == ("derailleur-capacity", "largest-sprocket")
    assert because[Role.CHAIN] == ("chain-reach",)
    limits = {requirement.limit: requirement for change in plan.changes for requirement in change.requires}
    assert limits["largest-sprocket"].at_least == 50
    assert limits["capacity"].at_least == 39
    assert limits["links"].at_least == 112


def test_a_forced_part_is_the_cheapest_that_meets_every_limit():
    plan = lead_plan("heron")
    for change in plan.changes:
        good = [
            part
            for part in stocked(change.role, library())
            if all(meets(part, requirement) is not False for requirement in change.requires)
        ]
        assert change.choice in good
        assert change.choice.price_eur == min(part.price_eur for part in good)


def test_a_chain_that_is_too_long_is_only_shortened():
    plan = lead_plan("plover")
    # 34 + 36 teeth at 440 mm want 108 links; the bike has 116, and the cage's 35 teeth take up 4 links of the surplus.
    assert changed(plan) == {}
    assert plan.chain_work is ChainWork.SHORTENED


def test_rear_suspension_sizes_the_chain_at_the_longest_distance():
    plan = lead_plan("marten")
    rigid_frame = replace(plan.bike.parts[Role.FRAME], axle_growth_mm=Measure(0.0))
    rigid = replace(plan.bike, parts={**plan.bike.parts, Role.FRAME: rigid_frame})
    rigid_plan = plan_job(rigid, plan.wanted, library())

    def links(some_plan):
        return next(result.value for result in some_plan.checks if result.check == "chain-length")

    assert isinstance(rigid_frame, Frame)
    assert links(plan) == 116
    assert links(rigid_plan) == 114


def test_three_chainrings_count_in_the_capacity():
    plan = lead_plan("wren")
    # (48 − 26) + (36 − 11) = 47 teeth, which only the long cage has.
    assert changed(plan)["rear-derailleur"] == "rd-9s-36-long"
    capacity = next(result for result in plan.checks if result.check == "derailleur-capacity")
    assert capacity.value == 47


def test_where_nothing_in_stock_will_do_the_limit_is_named():
    plan = lead_plan("siskin")
    assert changed(plan)["rear-derailleur"] is None
    assert any("capacity: at least 49\u00a0teeth" in line for line in plan.trouble)


def test_what_is_not_known_is_asked_for_with_the_way_to_find_it():
    plan = lead_plan("dunlin")
    assert plan.chain_work is ChainWork.DECIDED_AT_STAND
    asked = {missing.key: missing.measurement for missing in plan.missing}
    assert asked == {
        "measured.chain-length": "chain-wear",
        "parts.frame.chainstay": "chainstay",
        "measured.chain-links": "chain-links",
    }


def test_sprockets_for_another_body_are_trouble_that_no_part_cures():
    plan = lead_plan("kestrel", "cs-10-51-12s")
    assert verdicts(plan)["sprocket-mount"] is Verdict.DOES_NOT_FIT
    assert any("fine-spline" in line for line in plan.trouble)


def test_a_narrow_cassette_on_a_long_body_takes_a_spacer():
    bike = library().bikes["kestrel"]
    hub = replace(bike.parts[Role.REAR_HUB], body_length_mm=36.8)
    longer = replace(bike, parts={**bike.parts, Role.REAR_HUB: hub})
    plan = plan_job(longer, wanted_parts(library().guides[LEAD], ("cs-11-42-11s",), library()), library())
    # The sprockets are made for a body of 36 mm, and this one is 36.8 mm: 0.8 mm, and 1.0 mm is the nearest in stock.
    assert changed(plan) == {"sprocket-spacer": "sp-1-0"}
    assert verdicts(plan)["sprocket-stack"] is Verdict.FITS


def test_a_worn_chain_is_not_put_on_new_sprockets():
    bike = library().bikes["kestrel"]
    worn = replace(bike, measured=replace(bike.measured, chain_length_mm=Measure(307.0)))
    plan = plan_job(worn, wanted_parts(library().guides[LEAD], ("cs-11-42-11s",), library()), library())
    assert changed(plan)["chain"] == "ch-11s-116"
    assert "chain-wear" in next(change.because for change in plan.changes if change.role is Role.CHAIN)


@pytest.mark.parametrize("bike_id", ["kestrel", "heron", "plover", "marten", "wren", "linnet"])
def test_a_sound_plan_leaves_no_binding_check_failing(bike_id):
    plan = lead_plan(bike_id)
    informing = {"gear-upgrade", "steepest-gradient", "hill-cadence"}
    assert plan.trouble == ()
    assert [check for check, v in verdicts(plan).items() if v is Verdict.DOES_NOT_FIT and check not in informing] == []


def test_nothing_new_follows_from_a_sound_plan():
    plan = lead_plan("heron")
    again = plan_job(plan.after, plan.wanted, library())
    assert [change for change in again.changes if change.role is Role.REAR_DERAILLEUR] == []


def test_an_unknown_part_is_told_with_the_nearest_name():
    with pytest.raises(PlanError, match="did you mean 'cs-11-42-11s'"):
        wanted_parts(None, ("cs-11-42-11",), library())


def test_two_parts_for_one_place_are_refused():
    with pytest.raises(PlanError, match="both go in one place"):
        wanted_parts(None, ("cs-11-42-11s", "cs-11-36-11s"), library())


def test_a_part_that_the_guide_does_not_plan_for_is_refused():
    with pytest.raises(PlanError, match="this guide plans for: cassette"):
        wanted_parts(library().guides[LEAD], ("ch-9s-116",), library())


def test_a_derailleur_that_pulls_right_by_chance_is_not_bought_for_other_sprockets():
    """A cheaper one of another shifting standard is on the shelf, rated for as much and with the same cable ratio."""
    stray = replace(library().parts["rd-11s-51"], id="stray", price_eur=1.0, shift_standard="seven, 2.9 mm a click")
    workshop = library().workshop
    shelf = (*workshop.stock, replace(workshop.stock[0], part="stray", count=1))
    stocked_too = replace(library(), parts={**library().parts, "stray": stray}, workshop=replace(workshop, stock=shelf))
    bike = library().bikes["heron"]
    ids = next(job.parts for job in bike.jobs if job.guide == LEAD)
    plan = plan_job(bike, wanted_parts(library().guides[LEAD], ids, stocked_too), stocked_too)
    assert changed(plan)["rear-derailleur"] == "rd-11s-51"


def test_new_sprockets_of_the_same_size_are_not_asked_how_much_easier_they_are():
    bike = library().bikes["kestrel"]
    same = bike.parts[Role.CASSETTE]
    plan = plan_job(bike, {Role.CASSETTE: replace(same, id="new")}, library())
    assert "gear-upgrade" not in verdicts(plan)
    assert "gear-upgrade" in verdicts(lead_plan("kestrel"))
