"""What the rear derailleur can hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.checks.chain_geometry import chain_links
from builder.checks.derailleur import capacity_teeth
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict
from builder.checks.take_up import TakeUp, take_up_as_json, take_up_grid

RINGS = st.lists(st.integers(22, 56), min_size=1, max_size=3)
SPROCKETS = st.lists(st.integers(9, 52), min_size=1, max_size=12)


def grid(rings, sprockets, rated, **more):
    return take_up_grid(rings, sprockets, rated, circumference_mm=2200, **more)


@given(rings=RINGS, sprockets=SPROCKETS)
def test_the_order_of_the_teeth_does_not_matter(rings, sprockets):
    assert capacity_teeth(rings, sprockets) == capacity_teeth(sorted(rings), sorted(sprockets, reverse=True))


@given(rings=RINGS, sprockets=SPROCKETS)
def test_the_smallest_pair_uses_what_the_derailleur_needs(rings, sprockets):
    cells = grid(rings, sprockets, 60)
    assert max(cell.used_teeth for cell in cells) == capacity_teeth(rings, sprockets)
    assert min(cell.used_teeth for cell in cells) == 0


@given(rings=RINGS, sprockets=SPROCKETS, rated=st.integers(5, 70))
def test_the_grid_says_the_same_as_the_capacity(rings, sprockets, rated):
    slack = [cell for cell in grid(rings, sprockets, rated) if cell.take_up is TakeUp.SLACK]
    assert bool(slack) == (capacity_teeth(rings, sprockets) > rated)


@given(rings=RINGS, sprockets=SPROCKETS)
def test_the_grid_has_every_gear_once_with_its_ratio_and_development(rings, sprockets):
    cells = grid(rings, sprockets, 40)
    assert len(cells) == len(set(rings)) * len(set(sprockets))
    for cell in cells:
        assert cell.ratio == cell.ring / cell.sprocket
        assert cell.development_m == pytest.approx(2.2 * cell.ratio)


def test_a_chain_that_is_too_short_shows_in_the_large_gears():
    sized = chain_links(425, 48, 36)
    cells = grid((48, 31), (11, 24, 36), 41, chainstay_mm=425, links=sized - 4)
    assert [cell.take_up for cell in cells if (cell.ring, cell.sprocket) == (48, 36)] == [TakeUp.TOO_TIGHT]
    assert [cell.take_up for cell in cells if (cell.ring, cell.sprocket) == (31, 24)] == [TakeUp.WITHIN]


def test_a_sized_chain_is_tight_nowhere():
    cells = grid((48, 31), (11, 24, 36), 42, chainstay_mm=425, links=chain_links(425, 48, 36))
    assert TakeUp.TOO_TIGHT not in {cell.take_up for cell in cells}


def test_links_too_many_use_up_the_cage():
    cells = grid((32,), (11, 42), 33, chainstay_mm=425, links=chain_links(425, 32, 42) + 2)
    assert {cell.sprocket: cell.take_up for cell in cells} == {42: TakeUp.WITHIN, 11: TakeUp.SLACK}


@pytest.mark.parametrize(
    ("rated", "verdict"),
    [
        ("41", Verdict.FITS),
        ("40", Verdict.FITS),
        ("39", Verdict.WITH_CARE),
        ("38", Verdict.WITH_CARE),
        ("37", Verdict.DOES_NOT_FIT),
    ],
)
def test_capacity_up_to_the_rating_fits(rated, verdict):
    result = reckon_texts(CHECKS["derailleur-capacity"], {"rings": "48,31", "sprockets": "11,34", "rated": rated})
    assert result.value == 40
    assert result.verdict is verdict
    assert result.margin == int(rated) - 40


@pytest.mark.parametrize("name", ["derailleur-capacity", "take-up"])
def test_without_a_rating_it_is_looked_up_first(name):
    result = reckon_texts(CHECKS[name], {"rings": "48,31", "sprockets": "11,34"})
    assert result.verdict is Verdict.MEASURE_FIRST
    assert result.value == 40


@pytest.mark.parametrize(
    ("name", "texts", "verdict"),
    [
        ("largest-sprocket", {"sprocket": "34", "rated": "34"}, Verdict.FITS),
        ("largest-sprocket", {"sprocket": "36", "rated": "34"}, Verdict.DOES_NOT_FIT),
        ("largest-sprocket", {"sprocket": "36"}, Verdict.MEASURE_FIRST),
        ("smallest-sprocket", {"sprocket": "11", "rated": "11"}, Verdict.FITS),
        ("largest-sprocket", {"sprocket": "35", "rated": "34"}, Verdict.WITH_CARE),
        ("largest-sprocket", {"sprocket": "34", "rated": "51", "least": "44"}, Verdict.WITH_CARE),
        ("smallest-sprocket", {"sprocket": "10", "rated": "11"}, Verdict.WITH_CARE),
        ("smallest-sprocket", {"sprocket": "10", "rated": "12"}, Verdict.DOES_NOT_FIT),
        ("smallest-sprocket", {"sprocket": "10"}, Verdict.MEASURE_FIRST),
    ],
)
def test_largest_and_smallest_sprocket_are_held_against_the_rating(name, texts, verdict):
    assert reckon_texts(CHECKS[name], texts).verdict is verdict


def test_the_gear_that_uses_all_fits_and_one_that_uses_more_is_the_owners_decision():
    def used(rated):
        return reckon_texts(CHECKS["take-up"], {"rings": "50,34", "sprockets": "11,28", "rated": rated})

    assert used("33").verdict is Verdict.FITS
    assert used("33").named("34x11") == 33
    assert used("32").verdict is Verdict.WITH_CARE
    assert "34×11" in used("32").advice
    assert used("30").verdict is Verdict.DOES_NOT_FIT


def test_growth_of_the_axle_distance_takes_teeth_of_capacity():
    """Both runs grow by 40 mm: 6.3 links of 12.7 mm, two teeth each, and 42 teeth become 55."""
    texts = {"rings": "30", "sprockets": "10,52", "rated": "42"}
    rigid = reckon_texts(CHECKS["derailleur-capacity"], texts)
    grown = reckon_texts(CHECKS["derailleur-capacity"], {**texts, "growth": "40 mm"})
    assert (rigid.value, rigid.verdict) == (42, Verdict.FITS)
    assert (grown.value, grown.verdict) == (55, Verdict.WITH_CARE)
    assert "sags" in grown.advice


def test_the_grid_goes_into_json_a_gear_at_a_time():
    written = take_up_as_json(grid((32,), (11, 42), 31))
    assert [gear["sprocket"] for gear in written] == [42, 11]
    assert written[1] == {
        "ring": 32,
        "sprocket": 11,
        "ratio": 2.90909090909,
        "development": 6.4,
        "take-up": 31,
        "state": "at the limit",
        "verdict": "fits",
    }
