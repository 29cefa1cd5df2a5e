"""Wear and width of the chain."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.checks.chain_wear import PIN_WIDTHS_MM, chain_wear_percent, wear_limit_percent
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import InputError, Verdict
from tests.published import published


@pytest.mark.parametrize("case", published("chain/wear-limits"))
def test_the_limit_is_that_of_the_trade(case):
    assert wear_limit_percent(case.inputs["speeds"]) == case.wanted()


@given(links=st.integers(4, 200), wear=st.floats(-0.4, 2.9))
def test_wear_is_found_again_from_the_length_that_it_makes(links, wear):
    assert chain_wear_percent(links * 12.7 * (1 + wear / 100), links) == pytest.approx(wear, abs=1e-9)


@given(links=st.integers(4, 200), length=st.floats(50, 2600))
def test_a_longer_chain_is_more_worn(links, length):
    assert chain_wear_percent(length + 0.1, links) > chain_wear_percent(length, links)


def wear(length, speeds):
    return reckon_texts(CHECKS["chain-wear"], {"length": f"{length} mm", "links": "24", "speeds": str(speeds)})


@pytest.mark.parametrize(
    ("length", "speeds", "verdict"),
    [
        (304.8, 11, Verdict.FITS),
        (306.2, 11, Verdict.FITS),
        (306.324, 11, Verdict.WITH_CARE),
        (306.4, 11, Verdict.DOES_NOT_FIT),
        (306.4, 10, Verdict.FITS),
        (307.086, 8, Verdict.WITH_CARE),
        (307.2, 8, Verdict.DOES_NOT_FIT),
    ],
)
def test_the_verdict_turns_at_the_limit(length, speeds, verdict):
    assert wear(length, speeds).verdict is verdict


def test_from_one_per_cent_the_sprockets_go_too():
    assert "sprockets" in wear(307.848, 9).advice
    assert "sprockets" not in wear(307.5, 9).advice


def test_a_miscounted_chain_is_refused():
    with pytest.raises(InputError, match="count the links again"):
        wear(304.8 + 12.7, 11)


def test_without_speeds_the_tighter_limit_holds():
    result = reckon_texts(CHECKS["chain-wear"], {"length": "306.4 mm", "links": "24"})
    assert result.limit == 0.5


@pytest.mark.parametrize(
    ("percent", "verdict"), [(0.1, Verdict.FITS), (0.4, Verdict.WITH_CARE), (0.5, Verdict.DOES_NOT_FIT)]
)
def test_a_worn_chain_does_not_go_on_new_sprockets(percent, verdict):
    texts = {"wear": f"{percent} %", "speeds": "12"}
    assert reckon_texts(CHECKS["chain-on-new-sprockets"], texts).verdict is verdict


@pytest.mark.parametrize(
    ("texts", "verdict"),
    [
        ({"speeds": "11"}, Verdict.MEASURE_FIRST),
        ({"speeds": "11", "chain-speeds": "11"}, Verdict.FITS),
        ({"speeds": "11", "chain-speeds": "12"}, Verdict.WITH_CARE),
        ({"speeds": "11", "chain-speeds": "9"}, Verdict.DOES_NOT_FIT),
        ({"speeds": "10", "width": "5.9 mm"}, Verdict.FITS),
        ({"speeds": "10", "width": "6.6 mm"}, Verdict.DOES_NOT_FIT),
        ({"speeds": "8", "chain-speeds": "7"}, Verdict.FITS),
    ],
)
def test_the_chains_width_must_suit_the_sprockets(texts, verdict):
    assert reckon_texts(CHECKS["chain-width"], texts).verdict is verdict


def test_more_speeds_never_take_a_wider_chain():
    rows = [PIN_WIDTHS_MM[speeds] for speeds in sorted(PIN_WIDTHS_MM)]
    assert all(later[1] <= earlier[1] for earlier, later in pairwise(rows))


def test_on_a_single_sprocket_the_width_inside_decides():
    def inside(**texts):
        return reckon_texts(CHECKS["chain-width"], {"speeds": "1", "chain-speeds": "8", **texts})

    assert inside().verdict is Verdict.MEASURE_FIRST
    assert inside(inner="2.4 mm", tooth="3.2 mm").verdict is Verdict.DOES_NOT_FIT
    assert inside(inner="3.3 mm", tooth="3.2 mm").verdict is Verdict.FITS


def test_new_sprockets_ask_for_the_tighter_limit_whatever_their_number():
    texts = {"wear": "0.6 %", "speeds": "9"}
    assert reckon_texts(CHECKS["chain-on-new-sprockets"], texts).verdict is Verdict.DOES_NOT_FIT
