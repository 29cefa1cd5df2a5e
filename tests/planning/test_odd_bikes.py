"""Bikes unlike those of the demo fleet: what is planned for each is worked out here by hand or by plane geometry."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from builder.checks.result import CheckResult, Verdict
from builder.model.bike import Bike, Climb, Measurements, Rider
from builder.model.facts import (
    Actuation,
    Axle,
    BrakeKind,
    CrankFixing,
    Fitted,
    Indexing,
    Joiner,
    Role,
    Spring,
    SprocketMount,
    Suspension,
)
from builder.model.parts import (
    BottomBracket,
    Brake,
    Cassette,
    Chain,
    Crankset,
    DriveUnit,
    Frame,
    Hub,
    Part,
    RearDerailleur,
    Rim,
    Shifter,
    Shock,
    Tyre,
    folder_of,
    roles_of,
)
from builder.model.units import Measure
from builder.planning import ChainWork, Plan, plan_job
from builder.planning.asking import answers
from builder.planning.attributes import cases_of
from builder.planning.fitting import as_found
from builder.planning.worked_out import axle_growth_mm, climbing_power_w, rolled_a_sprocket_turn_mm, transmission
from builder.proof.bike_gate import gate_for_bike
from builder.proof.jobs import Job, Ready, work_out
from tests.demo import library

PITCH_MM = 12.7


def links(chainstay_mm: float, ring: int, sprocket: int) -> int:
    """Links over the largest of both and two more, the next even number: an open belt over two pitch circles."""
    big, small = (PITCH_MM / 2 / math.sin(math.pi / z) for z in (max(ring, sprocket), min(ring, sprocket)))
    lean = math.asin((big - small) / chainstay_mm)
    share = (math.pi + 2 * lean) / (2 * math.pi)
    loop = 2 * chainstay_mm * math.cos(lean) / PITCH_MM
    loop += max(ring, sprocket) * share + min(ring, sprocket) * (1 - share)
    return 2 * math.ceil((loop + 2) / 2)


def results(plan: Plan) -> dict[str, CheckResult]:
    return {result.check: result for result in plan.checks}


def as_it_stands(bike: Bike) -> dict[str, CheckResult]:
    """The answers about the bike, at its rear where there are two ends."""
    found = answers(as_found(bike, library()), Role)
    return {one.check.name: one.result for one in found if not one.where.startswith("front")}


# --- three rings and seven sprockets on a screw-on freewheel, shifted by friction ---


def friction_bike(whole_pull_mm: float = 22.0) -> Bike:
    return Bike(
        id="friction",
        name="Friction",
        parts={
            Role.FRAME: Frame(name="", suspension=Suspension.RIGID, chainstay_mm=Measure(440.0)),
            Role.CRANKSET: Crankset(name="", rings=(48, 38, 28)),
            Role.REAR_HUB: Hub(name="", sprocket_mount=SprocketMount.SCREW_ON, gears=1),
            Role.REAR_DERAILLEUR: RearDerailleur(
                name="",
                actuation=Actuation.CABLE,
                capacity_teeth=43,
                largest_sprocket=34,
                smallest_sprocket=13,
                cable_ratio=1.7,
            ),
            Role.REAR_SHIFTER: Shifter(
                name="", indexing=Indexing.FRICTION, actuation=Actuation.CABLE, whole_pull_mm=whole_pull_mm
            ),
            Role.CHAIN: Chain(name="", speeds=(7,), links=116, joiner=Joiner.REUSABLE_LINK),
        },
        measured=Measurements(chain_links=114),
    )


FREEWHEEL = Cassette(
    id="fw",
    name="Freewheel",
    sprockets=(14, 16, 18, 20, 24, 28, 34),
    mount=SprocketMount.SCREW_ON,
    sprocket_pitch_mm=5.0,
)


def test_a_friction_lever_is_judged_by_its_travel_and_never_by_clicks() -> None:
    plan = plan_job(friction_bike(), {Role.CASSETTE: FREEWHEEL}, library())
    found = results(plan)
    # 22 mm of cable × 1.7 = 37.4 mm sideways; seven sprockets 5 mm apart span 6 × 5 = 30 mm.
    assert (found["friction-lever"].verdict, found["friction-lever"].margin) == (
        Verdict.FITS,
        pytest.approx(22 * 1.7 - 30),
    )
    assert not {"shifter-clicks", "indexing", "shared-standard"} & found.keys()
    assert not [missing.key for missing in plan.missing if "shift-standard" in missing.key or "speeds" in missing.key]


def test_three_rings_and_a_freewheel_need_the_capacity_and_the_links_of_both() -> None:
    plan = plan_job(friction_bike(), {Role.CASSETTE: FREEWHEEL}, library())
    found = results(plan)
    # (48 − 28) + (34 − 14) = 40 teeth.
    assert (found["derailleur-capacity"].value, found["derailleur-capacity"].verdict) == (40, Verdict.FITS)
    assert found["chain-reach"].limit == links(440, 48, 34)
    assert plan.chain_work is ChainWork.KEPT
    # Nobody is told how to cut a chain that stays as it is.
    assert not {"chain-length", "chain-ends"} & found.keys()
    assert plan.changes == ()
    # The body of a cassette is no matter of a thread.
    assert "sprocket-stack" not in found


def test_a_lever_that_stops_short_of_the_last_sprocket_must_change() -> None:
    plan = plan_job(friction_bike(whole_pull_mm=15.0), {Role.CASSETTE: FREEWHEEL}, library())
    # 15 × 1.7 = 25.5 mm of 30 mm.
    assert "rear-shifter" in [change.role.value for change in plan.changes]


# --- full suspension, one ring, twelve sprockets, a coil shock ---


def long_travel(rated: int = 42) -> Bike:
    return Bike(
        id="travel",
        name="Travel",
        parts={
            Role.FRAME: Frame(
                name="", suspension=Suspension.FULL, chainstay_mm=Measure(435.0), axle_growth_mm=Measure(40.0)
            ),
            Role.SHOCK: Shock(name="", spring=Spring.COIL),
            Role.CRANKSET: Crankset(name="", rings=(30,)),
            Role.CASSETTE: Cassette(name="", sprockets=(10, 12, 14, 16, 18, 21, 24, 28, 33, 39, 45, 52)),
            Role.REAR_DERAILLEUR: RearDerailleur(
                name="", actuation=Actuation.CABLE, capacity_teeth=rated, largest_sprocket=52, smallest_sprocket=10
            ),
            Role.CHAIN: Chain(name="", speeds=(12,), links=126, joiner=Joiner.REUSABLE_LINK),
        },
        measured=Measurements(chain_links=126),
    )


def test_the_growth_of_the_axle_counts_in_links_and_in_capacity() -> None:
    found = as_it_stands(long_travel())
    assert found["chain-length"].value == links(475, 30, 52)
    # 52 − 10 = 42 teeth, and 4 × 40 / 12.7 = 12.6, so 13 more: 55.
    assert found["derailleur-capacity"].value == 55
    assert found["derailleur-capacity"].verdict is Verdict.WITH_CARE
    assert as_it_stands(long_travel(rated=55))["derailleur-capacity"].verdict is Verdict.FITS
    assert as_it_stands(long_travel(rated=39))["derailleur-capacity"].verdict is Verdict.DOES_NOT_FIT


def test_growth_is_worked_out_of_both_ends_of_the_travel() -> None:
    bike = long_travel()
    frame = replace(bike.parts[Role.FRAME], axle_growth_mm=None, compressed_chainstay_mm=Measure(452.0, 1.0))
    measured = replace(bike, parts={**bike.parts, Role.FRAME: frame})
    assert axle_growth_mm(measured) == Measure(17.0, 1.0)


def test_without_the_growth_nothing_of_the_chain_is_called_certain() -> None:
    bike = long_travel()
    frame = replace(bike.parts[Role.FRAME], axle_growth_mm=None)
    plan = plan_job(
        replace(bike, parts={**bike.parts, Role.FRAME: frame}), {Role.CASSETTE: bike.parts[Role.CASSETTE]}, library()
    )
    assert "parts.frame.axle-growth" in [missing.key for missing in plan.missing]
    # A number of links would be counted off and cut to.
    [length] = [result for result in plan.checks if result.check == "chain-length"]
    assert length.verdict is Verdict.MEASURE_FIRST
    assert length.value is None
    assert plan.chain_work is ChainWork.DECIDED_AT_STAND


# --- a gear hub with a drum brake ---


def gear_hub(sprocket: int = 20, least: float | None = 1.8) -> Bike:
    return Bike(
        id="drum",
        name="Drum",
        parts={
            Role.FRAME: Frame(name="", suspension=Suspension.RIGID, chainstay_mm=Measure(470.0)),
            Role.CRANKSET: Crankset(name="", rings=(38,)),
            Role.CASSETTE: Cassette(name="", sprockets=(sprocket,), mount=SprocketMount.THREE_LUG),
            Role.REAR_HUB: Hub(
                name="",
                axle=Axle.NUTTED,
                gears=5,
                lowest_gear=0.63,
                highest_gear=1.58,
                least_primary_ratio=least,
                sprocket_mount=SprocketMount.THREE_LUG,
            ),
            Role.REAR_BRAKE: Brake(name="", brake_kind=BrakeKind.DRUM, actuation=Actuation.CABLE),
            Role.REAR_TYRE: Tyre(name="", width_mm=50.0, bead_seat_mm=559.0),
        },
        without=frozenset({Role.REAR_DERAILLEUR, Role.FRONT_DERAILLEUR}),
    )


def test_a_gear_hub_is_judged_by_its_least_ratio_and_by_no_derailleur() -> None:
    found = as_it_stands(gear_hub())
    assert transmission(gear_hub()) == "hub-gear"
    # 38 / 20 = 1.9 above 1.8; 38 / 22 = 1.73 below it.
    assert (found["hub-gear-ratio"].value, found["hub-gear-ratio"].verdict) == (1.9, Verdict.FITS)
    assert as_it_stands(gear_hub(sprocket=22))["hub-gear-ratio"].verdict is Verdict.DOES_NOT_FIT
    assert as_it_stands(gear_hub(least=None))["hub-gear-ratio"].verdict is Verdict.MEASURE_FIRST
    assert (
        not {"derailleur-capacity", "largest-sprocket", "chain-length", "shift-line", "sprocket-stack"} & found.keys()
    )


def test_a_drum_brake_asks_for_no_rotor_and_no_pads() -> None:
    assert not {"rotor-size", "rotor-mount", "rotor-wear", "pad-shape", "pad-wear"} & as_it_stands(gear_hub()).keys()


def test_the_lowest_gear_of_the_hub_counts_on_a_hill() -> None:
    rolled = rolled_a_sprocket_turn_mm(gear_hub())
    # 0.63 turns of the wheel for a turn of the sprocket; the circle of 559 + 2 × 50 mm.
    assert rolled is not None
    assert rolled.value == pytest.approx(0.63 * math.pi * 659, abs=0.5)


# --- chainstay and derailleur unknown ---


def test_what_is_not_known_is_asked_for_with_what_it_must_be() -> None:
    bike = Bike(
        id="unknown",
        name="Unknown",
        parts={
            Role.CRANKSET: Crankset(name="", rings=(34,)),
            Role.CASSETTE: Cassette(
                name="", sprockets=(11, 13, 15, 17, 20, 23, 26, 30), mount=SprocketMount.NINE_SPLINE
            ),
            Role.REAR_DERAILLEUR: RearDerailleur(name="", actuation=Actuation.CABLE),
            Role.REAR_SHIFTER: Shifter(name="", speeds=8),
        },
    )
    wanted = Cassette(id="c", name="C", sprockets=(11, 13, 15, 18, 21, 24, 28, 34), mount=SprocketMount.NINE_SPLINE)
    plan = plan_job(bike, {Role.CASSETTE: wanted}, library())
    limits = {missing.key: missing.bounds for missing in plan.missing}
    assert limits["parts.rear-derailleur.largest-sprocket"] == "at least 34\u00a0teeth"
    assert limits["parts.rear-derailleur.smallest-sprocket"] == "at most 11\u00a0teeth"
    assert "parts.frame.chainstay" in limits
    assert plan.chain_work is ChainWork.DECIDED_AT_STAND
    assert plan.trouble == ()
    assert len({missing.key for missing in plan.missing}) == len(plan.missing)


# --- one speed and a coaster brake ---


def test_a_coaster_bike_with_one_gear_is_asked_for_neither_shifting_nor_a_lever() -> None:
    bike = Bike(
        id="coaster",
        name="Coaster",
        parts={
            Role.FRAME: Frame(name="", suspension=Suspension.RIGID, chainstay_mm=Measure(430.0), dropout_slot_mm=25.0),
            Role.CRANKSET: Crankset(name="", rings=(44,)),
            Role.CASSETTE: Cassette(name="", sprockets=(18,)),
            Role.REAR_HUB: Hub(name="", gears=1),
            Role.REAR_BRAKE: Brake(name="", brake_kind=BrakeKind.COASTER, actuation=Actuation.NONE),
        },
        without=frozenset({Role.REAR_DERAILLEUR, Role.FRONT_DERAILLEUR, Role.REAR_SHIFTER}),
        measured=Measurements(chain_links=100),
    )
    found = as_it_stands(bike)
    assert transmission(bike) == "single-speed"
    gone = {
        "derailleur-capacity",
        "shifter-clicks",
        "chain-length",
        "lever-reach",
        "cable-pull",
        "pad-shape",
        "rotor-size",
    }
    assert not gone & found.keys()
    # The chain is held tight by the axle in its slot.
    assert "axle-slot" in found


# --- a long-tail with a motor at the cranks ---


def long_tail(motor_w: float | None = 250.0) -> Bike:
    return Bike(
        id="tail",
        name="Tail",
        parts={
            Role.FRAME: Frame(name="", suspension=Suspension.RIGID, chainstay_mm=Measure(760.0)),
            Role.CRANKSET: Crankset(name="", rings=(38,)),
            Role.CASSETTE: Cassette(name="", sprockets=(11, 13, 15, 18, 21, 24, 28, 32, 36, 42)),
            Role.REAR_DERAILLEUR: RearDerailleur(
                name="", actuation=Actuation.CABLE, capacity_teeth=40, largest_sprocket=42, smallest_sprocket=11
            ),
            Role.DRIVE_UNIT: DriveUnit(name="", power_w=motor_w),
            Role.REAR_TYRE: Tyre(name="", width_mm=47.0, bead_seat_mm=406.0),
        },
        rider=Rider(mass_kg=75.0, luggage_kg=60.0, power_w=120.0, least_cadence_rpm=50.0),
        climbs=(Climb(name="Ramp", gradient_percent=12.0),),
    )


def test_a_chain_that_nobody_sells_so_long_is_joined_of_two() -> None:
    chain = Chain(id="ch", name="Chain", speeds=(10,), links=116, joiner=Joiner.REUSABLE_LINK)
    wanted = links(760, 38, 42)
    assert wanted > 150
    supply = results(plan_job(long_tail(), {Role.CHAIN: chain}, library()))["chain-supply"]
    assert (supply.limit, supply.verdict) == (wanted, Verdict.WITH_CARE)
    assert supply.named("chains") == 2
    assert supply.named("cut-off") == 2 * 116 - wanted


def test_two_chains_are_paid_for_where_one_does_not_reach() -> None:
    short = Chain(name="", speeds=(10,), links=116, joiner=Joiner.REUSABLE_LINK)
    bike = replace(long_tail(), parts={**long_tail().parts, Role.CHAIN: short}, measured=Measurements(chain_links=150))
    wanted = Cassette(id="c", name="C", sprockets=(11, 13, 15, 18, 21, 24, 28, 32, 36, 40))
    plan = plan_job(bike, {Role.CASSETTE: wanted}, library())
    (chain,) = (change for change in plan.changes if change.role is Role.CHAIN)
    assert chain.choice is not None
    assert chain.count == 2
    assert [part.id for part in plan.pieces].count(chain.choice.id) == 2
    assert [part.id for part in plan.bought].count(chain.choice.id) == 1


def test_the_motor_helps_on_a_hill_and_is_asked_for_where_its_power_is_not_known() -> None:
    assert climbing_power_w(long_tail()) == 370.0
    assert climbing_power_w(long_tail(motor_w=None)) is None
    with_motor, alone = as_it_stands(long_tail()), as_it_stands(replace(long_tail(), parts=_without_motor()))
    faster, slower = with_motor["hill-cadence"].value, alone["hill-cadence"].value
    assert faster is not None
    assert slower is not None
    # Uphill nearly all power goes against gravity and rolling, so that cadence goes with power, a little less for air.
    assert 0.9 * 370 / 120 < faster / slower <= 370 / 120


def _without_motor() -> dict[Role, Part]:
    return {role: part for role, part in long_tail().parts.items() if role is not Role.DRIVE_UNIT}


# --- two rings, eleven sprockets, electronic ---


def test_an_electronic_drivetrain_is_asked_for_its_standard_and_never_for_the_pull_of_a_cable() -> None:
    bike = Bike(
        id="wires",
        name="Wires",
        parts={
            Role.FRAME: Frame(name="", suspension=Suspension.RIGID, chainstay_mm=Measure(410.0)),
            Role.CRANKSET: Crankset(name="", rings=(50, 34)),
            Role.CASSETTE: Cassette(name="", sprockets=(11, 12, 13, 14, 16, 18, 20, 22, 25, 28, 30)),
            Role.REAR_DERAILLEUR: RearDerailleur(
                name="", actuation=Actuation.ELECTRONIC, capacity_teeth=39, largest_sprocket=34, smallest_sprocket=11
            ),
            Role.REAR_SHIFTER: Shifter(name="", speeds=11, actuation=Actuation.ELECTRONIC),
        },
    )
    wanted = Cassette(id="c", name="C", sprockets=(11, 12, 13, 15, 17, 19, 21, 24, 27, 30, 34))
    plan = plan_job(bike, {Role.CASSETTE: wanted}, library())
    found = results(plan)
    # (50 − 34) + (34 − 11) = 39.
    assert (found["derailleur-capacity"].value, found["derailleur-capacity"].verdict) == (39, Verdict.FITS)
    assert found["chain-length"].value == links(410, 50, 34)
    assert as_it_stands(bike)["shift-line"].verdict is Verdict.FITS
    assert "indexing" not in found
    standards = [missing.key for missing in plan.missing if missing.key.endswith("shift-standard")]
    assert len(standards) == len(set(standards))
    assert not [missing.key for missing in plan.missing if "cable" in missing.key or "pull" in missing.key]


# --- a folding bike with wheels of 406 mm ---


def folder() -> Bike:
    return Bike(
        id="folder",
        name="Folder",
        parts={
            Role.FRAME: Frame(name="", suspension=Suspension.RIGID, chainstay_mm=Measure(400.0)),
            Role.CRANKSET: Crankset(name="", rings=(46,), fixing=CrankFixing.SQUARE_TAPER, axle_mm=12.6),
            Role.BOTTOM_BRACKET: BottomBracket(name="", fixing=CrankFixing.SQUARE_TAPER, axle_mm=12.6),
            Role.CASSETTE: Cassette(name="", sprockets=(11, 13, 15, 17, 20, 23, 26, 30)),
            Role.REAR_DERAILLEUR: RearDerailleur(
                name="", actuation=Actuation.CABLE, capacity_teeth=25, largest_sprocket=34, smallest_sprocket=11
            ),
            Role.REAR_RIM: Rim(name="", bead_seat_mm=406.0, inner_width_mm=21.0),
            Role.REAR_TYRE: Tyre(name="", width_mm=47.0, bead_seat_mm=406.0),
        },
    )


def test_a_folding_bike_gets_its_capacity_and_its_links() -> None:
    wanted = Cassette(id="c", name="C", sprockets=(11, 13, 15, 17, 20, 23, 28, 34))
    found = results(plan_job(folder(), {Role.CASSETTE: wanted}, library()))
    assert (found["derailleur-capacity"].value, found["derailleur-capacity"].verdict) == (23, Verdict.FITS)
    assert found["chain-length"].value == links(400, 46, 34)


def test_a_folding_bike_takes_no_tyre_of_large_wheels() -> None:
    plan = plan_job(folder(), {Role.REAR_TYRE: library().parts["ty-57-622"]}, library())
    assert results(plan)["bead-seat"].verdict is Verdict.DOES_NOT_FIT
    assert plan.trouble


def test_pinch_bolt_cranks_on_a_square_force_a_bottom_bracket() -> None:
    plan = plan_job(folder(), {Role.CRANKSET: library().parts["ck-38"]}, library())
    assert Role.BOTTOM_BRACKET not in [change.role for change in plan.changes]
    plan = plan_job(folder(), {Role.CRANKSET: library().parts["ck-34"]}, library())
    changed = {change.role: change for change in plan.changes}
    assert "crank-fixing" in changed[Role.BOTTOM_BRACKET].because


@pytest.mark.parametrize(("folds", "expected"), [(Fitted.FITTED, True), (Fitted.NONE, False)])
def test_the_hinges_of_a_folding_bike_are_looked_at_before_each_ride(folds: Fitted, expected: bool) -> None:
    frame = Frame(name="", suspension=Suspension.RIGID, hinges=folds)
    bike = replace(folder(), parts={**folder().parts, Role.FRAME: frame})
    for guide in ("tag-before-a-ride", "check-before-a-ride", "yearly-service", "crash-looked-over"):
        outcome = work_out(Job(guide=library().guides[guide], bike=bike), library())
        assert isinstance(outcome, Ready)
        handled = {thing for step in outcome.tailored.steps for thing in step.step.handles}
        assert ("folding-hinge" in handled) is expected
        cautions = {one.caution.id for one in outcome.tailored.summary_cautions}
        assert ("hinge-open" in cautions) is expected


# --- several chainrings, and nothing that moves the chain ---


def test_cranks_with_several_rings_are_refused_where_no_front_derailleur_moves_the_chain() -> None:
    rings = {Role.CRANKSET: library().parts["ck-48-36-26"]}
    assert results(plan_job(gear_hub(), rings, library()))["several-rings"].verdict is Verdict.DOES_NOT_FIT
    # Where nobody has said that there is none, and on a bike that has them already, nothing is refused.
    unknown = replace(gear_hub(), without=frozenset({Role.REAR_DERAILLEUR}))
    assert "several-rings" not in results(plan_job(unknown, rings, library()))
    three = Crankset(name="", rings=(48, 36, 26))
    has_them = replace(gear_hub(), parts={**gear_hub().parts, Role.CRANKSET: three})
    assert as_it_stands(has_them)["several-rings"].verdict is Verdict.FITS
    assert results(plan_job(has_them, rings, library()))["several-rings"].verdict is Verdict.FITS
    assert not [one for one in gate_for_bike(has_them, library()) if "Chainrings" in one.message]


# --- every question open ---

BLANK = Bike(id="blank", name="Blank")


@pytest.mark.parametrize("part", library().parts.values(), ids=lambda part: part.id)
def test_on_a_bike_of_which_nothing_is_known_every_part_is_asked_about_and_none_is_called_fitting(part: Part) -> None:
    for role in roles_of(folder_of(part)):
        plan = plan_job(BLANK, {role: part}, library())
        assert plan.trouble == ()
        assert plan.changes == ()
        assert plan.missing, role
        assert plan.not_judged, role
        assert all(missing.write_at and missing.how for missing in plan.missing)


def test_a_blank_bike_as_it_stands_is_answered_without_an_error() -> None:
    for name, result in as_it_stands(BLANK).items():
        assert result.verdict is not Verdict.DOES_NOT_FIT, name


def test_a_workshop_that_wrote_down_no_wrench_is_not_asked_whether_one_reaches() -> None:
    bare = replace(library(), workshop=replace(library().workshop, tools=()))
    wanted = {Role.CASSETTE: library().parts["cs-11-42-11s"]}
    heron = library().bikes["heron"]
    assert "wrench-range" in results(plan_job(heron, wanted, library()))
    assert "wrench-range" not in results(plan_job(heron, wanted, bare))


@pytest.mark.parametrize(("bolts", "mount"), [(4, "bolts"), (5, "bolts"), (3, None), (0, None)])
def test_a_ring_on_three_bolts_is_asked_how_it_is_held(bolts: int, mount: str | None) -> None:
    """Bolts with nuts take three times what the small screws of a ring held direct do."""
    heron = library().bikes["heron"]
    cranks = replace(heron.parts[Role.CRANKSET], ring_bolts=bolts)  # type: ignore[call-arg]
    bike = replace(heron, parts={**heron.parts, Role.CRANKSET: cranks})
    assert cases_of(library(), bike, None).get("ring-mount") == mount
