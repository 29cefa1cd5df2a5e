"""Length of the chain, held against handbooks and against libraries that reach it by another way."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq
from shapely.affinity import translate
from shapely.geometry import MultiPoint, Point

from builder.checks.chain import spare_links
from builder.checks.chain_geometry import (
    DERAILLEUR_LINKS,
    PITCH_MM,
    centre_for_pitches_mm,
    chain_links,
    even_links,
    exact_pitches,
    handbook_pitches,
    loop_round,
    pitch_diameter_mm,
    workshop_rule_links,
)
from builder.checks.reckoning import reckon_texts
from builder.checks.registry import CHECKS
from builder.checks.result import InputError, Verdict
from tests.published import published

RING = st.integers(20, 60)
SPROCKET = st.integers(9, 55)
CHAINSTAY = st.floats(350, 650)


# --- published ---


@pytest.mark.parametrize("case", [*published("chain/length-bhandari-14.4"), *published("chain/length-jindal")])
def test_handbook_length_meets_the_textbook(case):
    assert handbook_pitches(**case.inputs) == case.wanted()


@pytest.mark.parametrize("case", published("chain/centre-bhandari-14.4"))
def test_centre_distance_meets_the_textbook(case):
    assert centre_for_pitches_mm(**case.inputs) == case.wanted()


@pytest.mark.parametrize("case", published("chain/centre-mott"))
def test_centre_distance_in_pitches_meets_the_textbook(case):
    assert centre_for_pitches_mm(**case.inputs) / PITCH_MM == case.wanted()


@pytest.mark.parametrize("case", published("chain/workshop-rule-over-exact"))
def test_the_workshop_rule_leaves_what_geometry_says(case):
    numbers = tuple(case.inputs.values())
    assert workshop_rule_links(*numbers) - exact_pitches(*numbers) == case.wanted()


@pytest.mark.parametrize("case", published("chain/two-links-for-the-derailleur"))
def test_the_derailleur_takes_one_pair_of_links(case):
    assert case.wanted() == DERAILLEUR_LINKS


# --- by another way ---


@settings(max_examples=20, deadline=None)
@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY)
def test_loop_agrees_with_the_hull_of_two_circles(ring, sprocket, chainstay):
    """The hull's two longest edges are the straight runs; the rest lies on the two circles, a pitch a tooth."""
    circles = [(0.0, ring), (chainstay, sprocket)]
    discs = [Point(x, 0).buffer(pitch_diameter_mm(teeth) / 2, quad_segs=1500) for x, teeth in circles]
    corners = list(discs[0].union(discs[1]).convex_hull.exterior.coords)
    edges = [(math.dist(a, b), (a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(corners)]
    edges.sort(reverse=True)
    pitches = sum(length for length, *_ in edges[:2]) / PITCH_MM
    for length, x, y in edges[2:]:
        centre, teeth = min(circles, key=lambda circle: abs(math.dist((x, y), (circle[0], 0)) - _radius(circle[1])))
        assert math.dist((x, y), (centre, 0)) == pytest.approx(_radius(teeth), rel=1e-4)
        pitches += teeth * length / (2 * math.pi * _radius(teeth))
    assert exact_pitches(chainstay, ring, sprocket) == pytest.approx(pitches, rel=1e-5)


def _radius(teeth):
    return pitch_diameter_mm(teeth) / 2


@settings(max_examples=40, deadline=None)
@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY)
def test_loop_agrees_with_a_belt_integrated_by_numbers(ring, sprocket, chainstay):
    """Cauchy: the way round a convex shape is the integral of its support function; here of the hull of two circles."""
    front, rear = _radius(ring), _radius(sprocket)

    def lead(angle):
        return chainstay * math.cos(angle) + rear - front

    turn = brentq(lead, 0.0, math.pi, xtol=1e-14)
    around = 2 * quad(lambda angle: max(front, chainstay * math.cos(angle) + rear), 0, math.pi, points=[turn])[0]
    on_rear, on_front = 2 * turn, 2 * (math.pi - turn)
    straight = around - on_rear * rear - on_front * front
    pitches = straight / PITCH_MM + (on_rear * sprocket + on_front * ring) / (2 * math.pi)
    assert exact_pitches(chainstay, ring, sprocket) == pytest.approx(pitches, rel=1e-9)


@settings(max_examples=15, deadline=None)
@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY)
def test_a_chain_of_stiff_links_on_toothed_wheels_is_on_average_as_long(ring, sprocket, chainstay):
    """Toothed wheels are polygons with sides of one pitch; the taut loop round them breathes a little as they turn."""
    lengths = []
    for step in range(24):
        front = _polygon(ring, step / 24)
        rear = translate(_polygon(sprocket, (7 * step % 24) / 24), xoff=chainstay)
        lengths.append(front.union(rear).convex_hull.length / PITCH_MM)
    assert exact_pitches(chainstay, ring, sprocket) == pytest.approx(sum(lengths) / len(lengths), abs=0.1)


