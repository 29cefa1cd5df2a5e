"""Cockpit: insertion, gap above the steerer, clamps, pedals and bottom bracket."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.clamps import Joint, clamp_diameter, saddle_rails, steerer_fit
from builder.checks.cockpit import (
    POST_DIAMETERS,
    STEM_DIAMETERS,
    least_insertion_mm,
    post_insertion,
    spacer_gap,
    stem_insertion,
)
from builder.checks.cranks import Side, bottom_bracket_fit, crank_fixing, pedal_thread
from builder.checks.result import Verdict
from builder.model.facts import CrankFixing, Fitted, HeadsetKind, Material, PedalThread, RailShape, ShellKind
from tests.published import published

FITS, CARE, NO, FIRST = Verdict.FITS, Verdict.WITH_CARE, Verdict.DOES_NOT_FIT, Verdict.MEASURE_FIRST
LENGTHS = st.none() | st.floats(30, 300)


@pytest.mark.parametrize("case", [*published("standards/seat-post-mark"), *published("standards/seat-post-mark-iso")])
def test_a_seat_post_goes_in_by_as_many_diameters_as_the_standard_says(case):
    assert case.wanted() == POST_DIAMETERS


@pytest.mark.parametrize("case", published("standards/stem-mark"))
def test_a_quill_goes_in_by_as_many_diameters_as_the_standard_says(case):
    assert case.wanted() == STEM_DIAMETERS


@settings(max_examples=60, deadline=None)
@given(diameter=st.floats(20, 40), mark=LENGTHS, frame=LENGTHS)
def test_the_strictest_figure_counts(diameter, mark, frame):
    least = least_insertion_mm(diameter, POST_DIAMETERS, mark, frame)
    assert least == max([2 * diameter, *(figure for figure in (mark, frame) if figure is not None)])


@pytest.mark.parametrize(
    ("inserted", "mark", "frame", "verdict"),
    [
        (60.0, 60.0, None, FITS),
        (59.9, 60.0, None, NO),
        (60.0, None, None, FIRST),
        (54.3, None, None, NO),
        (60.0, 60.0, 80.0, NO),
        (None, 60.0, None, FIRST),
    ],
)
def test_insertion_verdicts_turn_at_the_largest_figure(inserted, mark, frame, verdict):
    assert post_insertion(diameter_mm=27.2, inserted_mm=inserted, mark_mm=mark, frame_least_mm=frame).verdict is verdict


@pytest.mark.parametrize(("inserted", "verdict"), [(55.5, FIRST), (55.4, NO), (None, FIRST)])
def test_a_stem_without_a_mark_is_held_against_the_standard(inserted, verdict):
    assert stem_insertion(diameter_mm=22.2, inserted_mm=inserted, mark_mm=None).verdict is verdict


@pytest.mark.parametrize(
    ("gap", "above", "verdict"),
    [
        (0.9, 0.0, NO),
        (1.0, 0.0, CARE),
        (1.9, 0.0, CARE),
        (2.0, 0.0, FITS),
        (5.0, 0.0, FITS),
        (5.1, 0.0, NO),
        (5.1, 5.0, FITS),
        (10.1, 5.0, NO),
        (None, 0.0, FIRST),
    ],
)
def test_the_gap_above_the_steerer_has_two_limits(gap, above, verdict):
    assert spacer_gap(gap_mm=gap, spacer_above_mm=above, steerer=Material.STEEL).verdict is verdict


@pytest.mark.parametrize(
    ("gap", "above", "steerer", "verdict"),
    [
        (5.0, 0.0, None, FIRST),
        (0.5, 0.0, None, NO),
        (5.0, 0.0, Material.CARBON, CARE),
        (5.0, 5.0, Material.CARBON, FITS),
    ],
)
def test_what_the_steerer_is_made_of_is_asked(gap, above, steerer, verdict):
    assert spacer_gap(gap_mm=gap, spacer_above_mm=above, steerer=steerer).verdict is verdict


@pytest.mark.parametrize("joint", list(Joint))
@pytest.mark.parametrize(
    ("clamp", "part", "verdict"),
    [
        (31.8, 31.8, FITS),
        (31.8, 31.7, FITS),
        (31.8, 31.6, NO),
        (31.8, 31.9, FITS),
        (31.8, 32.0, NO),
        (35.0, 24.0, NO),
        (None, 31.8, FIRST),
    ],
)
def test_a_clamp_takes_its_own_diameter_or_a_shim(joint, clamp, part, verdict):
    assert clamp_diameter(joint=joint, clamp_mm=clamp, part_mm=part).verdict is verdict


@pytest.mark.parametrize("joint", list(Joint))
def test_a_bar_and_a_headset_never_hold_by_a_shim(joint):
    shimmed = joint in (Joint.POST_IN_SEAT_TUBE, Joint.STEM_ON_STEERER)
    assert clamp_diameter(joint=joint, clamp_mm=35.0, part_mm=31.8).verdict is (CARE if shimmed else NO)


THREADED, THREADLESS = HeadsetKind.THREADED, HeadsetKind.THREADLESS


@pytest.mark.parametrize(
    ("headset", "stem", "kinds", "quill", "verdict"),
    [
        (28.6, 28.6, (THREADLESS, THREADLESS), Fitted.NONE, FITS),
        (28.6, 28.6, (THREADED, THREADLESS), Fitted.NONE, NO),
        (25.4, 28.6, (None, None), None, NO),
        (28.6, 31.8, (None, None), None, CARE),
        (28.6, 25.4, (None, None), None, NO),
        (28.6, None, (THREADED, THREADED), Fitted.FITTED, FITS),
        (28.6, None, (None, None), None, FIRST),
        (None, 28.6, (None, None), None, FIRST),
    ],
)
def test_steerer_headset_and_stem_are_of_one_diameter_and_kind(headset, stem, kinds, quill, verdict):
    result = steerer_fit(
        steerer_mm=28.6, headset_mm=headset, stem_mm=stem, steerer_kind=kinds[0], headset_kind=kinds[1], quill=quill
    )
    assert result.verdict is verdict


@pytest.mark.parametrize("saddle", list(RailShape))
@pytest.mark.parametrize("post", list(RailShape))
def test_a_clamp_holds_rails_of_its_own_shape(saddle, post):
    assert saddle_rails(saddle, post).verdict is (FITS if saddle is post else NO)


SQUARE, PINCH = CrankFixing.SQUARE_TAPER, CrankFixing.PINCH_BOLT


@pytest.mark.parametrize(
    ("crank", "bracket", "axles", "verdict"),
    [
        (PINCH, SQUARE, (24.0, None), NO),
        (SQUARE, PINCH, (None, None), NO),
        (PINCH, PINCH, (24.0, 24.0), FITS),
        (PINCH, PINCH, (24.0, 30.0), NO),
        (PINCH, PINCH, (24.0, None), FIRST),
        (CrankFixing.SELF_EXTRACTING, CrankFixing.SPLINED_BOLT, (22.0, 22.0), FIRST),
    ],
)
def test_cranks_go_onto_an_axle_of_their_own_kind(crank, bracket, axles, verdict):
    assert crank_fixing(crank, bracket, *axles).verdict is verdict


@pytest.mark.parametrize("pedal", list(PedalThread))
@pytest.mark.parametrize("crank", list(PedalThread))
@pytest.mark.parametrize("pedal_side", list(Side))
@pytest.mark.parametrize("crank_side", list(Side))
def test_thread_and_side_of_a_pedal_must_both_be_the_cranks(pedal, crank, pedal_side, crank_side):
    result = pedal_thread(pedal=pedal, crank=crank, pedal_side=pedal_side, crank_side=crank_side)
    if pedal is not crank or pedal_side is not crank_side:
        assert result.verdict is NO
    else:
        assert result.verdict is (CARE if crank_side is Side.LEFT else FITS)


LEFT_RIGHT, BOTH_RIGHT, PRESSED = ShellKind.THREADED_LEFT_RIGHT, ShellKind.THREADED_BOTH_RIGHT, ShellKind.PRESSED


@pytest.mark.parametrize(
    ("shell", "bracket", "bracket_width", "shell_width", "bores", "verdict"),
    [
        (LEFT_RIGHT, LEFT_RIGHT, 68.0, 68.0, (None, None), FITS),
        (LEFT_RIGHT, LEFT_RIGHT, 73.0, 68.0, (None, None), CARE),
        (LEFT_RIGHT, LEFT_RIGHT, 73.1, 68.0, (None, None), NO),
        (LEFT_RIGHT, LEFT_RIGHT, 68.0, 73.0, (None, None), NO),
        (LEFT_RIGHT, LEFT_RIGHT, 68.0, None, (None, None), FIRST),
        (LEFT_RIGHT, LEFT_RIGHT, 68.0, 68.0, (47.0, None), NO),
        (LEFT_RIGHT, LEFT_RIGHT, 68.0, 68.0, (47.0, 47.0), FITS),
        (LEFT_RIGHT, BOTH_RIGHT, 68.0, 68.0, (None, None), NO),
        (PRESSED, PRESSED, 86.5, 86.5, (41.0, 41.0), FITS),
        (PRESSED, PRESSED, 89.5, 86.5, (41.0, 41.0), NO),
        (PRESSED, PRESSED, 86.5, 86.5, (41.0, 46.0), NO),
        (PRESSED, PRESSED, 86.5, 86.5, (41.0, None), FIRST),
    ],
)
def test_kind_bore_and_width_of_a_bottom_bracket_must_suit(shell, bracket, bracket_width, shell_width, bores, verdict):
    result = bottom_bracket_fit(
        shell=shell,
        bracket=bracket,
        bracket_width_mm=bracket_width,
        shell_width_mm=shell_width,
        shell_bore_mm=bores[0],
        bracket_bore_mm=bores[1],
    )
    assert result.verdict is verdict
    if verdict in (FITS, CARE):
        assert ("left-hand" in result.advice) == (shell is LEFT_RIGHT)
