"""Brakes: what must be of one kind, and what may be worn."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.brake_levers import brake_lever_kind, cable_kind, cable_pull, gear_cable_kind, lever_reach
from builder.checks.brake_wear import pad_wear, rotor_size, rotor_wear, typical_pad_mm
from builder.checks.brakes import FluidGrade, brake_fluid, brake_mount, grade_of, pad_shape, rotor_mount
from builder.checks.result import InputError, Verdict
from builder.model.facts import BrakeKind, BrakeMount, CableEnd, Fluid, LeverPull, RotorMount

PAD_KINDS = ("disc", "rim")
BY_BOILING_POINT = (FluidGrade.DOT_3, FluidGrade.DOT_4, FluidGrade.DOT_5_1)
DOT = frozenset({FluidGrade.DOT, *BY_BOILING_POINT})


@pytest.mark.parametrize("brake", list(FluidGrade))
@pytest.mark.parametrize("bottle", list(FluidGrade))
def test_mineral_oil_silicone_and_glycol_are_never_mixed(brake, bottle):
    verdict = brake_fluid(brake, bottle).verdict
    if FluidGrade.UNKNOWN in (brake, bottle):
        assert verdict is Verdict.MEASURE_FIRST
    elif brake is bottle:
        assert verdict is (Verdict.WITH_CARE if brake is FluidGrade.MINERAL_OIL else Verdict.FITS)
    elif {brake, bottle} <= DOT and FluidGrade.DOT in (brake, bottle):
        assert verdict is Verdict.MEASURE_FIRST
    elif {brake, bottle} <= DOT:
        higher = BY_BOILING_POINT.index(bottle) > BY_BOILING_POINT.index(brake)
        assert verdict is (Verdict.WITH_CARE if higher else Verdict.DOES_NOT_FIT)
    else:
        assert verdict is Verdict.DOES_NOT_FIT


@pytest.mark.parametrize("fluid", [Fluid.MINERAL_OIL, Fluid.DOT])
def test_every_fluid_of_a_part_is_known_to_the_check(fluid):
    assert brake_fluid(grade_of(fluid), FluidGrade(fluid.value)).verdict in (Verdict.FITS, Verdict.WITH_CARE)
    assert brake_fluid(grade_of(fluid), None).verdict is Verdict.MEASURE_FIRST


@pytest.mark.parametrize("mount", [BrakeMount.NONE, BrakeMount.POST])
def test_without_a_mount_nothing_is_bolted(mount):
    assert brake_mount(BrakeMount.NONE, mount).verdict is Verdict.DOES_NOT_FIT


@pytest.mark.parametrize("brake", list(BrakeMount))
@pytest.mark.parametrize("frame", list(BrakeMount))
def test_an_adaptor_joins_disc_mounts_only(brake, frame):
    disc = {BrakeMount.POST, BrakeMount.TABS, BrakeMount.FLAT}
    verdict = brake_mount(brake, frame).verdict
    assert (verdict is Verdict.FITS) == (brake is frame is not BrakeMount.NONE)
    if verdict is Verdict.WITH_CARE:
        assert {brake, frame} <= disc


def test_a_hub_that_holds_no_rotor_fits_none():
    assert rotor_mount(RotorMount.SIX_BOLT, RotorMount.NONE).verdict is Verdict.DOES_NOT_FIT


@pytest.mark.parametrize("lever", list(LeverPull))
@pytest.mark.parametrize("caliper", list(LeverPull))
def test_lever_and_caliper_are_of_one_pull(lever, caliper):
    result = cable_pull(lever, caliper)
    assert result.verdict is (Verdict.FITS if lever is caliper else Verdict.DOES_NOT_FIT)
    assert (result.value == 100) == (lever is caliper)


@pytest.mark.parametrize(
    ("reach", "hands", "rules", "verdict"),
    [
        (89.0, "ordinary", "us", Verdict.FITS),
        (89.1, "ordinary", "us", Verdict.DOES_NOT_FIT),
        (76.0, "small", "us", Verdict.FITS),
        (76.1, "small", "us", Verdict.DOES_NOT_FIT),
        (90.0, "ordinary", "iso", Verdict.FITS),
        (90.1, "ordinary", "iso", Verdict.DOES_NOT_FIT),
        (75.1, "small", "iso", Verdict.DOES_NOT_FIT),
        (None, "ordinary", "iso", Verdict.MEASURE_FIRST),
    ],
)
def test_reach_verdicts_turn_at_the_rules_of_the_place(reach, hands, rules, verdict):
    assert lever_reach(reach, hands, rules).verdict is verdict


@pytest.mark.parametrize(
    ("lever", "brake", "pulls", "verdict"),
    [
        ("cable", "cable", (LeverPull.LONG, LeverPull.LONG), Verdict.FITS),
        ("cable", "cable", (LeverPull.SHORT, LeverPull.LONG), Verdict.DOES_NOT_FIT),
        ("cable", "cable", (None, LeverPull.LONG), Verdict.MEASURE_FIRST),
        ("cable", "hydraulic", (None, None), Verdict.DOES_NOT_FIT),
        ("hydraulic", "cable", (None, LeverPull.LONG), Verdict.DOES_NOT_FIT),
        ("hydraulic", "hydraulic", (None, None), Verdict.WITH_CARE),
    ],
)
def test_a_lever_works_by_the_line_and_the_pull_of_its_brake(lever, brake, pulls, verdict):
    assert brake_lever_kind(lever, brake, *pulls).verdict is verdict


@pytest.mark.parametrize("cable", list(CableEnd))
@pytest.mark.parametrize("seat", list(CableEnd))
def test_a_cable_lies_only_in_its_own_seat(cable, seat):
    for of_cable in (cable_kind, gear_cable_kind):
        assert of_cable(cable, seat).verdict is (Verdict.FITS if cable is seat else Verdict.DOES_NOT_FIT)


@pytest.mark.parametrize(
    ("pads", "shapes", "verdict"),
    [
        (BrakeKind.RIM, ("a", "a"), Verdict.DOES_NOT_FIT),
        (BrakeKind.DISC, ("a", "A"), Verdict.FITS),
        (BrakeKind.DISC, ("a", "b"), Verdict.DOES_NOT_FIT),
        (BrakeKind.DISC, (None, "a"), Verdict.MEASURE_FIRST),
    ],
)
def test_pads_are_of_the_kind_and_the_shape_of_a_disc_brake(pads, shapes, verdict):
    assert pad_shape(pads, BrakeKind.DISC, *shapes).verdict is verdict


@pytest.mark.parametrize(
    ("rotor", "largest", "smallest", "verdict"),
    [
        (180, 180, 160, Verdict.FITS),
        (181, 180, 160, Verdict.DOES_NOT_FIT),
        (160, 180, 160, Verdict.FITS),
        (159, 180, 160, Verdict.DOES_NOT_FIT),
        (180, None, 160, Verdict.MEASURE_FIRST),
        (140, None, 160, Verdict.DOES_NOT_FIT),
    ],
)
def test_a_rotor_keeps_within_the_limits(rotor, largest, smallest, verdict):
    assert rotor_size(rotor_mm=rotor, largest_mm=largest, smallest_mm=smallest).verdict is verdict


def test_limits_the_wrong_way_round_are_refused():
    with pytest.raises(InputError, match="smallest"):
        rotor_size(rotor_mm=160, largest_mm=140, smallest_mm=180)


@pytest.mark.parametrize(
    ("thickness", "verdict"),
    [
        (1.7, Verdict.FITS),
        (1.69, Verdict.WITH_CARE),
        (1.6, Verdict.WITH_CARE),
        (1.59, Verdict.DOES_NOT_FIT),
        (None, Verdict.MEASURE_FIRST),
    ],
)
def test_rotor_verdicts_turn_at_the_mark(thickness, verdict):
    assert rotor_wear(thickness_mm=thickness, least_mm=1.6).verdict is verdict


@settings(max_examples=60, deadline=None)
@given(thickness=st.floats(0, 10), least=st.floats(2, 5), kind=st.sampled_from(PAD_KINDS))
def test_the_makers_figure_goes_before_the_typical_one(thickness, least, kind):
    marked = pad_wear(thickness_mm=thickness, least_mm=least, kind=kind)
    typical = pad_wear(thickness_mm=thickness, least_mm=None, kind=kind)
    assert marked.limit == least
    assert typical.limit == typical_pad_mm(kind)
    assert "goes first" in typical.advice
    assert "goes first" not in marked.advice
    assert (marked.verdict is Verdict.DOES_NOT_FIT) == (round(thickness - least, 9) < 0)


def test_pads_that_were_not_measured_are_measured_first():
    for kind in PAD_KINDS:
        assert pad_wear(thickness_mm=None, least_mm=None, kind=kind).verdict is Verdict.MEASURE_FIRST


def test_a_figure_of_the_lining_is_never_held_against_lining_and_plate():
    with pytest.raises(InputError, match="backing plate"):
        pad_wear(thickness_mm=1.9, least_mm=0.5)
    assert pad_wear(thickness_mm=0.4, least_mm=0.5, over="lining").verdict is Verdict.DOES_NOT_FIT
    assert pad_wear(thickness_mm=1.1, least_mm=0.5, over="lining").verdict is Verdict.FITS
    assert pad_wear(thickness_mm=0.4, over="lining").limit == 0.5