def _polygon(teeth, phase):
    radius, angle = _radius(teeth), 2 * math.pi / teeth
    return MultiPoint(
        [(radius * math.cos(angle * (n + phase)), radius * math.sin(angle * (n + phase))) for n in range(teeth)]
    ).convex_hull


# --- limits and directions ---


@given(teeth=st.integers(11, 60), chainstay=CHAINSTAY)
def test_equal_sprockets_need_two_runs_and_one_turn(teeth, chainstay):
    assert exact_pitches(chainstay, teeth, teeth) == pytest.approx(2 * chainstay / PITCH_MM + teeth, rel=1e-12)


@given(ring=RING, sprocket=SPROCKET)
def test_far_apart_the_sprockets_difference_does_not_matter(ring, sprocket):
    far_mm = 1e7
    assert exact_pitches(far_mm, ring, sprocket) - 2 * far_mm / PITCH_MM == pytest.approx(
        (ring + sprocket) / 2, abs=1e-3
    )


@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY)
def test_the_handbook_series_is_near_the_exact_loop(ring, sprocket, chainstay):
    assert abs(handbook_pitches(chainstay, ring, sprocket) - exact_pitches(chainstay, ring, sprocket)) < 0.05


# The rule is made for the largest ring and the largest sprocket of common bikes; a 60-tooth ring with a 9-tooth
# sprocket at 350 mm, which no bike has as its two largest, is beyond it.
@given(ring=st.integers(22, 60), sprocket=st.integers(21, 52), chainstay=st.floats(380.0, 500.0))
def test_the_workshop_rule_agrees_within_one_pair_of_links(ring, sprocket, chainstay):
    rule = even_links(workshop_rule_links(chainstay, ring, sprocket))
    assert abs(rule - chain_links(chainstay, ring, sprocket)) <= 2


@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY, longer=st.floats(0, 50))
def test_a_longer_chainstay_never_needs_fewer_links(ring, sprocket, chainstay, longer):
    assert chain_links(chainstay + longer, ring, sprocket) >= chain_links(chainstay, ring, sprocket)


@given(ring=RING, sprocket=st.integers(9, 54), chainstay=CHAINSTAY)
def test_a_larger_sprocket_never_needs_fewer_links(ring, sprocket, chainstay):
    assert chain_links(chainstay, ring, sprocket + 1) >= chain_links(chainstay, ring, sprocket)


@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY)
def test_ring_and_sprocket_may_change_places(ring, sprocket, chainstay):
    assert exact_pitches(chainstay, ring, sprocket) == exact_pitches(chainstay, sprocket, ring)


@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY, growth=st.floats(0, 40))
def test_links_are_even_reach_round_and_are_less_than_a_pair_too_many(ring, sprocket, chainstay, growth):
    links = chain_links(chainstay, ring, sprocket, growth)
    needed = exact_pitches(chainstay + growth, ring, sprocket) + 2
    assert links % 2 == 0
    assert needed - 1e-6 <= links < needed + 2


@given(ring=RING, sprocket=SPROCKET, chainstay=CHAINSTAY)
def test_growth_counts_as_chainstay(ring, sprocket, chainstay):
    assert chain_links(chainstay, ring, sprocket, 20.0) == chain_links(chainstay + 20.0, ring, sprocket)


