"""Brakes: what must be of one kind, and what may be worn."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.brake_levers import cable_pull, lever_reach
from builder.checks.brake_wear import PadKind, pad_wear, rotor_size, rotor_wear, typical_pad_mm
from builder.checks.brakes import BrakeMount, FluidGrade, brake_fluid, brake_mount, rotor_mount
from builder.checks.result import InputError, Verdict
from builder.model.facts import CaliperMount, Fluid, LeverPull, RotorMount

DOT = frozenset({FluidGrade.DOT, FluidGrade.DOT_3, FluidGrade.DOT_4, FluidGrade.DOT_5_1})


@pytest.mark.parametrize("brake", list(FluidGrade))
@pytest.mark.parametrize("bottle", list(FluidGrade))
def test_mineral_oil_silicone_and_glycol_are_never_mixed(brake, bottle):
    verdict = brake_fluid(brake, bottle).verdict
    if FluidGrade.UNKNOWN in (brake, bottle):
        assert verdict is Verdict.MEASURE_FIRST
    elif brake is bottle:
        assert verdict is Verdict.FITS
    elif {brake, bottle} <= DOT:
        assert verdict is Verdict.WITH_CARE
    else:
        assert verdict is Verdict.DOES_NOT_FIT


@pytest.mark.parametrize("fluid", [Fluid.MINERAL_OIL, Fluid.DOT])
def test_every_fluid_of_a_part_is_known_to_the_check(fluid):
    assert brake_fluid(FluidGrade(fluid.value), FluidGrade(fluid.value)).verdict is Verdict.FITS


@pytest.mark.parametrize("mount", [CaliperMount.POST, CaliperMount.TABS, CaliperMount.FLAT])
def test_every_caliper_mount_of_a_part_is_known_to_the_check(mount):
    assert brake_mount(BrakeMount(mount.value), BrakeMount(mount.value)).verdict is Verdict.FITS


@pytest.mark.parametrize("brake", list(BrakeMount))
@pytest.mark.parametrize("frame", list(BrakeMount))
def test_an_adaptor_joins_disc_mounts_only(brake, frame):
    disc = {BrakeMount.POST, BrakeMount.TABS, BrakeMount.FLAT}
    verdict = brake_mount(brake, frame).verdict
    assert (verdict is Verdict.FITS) == (brake is frame)
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
    ("reach", "small", "verdict"),
    [
        (89.0, False, Verdict.FITS),
        (89.1, False, Verdict.DOES_NOT_FIT),
        (76.0, True, Verdict.FITS),
        (76.1, True, Verdict.DOES_NOT_FIT),
        (None, False, Verdict.MEASURE_FIRST),
    ],
)
def test_reach_verdicts_turn_at_the_regulation(reach, small, verdict):
    assert lever_reach(reach, small_hands=small).verdict is verdict


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
@given(thickness=st.floats(0, 10), least=st.floats(0.1, 5), kind=st.sampled_from(list(PadKind)))
def test_the_makers_figure_goes_before_the_typical_one(thickness, least, kind):
    marked = pad_wear(thickness_mm=thickness, least_mm=least, kind=kind)
    typical = pad_wear(thickness_mm=thickness, least_mm=None, kind=kind)
    assert marked.limit == least
    assert typical.limit == typical_pad_mm(kind)
    assert "goes first" in typical.advice
    assert "goes first" not in marked.advice
    assert (marked.verdict is Verdict.DOES_NOT_FIT) == (round(thickness - least, 9) < 0)


def test_pads_that_were_not_measured_are_measured_first():
    for kind in PadKind:
        assert pad_wear(thickness_mm=None, least_mm=None, kind=kind).verdict is Verdict.MEASURE_FIRST
