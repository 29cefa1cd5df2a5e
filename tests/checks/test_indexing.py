"""Indexing and shared standards."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.checks.indexing import shift_error_mm
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict


def index(pull, ratio, pitch, sprockets):
    texts = {"pull": f"{pull} mm", "ratio": str(ratio), "pitch": f"{pitch} mm", "sprockets": str(sprockets)}
    return reckon_texts(CHECKS["indexing"], texts)


@given(ratio=st.floats(0.5, 3), pitch=st.floats(3, 7))
def test_the_pull_that_suits_has_no_error(ratio, pitch):
    assert shift_error_mm(pitch / ratio, ratio, pitch) == pytest.approx(0, abs=1e-12)


@given(pull=st.floats(1, 8), ratio=st.floats(0.5, 3), pitch=st.floats(3, 7))
def test_more_pull_moves_farther(pull, ratio, pitch):
    assert shift_error_mm(pull + 0.1, ratio, pitch) > shift_error_mm(pull, ratio, pitch)


@pytest.mark.parametrize(
    ("pull", "verdict"), [(2.5, Verdict.FITS), (2.45, Verdict.WITH_CARE), (2.8, Verdict.DOES_NOT_FIT)]
)
def test_the_verdict_goes_by_the_sprocket_spacing(pull, verdict):
    assert index(pull, 1.7, 4.34, 9).verdict is verdict


def test_errors_add_up_over_the_cassette():
    result = index(2.8, 1.7, 4.34, 9)
    assert result.named("per-shift") == pytest.approx(0.42)
    assert result.value == pytest.approx(3.36)
    assert result.named("at-either-end") == pytest.approx(1.68)


def standards(**parts):
    return reckon_texts(CHECKS["shared-standard"], parts)


def test_one_standard_fits():
    parts = dict.fromkeys(("shifter", "derailleur", "cassette", "chain", "chainring"), "Ten wide")
    assert standards(**parts).verdict is Verdict.FITS


def test_an_odd_derailleur_does_not_fit():
    parts = dict.fromkeys(("shifter", "derailleur", "cassette", "chain", "chainring"), "ten")
    assert standards(**{**parts, "derailleur": "eleven"}).verdict is Verdict.DOES_NOT_FIT


def test_a_clash_is_told_even_where_other_parts_are_unknown():
    assert standards(shifter="ten", derailleur="eleven").verdict is Verdict.DOES_NOT_FIT


def test_unknown_parts_are_asked_for():
    result = standards(shifter="ten", derailleur="ten", chain="ten")
    assert result.verdict is Verdict.MEASURE_FIRST
    assert "cassette" in result.advice


def test_chain_and_chainring_may_stay_unknown():
    assert standards(shifter="ten", derailleur="ten", cassette="ten").verdict is Verdict.FITS


def test_an_odd_chain_asks_for_care():
    parts = dict.fromkeys(("shifter", "derailleur", "cassette", "chainring"), "ten")
    assert standards(**parts, chain="eleven").verdict is Verdict.WITH_CARE