@given(ring=RING, sprocket=SPROCKET, centre=CHAINSTAY)
def test_centre_distance_turns_the_handbook_length_round(ring, sprocket, centre):
    pitches = handbook_pitches(centre, ring, sprocket)
    assert centre_for_pitches_mm(pitches, ring, sprocket) == pytest.approx(centre, rel=1e-9)


def test_the_last_bits_do_not_add_a_pair_of_links():
    assert even_links(106.0000000000001) == 106
    assert even_links(106.00001) == 108


def test_sprockets_that_would_touch_are_refused():
    with pytest.raises(InputError, match="touch"):
        loop_round(250, 70, 70)


def test_a_chain_that_is_too_short_at_any_distance_is_refused():
    with pytest.raises(InputError, match="too few"):
        centre_for_pitches_mm(40, 50, 50)


# --- what the mechanic reads ---


def test_a_quick_link_counts_as_one_and_leaves_an_odd_number():
    result = reckon_texts(CHECKS["chain-length"], {"chainstay": "425 mm", "ring": "32", "sprocket": "40"})
    assert result.value == 106
    assert result.named("links-to-leave") == 105


def test_a_joining_pin_leaves_them_all():
    texts = {"chainstay": "425 mm", "ring": "32", "sprocket": "40", "joiner": "joining-pin"}
    result = reckon_texts(CHECKS["chain-length"], texts)
    assert result.value == result.named("links-to-leave") == 106


def reach(links, **more):
    texts = {"links": str(links), "chainstay": "425 mm", "ring": "32", "sprocket": "40"}
    return reckon_texts(CHECKS["chain-reach"], {**texts, **{k.replace("_", "-"): str(v) for k, v in more.items()}})


@pytest.mark.parametrize(
    ("links", "verdict"),
    [
        (100, Verdict.DOES_NOT_FIT),
        (104, Verdict.DOES_NOT_FIT),
        (105, Verdict.MEASURE_FIRST),
        (106, Verdict.FITS),
        (108, Verdict.WITH_CARE),
    ],
)
def test_the_chain_on_the_bike_is_judged_by_its_links(links, verdict):
    assert reach(links).verdict is verdict


def test_a_chain_that_is_too_short_is_told_by_how_much():
    result = reach(102)
    assert result.named("missing") == 4
    assert result.margin == -4
    assert "106" in result.advice


def test_a_long_chain_fits_where_the_cage_takes_it_up():
    assert reach(108, small_ring=32, small_sprocket=11, rated=33).verdict is Verdict.FITS
    assert reach(108, small_ring=32, small_sprocket=11, rated=32).verdict is Verdict.WITH_CARE


@given(st.integers(0, 40))
def test_spare_links_come_in_pairs_and_stay_within_the_rating(spare):
    links = spare_links(20 + spare, 0, 20)
    assert links % 2 == 0
    assert 2 * links <= spare < 2 * (links + 2)


@settings(max_examples=30, deadline=None)
@given(ring=st.integers(30, 50), sprocket=st.integers(11, 35), fewer=st.integers(1, 8), chainstay=CHAINSTAY)
def test_a_tooth_of_capacity_is_half_a_link_of_slack(ring, sprocket, fewer, chainstay):
    """The hulls of the circles: a smaller sprocket leaves half a link slack for each tooth, which the cage takes up."""
    assume(ring - fewer >= 20)

    def hull_pitches(front, rear):
        discs = [
            Point(x, 0).buffer(teeth * PITCH_MM / 2 / math.pi, quad_segs=200)
            for x, teeth in ((0, front), (chainstay, rear))
        ]
        return discs[0].union(discs[1]).convex_hull.length / PITCH_MM

    slack = hull_pitches(ring, sprocket) - hull_pitches(ring - fewer, sprocket)
    assert slack == pytest.approx(fewer / 2, abs=0.5)
    assert exact_pitches(chainstay, ring, sprocket) - exact_pitches(chainstay, ring - fewer, sprocket) == pytest.approx(
        slack, abs=0.01
    )


@given(links=st.integers(40, 220))
def test_ends_meet_on_even_numbers_only(links):
    result = reckon_texts(CHECKS["chain-ends"], {"links": str(links)})
    assert (result.verdict is Verdict.FITS) == (links % 2 == 0)
