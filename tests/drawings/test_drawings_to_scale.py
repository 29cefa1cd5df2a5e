"""Drawings read back and measured: what a number decides is where the number says, checked by other means.

Geometry is compared with shapely, straight lines through points and Student's t with scipy, the rest with formulas
written out again here. Turning directions and hands of threads are those of common workshop practice; no source.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise

import numpy as np
import pytest
import scipy.stats
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Point, Polygon
from shapely.ops import unary_union

from builder.checks.contrast import read_colour, relative_luminance
from builder.checks.trend import _T_95, fit
from builder.drawings.bolt_circle import order
from builder.drawings.drawing_kind import Numbers
from builder.drawings.marks import hatch, spread
from builder.drawings.registry import draw
from builder.drawings.transmission import Turn, open_loop, pitch_radius, route
from tests.drawings.examples import CASES
from tests.drawings.svg import (
    centre,
    commands,
    ends,
    part,
    parts,
    points,
    root,
    turns_clockwise,
    value,
    words,
)

radii = st.floats(5, 60)


def _length(line: tuple[tuple[float, float], tuple[float, float]]) -> float:
    return math.dist(*line)


# Chain and sprockets


@settings(max_examples=60, deadline=None)
@given(left=radii, right=radii, gap=st.floats(1, 300))
def test_the_loop_is_as_long_as_the_hull_of_two_circles(left: float, right: float, gap: float) -> None:
    """shapely: the boundary of the convex hull of both circles is the same loop."""
    distance = left + right + gap
    loop = open_loop((0, 0), (distance, 0), left, right)
    circles = [Point(0, 0).buffer(left, quad_segs=1000), Point(distance, 0).buffer(right, quad_segs=1000)]
    assert loop.length == pytest.approx(unary_union(circles).convex_hull.length, rel=1e-5)


@settings(max_examples=60, deadline=None)
@given(left=radii, right=radii, gap=st.floats(1, 300), share=st.floats(0, 1))
def test_every_point_of_the_loop_touches_the_hull(left: float, right: float, gap: float, share: float) -> None:
    distance = left + right + gap
    loop = open_loop((0, 0), (distance, 0), left, right)
    point = Point(loop.point(share * loop.length))
    circles = [Point(0, 0).buffer(left, quad_segs=1000), Point(distance, 0).buffer(right, quad_segs=1000)]
    assert point.distance(unary_union(circles).convex_hull.exterior) < 1e-3


@settings(max_examples=60, deadline=None)
@given(chainstay=st.integers(330, 600), ring=st.integers(22, 53), sprocket=st.integers(11, 52))
def test_the_chain_path_is_drawn_to_scale(chainstay: int, ring: int, sprocket: int) -> None:
    """Pitch circle p / sin(π/z), ISO 9633; the scale is what the centre distance says."""
    drawing = draw("chain-path", {"chainstay": chainstay, "ring": ring, "sprocket": sprocket})
    scale = _length(ends(part(drawing, "centre-distance"))) / chainstay
    for name, teeth in (("ring-pitch-circle", ring), ("sprocket-pitch-circle", sprocket)):
        diameter = 2 * value(part(drawing, name), "r") / scale
        assert diameter == pytest.approx(12.7 / math.sin(math.pi / teeth), rel=0.005, abs=0.15)
    left, right = ends(part(drawing, "centre-distance"))
    assert left == centre(part(drawing, "sprocket-pitch-circle"))
    assert right == centre(part(drawing, "ring-pitch-circle"))


def _pins(drawing_part: str, numbers: dict[str, float]) -> list[tuple[float, float]]:
    """The middles of the pins: each is a circle made of two arcs, begun at its right end."""
    drawn = commands(part(draw("chain-path", numbers), drawing_part))
    starts = [(x, y) for letter, values in drawn if letter == "M" for x, y in (values[:2],)]
    turns = [values[5:7] for letter, values in drawn if letter == "A"]
    return [((start[0] + far[0]) / 2, start[1]) for start, far in zip(starts, turns[::2], strict=True)]


@settings(max_examples=40, deadline=None)
@given(chainstay=st.integers(380, 600), ring=st.integers(22, 53), sprocket=st.integers(11, 52))
def test_the_drawn_pins_make_up_the_links_that_are_named(chainstay: int, ring: int, sprocket: int) -> None:
    """Length of the open loop by shapely; two links are added and the sum rounded up to even (common practice)."""
    numbers: dict[str, float] = {"chainstay": chainstay, "ring": ring, "sprocket": sprocket}
    drawing = draw("chain-path", numbers)
    circles = [
        Point(x, 0).buffer(12.7 / math.sin(math.pi / teeth) / 2, quad_segs=1000)
        for x, teeth in ((0, sprocket), (chainstay, ring))
    ]
    exact = unary_union(circles).convex_hull.length / 12.7
    assume(abs((exact + 2) / 2 - round((exact + 2) / 2)) > 1e-3)
    links = 2 * math.ceil((exact + 2) / 2)
    assert f"{links} links" in words(drawing)
    laid, spare = _pins("chain", numbers), _pins("spare-end", numbers)
    assert len(laid) == math.floor(exact) + 1
    assert len(laid) - 1 + len(spare) - 1 in (links, links - 1)
    scale = _length(ends(part(drawing, "centre-distance"))) / chainstay
    hull = unary_union(
        [
            Point(centre(part(drawing, name))).buffer(value(part(drawing, name), "r"), quad_segs=200)
            for name in ("ring-pitch-circle", "sprocket-pitch-circle")
        ]
    ).convex_hull
    assert max(Point(pin).distance(hull.exterior) for pin in laid) < 0.02
    for one, other in pairwise(laid):
        assert math.dist(one, other) <= 12.7 * scale + 0.03
        assert math.dist(one, other) > 0.95 * 12.7 * scale


def test_a_routed_chain_touches_each_wheel_and_enters_none() -> None:
    turns = (
        Turn(centre=(51, 76), radius=8),
        Turn(centre=(41, 50), radius=8, clockwise=False),
        Turn(centre=(34, 20), radius=15),
    )
    pins = route((86, 79), turns, (86, 10), 0.5)
    line = LineString(pins)
    for turn in turns:
        assert line.distance(Point(turn.centre)) == pytest.approx(turn.radius, abs=0.02)
    gaps = [math.dist(one, other) for one, other in pairwise(pins)]
    assert max(gaps) == pytest.approx(0.5, abs=1e-6)
    # In front of (right of) the guide pulley, behind (left of) the tension pulley.
    assert any(x > 41 + 7 and abs(y - 50) < 4 for x, y in pins)
    assert any(x < 51 - 7 and abs(y - 76) < 4 for x, y in pins)


@pytest.mark.parametrize(("teeth", "diameter"), [(11, 45.08), (32, 129.57), (40, 161.87), (50, 202.26)])
def test_pitch_radius_meets_the_standard_formula(teeth: int, diameter: float) -> None:
    """p / sin(π/z) with p = 12.7 mm, worked out with a pocket calculator."""
    assert 2 * pitch_radius(teeth) == pytest.approx(diameter, abs=0.01)


@pytest.mark.parametrize(("length", "links", "wear"), [(613.2, 48, 0.591), (131.8, 10, 3.780), (126.2, 10, -0.630)])
def test_the_wear_mark_stands_where_the_scale_says(length: float, links: int, wear: float) -> None:
    drawing = draw("chain-gauge", {"length": length, "links": links})
    half, one = (ends(part(drawing, f"mark-{name}"))[0][0] for name in ("0.5", "1"))
    measured = ends(part(drawing, "measured"))[0][0]
    assert 0.5 + 0.5 * (measured - half) / (one - half) == pytest.approx(wear, abs=0.003)


@pytest.mark.parametrize("speeds", [8, 9, 10, 11, 12, 13])
def test_the_limit_in_bold_is_the_one_for_the_speeds(speeds: int) -> None:
    """0.5 % from 11 speeds on, 0.75 % below (common practice)."""
    for length in (610, 630):
        svg = root(draw("chain-gauge", {"length": length, "links": 48, "speeds": speeds}))
        labels = [text for text in svg.iter() if text.text in ("0.5", "0.75", "1") and text.get("data-part") is None]
        bold = [text.text for text in labels if text.get("font-weight") == "bold"]
        assert bold == ["0.5" if speeds >= 11 else "0.75"]


@settings(max_examples=40, deadline=None)
@given(body=st.floats(20, 50), stack=st.floats(20, 45), spacer=st.floats(0, 5))
def test_stack_and_body_are_drawn_to_one_scale(body: float, stack: float, spacer: float) -> None:
    drawing = draw(
        "sprocket-stack", {"body": body, "stack": stack, "spacer": spacer, "sprockets": (11, 13, 15, 18, 21, 24, 28)}
    )
    drawn_body, drawn_stack = (_length(ends(part(drawing, name))) for name in ("body-length", "stack-width"))
    assert drawn_stack / drawn_body == pytest.approx((stack + spacer) / body, rel=2e-3)
    edges = [x for name in (28, 11) for x, _ in points(part(drawing, f"sprocket-{name}"))]
    assert (max(edges) - min(edges)) / drawn_body == pytest.approx(stack / body, rel=2e-3)
    assert ("can't clamp" in drawing.description) == (stack + spacer <= body)


# Gears


def test_the_grid_gives_every_gear_its_verdict() -> None:
    rings, sprockets, rated, short = (48, 36, 26), (11, 13, 15, 17, 19, 21, 24, 28, 32, 36), 43, 2
    drawing = draw("takeup-grid", {"rings": rings, "sprockets": sprockets, "rated": rated, "links-short": short})
    shown = words(drawing, "verdict")
    expected = []
    for sprocket in sorted(sprockets):
        for ring in sorted(rings):
            used = (48 + 36) - (ring + sprocket)
            tight, slack = used < 2 * short, used > rated
            expected.append("tight" if tight else "slack" if slack else "at limit" if used == rated else "within")
    assert shown == expected
    assert {"tight", "slack", "at limit", "within"} == set(shown)


def test_the_gear_chart_is_logarithmic() -> None:
    numbers: Numbers = {"rings": (34, 50), "sprockets": (11, 13, 15, 18, 21, 25, 30), "circumference": 2100}
    drawing = draw("gear-chart", numbers)
    found = {
        (ring, sprocket): value(part(drawing, f"gear--{ring}-{sprocket}"), "cx")
        for ring in (34, 50)
        for sprocket in (11, 13, 15, 18, 21, 25, 30)
    }
    logs = [math.log(2.1 * ring / sprocket) for ring, sprocket in found]
    slope, at_one = np.polyfit(logs, list(found.values()), 1)
    assert max(abs(slope * log + at_one - x) for log, x in zip(logs, found.values(), strict=True)) < 0.02
    tick = ends(part(drawing, "tick-4"))[0][0]
    assert tick == pytest.approx(slope * math.log(4) + at_one, abs=0.02)


def test_the_gear_chart_says_how_much_easier_the_lowest_gear_is() -> None:
    numbers: Numbers = {"rings": 32, "sprockets": (11, 32), "new-sprockets": (11, 40), "circumference": 2180}
    assert "lowest gear 20 % easier" in words(draw("gear-chart", numbers))  # 1 - 32/40


@settings(max_examples=30, deadline=None)
@given(gradient=st.floats(1, 45))
def test_the_hill_is_as_steep_as_it_says(gradient: float) -> None:
    foot, corner, crest = points(part(draw("hill", {"gradient": gradient}), "slope"))
    assert 100 * (corner[1] - crest[1]) / (corner[0] - foot[0]) == pytest.approx(gradient, abs=0.03)


def test_bars_are_as_long_as_their_numbers() -> None:
    numbers = {"gradient": 9, "cadence-before": 48, "cadence-after": 60, "gravity": 160, "rolling": 16, "air": 8}
    drawing = draw("hill", numbers)
    widths = {name: value(part(drawing, name), "width") for name in ("cadence-before", "cadence-after")}
    assert widths["cadence-before"] / widths["cadence-after"] == pytest.approx(48 / 60, abs=0.002)
    watts = {name: value(part(drawing, f"power-{name}"), "width") for name in ("climbing", "rolling", "air")}
    assert watts["rolling"] / watts["climbing"] == pytest.approx(16 / 160, abs=0.002)
    assert watts["air"] / watts["climbing"] == pytest.approx(8 / 160, abs=0.002)
    assert "184" in words(drawing)


# Bolts and threads


@pytest.mark.parametrize("bolts", [4, 5, 6])
def test_bolts_are_tightened_crosswise(bolts: int) -> None:
    """Each next bolt stands at least 90, 120 or 144 degrees away; with an even number every second one is opposite."""
    drawing = draw("bolt-circle", {"bolts": bolts})
    places = [centre(part(drawing, f"bolt-{number}")) for number in range(1, bolts + 1)]
    middle = (sum(x for x, _ in places) / bolts, sum(y for _, y in places) / bolts)
    angles = [math.degrees(math.atan2(y - middle[1], x - middle[0])) for x, y in places]
    steps = [min((a - b) % 360, (b - a) % 360) for a, b in pairwise(angles)]
    assert min(steps) >= {4: 90, 5: 144, 6: 120}[bolts] - 1
    if bolts % 2 == 0:
        assert steps[::2] == pytest.approx([180] * (bolts // 2), abs=1)


@pytest.mark.parametrize("bolts", [2, 3, 4, 5, 6])
def test_every_bolt_is_tightened_once(bolts: int) -> None:
    assert sorted(order(bolts)) == list(range(bolts))


def test_a_faceplate_is_tightened_from_corner_to_corner() -> None:
    drawing = draw("bolt-circle", {"bolts": 4, "kind": "faceplate"})
    (x1, y1), (x2, y2), (x3, y3), (x4, y4) = (centre(part(drawing, f"bolt-{number}")) for number in (1, 2, 3, 4))
    assert (x1 < x2) == (x4 < x3)
    assert (y1 < y2) == (y3 < y4)
    assert x1 != x2
    assert y1 != y2


def test_a_rotor_uses_the_same_order() -> None:
    places = [centre(part(draw("rotor-bolts", {"mount": "six-bolt"}), f"bolt-{number}")) for number in range(1, 7)]
    for one, other in zip(places[::2], places[1::2], strict=True):
        assert (one[0] + other[0]) / 2 == pytest.approx(45, abs=0.02)


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("act", ["tighten", "loosen"])
def test_a_right_hand_thread_tightens_clockwise(hand: str, act: str) -> None:
    drawing = draw("thread-hand", {"hand": hand, "act": act})
    assert turns_clockwise(part(drawing, f"turn-{act}")) == ((hand == "right") == (act == "tighten"))


def _rises_to_the_right(slant: tuple[tuple[float, float], tuple[float, float]]) -> bool:
    """Stand the level bolt upright by a quarter turn: does its thread then climb to the right?"""
    (x1, y1), (x2, y2) = slant
    across, up = -(y2 - y1), -(x2 - x1)  # a quarter turn clockwise, heights counted upward
    return across * up > 0


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_drawn_thread_leans_as_its_hand_asks(hand: str) -> None:
    """A right-hand helix with its axis upright climbs to the right on the side that is seen."""
    drawing = draw("thread-hand", {"hand": hand})
    assert all(_rises_to_the_right(ends(line)) == (hand == "right") for line in parts(drawing, "thread"))


@pytest.mark.parametrize("act", ["tighten", "loosen"])
def test_the_left_pedal_turns_the_other_way(act: str) -> None:
    drawing = draw("pedal-threads", {"act": act})
    assert turns_clockwise(part(drawing, "turn-right-pedal")) == (act == "tighten")
    assert turns_clockwise(part(drawing, "turn-left-pedal")) == (act == "loosen")


@pytest.mark.parametrize(("shell", "clockwise"), [("threaded-left-right", False), ("threaded-both-right", True)])
def test_the_drive_side_cup_turns_as_its_shell_asks(shell: str, *, clockwise: bool) -> None:
    drawing = draw("bottom-bracket-cups", {"shell": shell})
    assert turns_clockwise(part(drawing, "turn-drive-side")) is clockwise
    assert turns_clockwise(part(drawing, "turn-other-side")) is True
    loosened = draw("bottom-bracket-cups", {"shell": shell, "act": "loosen"})
    assert turns_clockwise(part(loosened, "turn-drive-side")) is not clockwise
    assert turns_clockwise(part(loosened, "turn-other-side")) is False


def test_a_barrel_adjuster_goes_out_anticlockwise() -> None:
    drawing = draw("barrel-adjuster")
    assert turns_clockwise(part(drawing, "turn-out")) is False
    assert turns_clockwise(part(drawing, "turn-in")) is True


def test_a_lockring_tightens_clockwise() -> None:
    assert turns_clockwise(part(draw("rotor-bolts", {"mount": "splined"}), "turn-lockring"))


@pytest.mark.parametrize("mount", ["six-bolt", "splined"])
def test_seen_from_the_left_a_wheel_that_goes_forward_turns_anticlockwise(mount: str) -> None:
    """The road pulls the lowest point to the rear, so that the top goes to the front, which is drawn at the left."""
    drawing = draw("rotor-bolts", {"mount": mount})
    assert " ".join(words(drawing, "seen-from")) == "left side of the bike, front to the left"
    (x1, _), (x2, _) = ends(part(drawing, "front"))
    assert x2 < x1
    assert turns_clockwise(part(drawing, "turn-wheel")) is False


def test_both_hands_push_down_at_the_chain_whip_and_the_lockring_comes_loose() -> None:
    """Left of the middle down is anticlockwise, which loosens; right of it, clockwise, which holds."""
    drawing = draw("chain-whip")
    middle = centre(part(drawing, "lockring"))[0]
    for name, left in (("push-spanner", True), ("push-whip", False)):
        (x, y1), (_, y2) = ends(part(drawing, name))
        assert (x < middle) == left
        assert y2 > y1
    assert turns_clockwise(part(drawing, "turn-lockring")) is False


def test_a_cage_is_pulled_to_the_rear_which_is_left_where_the_front_is_right() -> None:
    drawing = draw("cage-back")
    assert "front to the right" in words(drawing, "seen-from")
    assert turns_clockwise(part(drawing, "turn-back")), "below its bolt, what turns clockwise goes to the left"


def test_a_quick_link_is_pulled_apart_to_lock_and_pushed_together_to_open() -> None:
    for name, shape, apart in (("quick-link-lock", "pull", True), ("quick-link-open", "push", False)):
        drawing = draw(name)
        (a, _), (b, _) = ends(part(drawing, f"{shape}-left"))
        (c, _), (d, _) = ends(part(drawing, f"{shape}-right"))
        assert (b < a, d > c) == (apart, apart)


def test_the_gap_of_the_body_angle_runs_from_tip_to_tip() -> None:
    """Teeth of both on the line of centres: so that the gap is drawn where it is the least."""
    drawing = draw("body-gap")
    (x1, top), (x2, low) = ends(part(drawing, "gap"))
    assert x1 == x2
    assert low - top == pytest.approx(4.4, abs=0.02)


def test_the_force_on_a_spanner_turns_the_bolt_clockwise() -> None:
    for name, numbers in (
        ("lever", {"torque": 40, "lever": 250}),
        ("adaptor", {"torque": 40, "wrench": 350, "adaptor": 50}),
    ):
        drawing = draw(name, numbers)
        (x, y1), (_, y2) = ends(part(drawing, "force"))
        bolt_x = min(x for x, _ in ends(part(drawing, "lever" if name == "lever" else "effective")))
        assert y2 > y1, "down"
        assert x > bolt_x, "on the right of the bolt"


@settings(max_examples=40, deadline=None)
@given(torque=st.floats(1, 100), lever=st.floats(50, 1000))
def test_the_hand_force_is_torque_over_lever(torque: float, lever: float) -> None:
    drawing = draw("lever", {"torque": torque, "lever": lever})
    (shown,) = [found[1] for word in words(drawing) if (found := re.fullmatch(r"(\d+) N", word))]
    assert int(shown) == pytest.approx(torque * 1000 / lever, abs=0.51)


@settings(max_examples=40, deadline=None)
@given(wrench=st.floats(150, 600), adaptor=st.floats(20, 100), angle=st.floats(-120, 120))
def test_the_adaptor_is_drawn_to_scale(wrench: float, adaptor: float, angle: float) -> None:
    """The same force at the grip: setting / wrench = torque / (wrench + adaptor · cos angle)."""
    drawing = draw("adaptor", {"torque": 50, "wrench": wrench, "adaptor": adaptor, "angle": angle})
    drawn = {name: _length(ends(part(drawing, name))) for name in ("wrench", "effective")}
    ratio = (wrench + adaptor * math.cos(math.radians(angle))) / wrench
    assert drawn["effective"] / drawn["wrench"] == pytest.approx(ratio, abs=0.003)
    (setting,) = [found[1] for word in words(drawing) if (found := re.search(r"set ([\d.]+)", word))]
    assert float(setting) == pytest.approx(50 / ratio, abs=0.051)


# Wheels, brakes, cockpit


@settings(max_examples=40, deadline=None)
@given(
    rim=st.floats(350, 640),
    flange=st.floats(30, 100),
    offset=st.floats(10, 45),
    spokes=st.sampled_from([20, 24, 28, 32, 36]),
    crossings=st.integers(0, 3),
)
def test_the_spoke_is_as_long_as_its_ends_are_apart(
    rim: float, flange: float, offset: float, spokes: int, crossings: int
) -> None:
    """Both ends as points in space (numpy), less half the hole; and the drawn triangle to the same scale."""
    turn = math.radians(720 * crossings / spokes)
    assume(turn < math.radians(99))
    numbers = {
        "rim-diameter": rim,
        "flange-diameter": flange,
        "flange-offset": offset,
        "spokes": spokes,
        "crossings": crossings,
        "hole": 2.6,
    }
    at_rim = np.array([rim / 2, 0, 0])
    at_hub = np.array([flange / 2 * math.cos(turn), flange / 2 * math.sin(turn), offset])
    drawing = draw("spoke-triangle", numbers)
    found = re.search(r"([\d.]+) mm", drawing.title)
    assert found is not None
    assert float(found[1]) == pytest.approx(float(np.linalg.norm(at_rim - at_hub)) - 1.3, abs=0.051)
    drawn = {name: _length(ends(part(drawing, name))) for name in ("rim-radius", "flange-radius", "spoke")}
    assert drawn["flange-radius"] / drawn["rim-radius"] == pytest.approx(flange / rim, abs=0.002)
    flat = float(np.linalg.norm((at_rim - at_hub)[:2]))
    assert drawn["spoke"] / drawn["rim-radius"] == pytest.approx(flat / (rim / 2), abs=0.002)


@settings(max_examples=40, deadline=None)
@given(inner=st.floats(13, 45), more=st.floats(5, 60))
def test_tyre_and_rim_widths_are_drawn_to_one_scale(inner: float, more: float) -> None:
    drawing = draw("rim-tyre-section", {"inner-width": inner, "tyre-width": inner + more})
    widths = {name: _length(ends(part(drawing, name))) for name in ("tyre-width", "inner-width")}
    assert widths["tyre-width"] / widths["inner-width"] == pytest.approx((inner + more) / inner, rel=0.005)


@pytest.mark.parametrize("gap", [1.0, 2.0, 3.0])
def test_what_is_drawn_at_full_size_is_at_full_size(gap: float) -> None:
    assert _length(ends(part(draw("front-derailleur-cage", {"gap": gap}), "gap"))) == pytest.approx(gap, abs=0.011)
    assert _length(ends(part(draw("headset-stack", {"gap": gap}), "gap"))) == pytest.approx(gap, abs=0.011)
    steerer = [x for wall in parts(draw("headset-stack"), "steerer") for x, _ in points(wall)]
    assert max(steerer) - min(steerer) == pytest.approx(28.6, abs=0.02)  # the usual steerer, 1 1/8 in


@pytest.mark.parametrize(("travel", "sag"), [(120, 30), (100, 20), (160, 48)])
def test_sag_is_its_share_of_the_travel(travel: float, sag: float) -> None:
    drawing = draw("measure-sag", {"travel": travel, "sag": sag})
    ring, seal = (parts(drawing, name)[0] for name in ("ring", "seal"))
    way = value(seal, "y") - (value(ring, "y") + value(ring, "height") / 2)
    whole = _length(ends(part(drawing, "travel")))
    assert way / whole == pytest.approx(sag / travel, abs=0.005)
    assert f"{100 * sag / travel:.0f} %" in words(drawing)


@pytest.mark.parametrize(("stroke", "sag"), [(50, 15), (65, 13)])
def test_the_sag_of_a_shock_is_its_share_of_the_stroke(stroke: float, sag: float) -> None:
    drawing = draw("measure-sag", {"part": "shock", "stroke": stroke, "sag": sag})
    ring, seal = (parts(drawing, name)[0] for name in ("ring", "seal"))
    way = value(ring, "y") + value(ring, "height") / 2 - (value(seal, "y") + value(seal, "height"))
    assert way / _length(ends(part(drawing, "travel"))) == pytest.approx(sag / stroke, abs=0.005)
    assert f"{100 * sag / stroke:.0f} %" in words(drawing)
    assert "fork" not in drawing.title + drawing.description + " ".join(drawing.legend)


def test_the_sag_of_a_fork_shows_no_shock() -> None:
    drawing = draw("measure-sag", {"travel": 120, "sag": 30})
    assert "shock" not in drawing.title + drawing.description + " ".join(drawing.legend)


@settings(max_examples=30, deadline=None)
@given(inserted=st.floats(40, 200), least=st.floats(40, 120))
def test_the_mark_on_the_post_shows_only_when_it_stands_too_high(inserted: float, least: float) -> None:
    assume(abs(inserted - least) > 1)
    drawing = draw("measure-post-insertion", {"inserted": inserted, "least": least})
    top, low = sorted(y for _, y in ends(part(drawing, "inserted")))
    mark = ends(part(drawing, "least-mark"))[0][1]
    assert (low - mark) / (low - top) == pytest.approx(least / inserted, rel=0.01)
    assert (mark < top) == (inserted < least)
    assert ("not deep enough" in drawing.description) == (inserted < least)


@pytest.mark.parametrize("thickness", [1.5, 1.62, 2.0])
def test_the_rotor_is_four_times_its_size(thickness: float) -> None:
    drawing = draw("measure-rotor", {"thickness": thickness, "least": 1.5})
    assert value(part(drawing, "rotor"), "width") == pytest.approx(4 * thickness, abs=0.02)
    assert _length(ends(part(drawing, "thickness"))) == pytest.approx(4 * thickness, abs=0.02)


def test_the_guide_pulley_is_straight_below_the_picked_sprocket() -> None:
    drawing = draw("limit-screws", {"sprockets": (11, 13, 15, 18, 21, 24, 28, 32)})
    first, second = (ends(line) for line in parts(drawing, "sight-line"))
    assert first[0][0] == first[1][0]
    assert second[0][0] == second[1][0]
    assert first[0][0] > 8 + 20, "the smallest sprocket is outermost, at the right seen from behind"
    assert second[0][0] == pytest.approx(53)


def test_limit_screws_show_no_teeth_that_are_not_the_bikes() -> None:
    assert "smallest, 11" in draw("limit-screws", {"sprockets": (11, 32)}).svg
    unknown = draw("limit-screws").svg
    assert "smallest" in unknown
    assert "32" not in re.sub(r"<[^>]*>", " ", unknown)


# Print


@settings(max_examples=40, deadline=None)
@given(distance=st.floats(300, 1500), angle=st.floats(10, 30))
def test_the_letter_fills_its_angle(distance: float, angle: float) -> None:
    drawing = draw("letter-height", {"distance": distance, "angle": angle})
    height = value(part(drawing, "letter"), "height")
    assert 2 * math.degrees(math.atan(height / 2 / distance)) * 60 == pytest.approx(angle, abs=0.1)


def test_letter_height_meets_the_published_ratio() -> None:
    """NUREG-0700 rev. 3, 11.4.1.5-1: 15 arc minutes is 0.004 of the distance, 20 is 0.006; both rounded there."""
    for angle, ratio, tolerance in ((15, 0.004, 0.0005), (20, 0.006, 0.0005)):
        height = value(part(draw("letter-height", {"distance": 600, "angle": angle}), "letter"), "height")
        assert height / 600 == pytest.approx(ratio, abs=tolerance)


@pytest.mark.parametrize(
    ("fore", "back", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),
        ("#767676", "#ffffff", 4.54),
        ("#ffffff", "#ffffff", 1.0),
        ("#ff0000", "#ffffff", 4.0),
    ],
)
def test_contrast_meets_well_known_pairs(fore: str, back: str, ratio: float) -> None:
    """21 to 1 is stated in WCAG 2.2; the others are widely quoted examples (from memory)."""
    lights = sorted(relative_luminance(read_colour(one)) for one in (fore, back))
    assert (lights[1] + 0.05) / (lights[0] + 0.05) == pytest.approx(ratio, abs=0.005)
    found = re.search(r"([\d.]+) to 1", draw("contrast-chips", {"foreground": fore, "background": back}).title)
    assert found is not None
    assert float(found[1]) == pytest.approx(ratio, abs=0.01)


# Wear


def test_the_table_of_student_t_meets_scipy() -> None:
    for freedom, value_95 in enumerate(_T_95, start=1):
        assert value_95 == pytest.approx(scipy.stats.t.ppf(0.975, freedom), abs=6e-4)


_history = st.lists(
    st.tuples(st.integers(0, 900), st.floats(0, 1)), min_size=3, max_size=12, unique_by=lambda pair: pair[0]
).map(sorted)


@settings(max_examples=60, deadline=None)
@given(history=_history)
def test_the_fitted_line_is_that_of_scipy(history: list[tuple[int, float]]) -> None:
    days, values = zip(*history, strict=True)
    trend, known = fit(days, values), scipy.stats.linregress(days, values)
    for day in (0, 450, 1200):
        assert trend.at(day) == pytest.approx(known.intercept + known.slope * day, rel=1e-6, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(history=_history, limit=st.floats(1.1, 3))
def test_the_window_is_where_the_band_meets_the_limit(history: list[tuple[int, float]], limit: float) -> None:
    """Fieller's ends put back into the band, whose half height comes from scipy's t and the residuals (numpy)."""
    days, values = (np.array(row, dtype=float) for row in zip(*history, strict=True))
    trend = fit(tuple(days), tuple(values))
    assume(abs(trend.slope) > 1e-6)
    slope, at_zero = np.polyfit(days, values, 1)
    rest = values - (slope * days + at_zero)
    scatter = math.sqrt(float(rest @ rest) / (len(days) - 2))
    assume(scatter > 1e-6)

    def half(day: float) -> float:
        apart = float(((days - days.mean()) ** 2).sum())
        t = float(scipy.stats.t.ppf(0.975, len(days) - 2))
        return t * scatter * math.sqrt(1 / len(days) + (day - float(days.mean())) ** 2 / apart)

    for end in trend.window(limit):
        if end is not None and abs(end) < 1e5:
            away = abs(slope * end + at_zero - limit)
            assert away == pytest.approx(half(end), rel=5e-3)


@settings(max_examples=60, deadline=None)
@given(history=_history, limit=st.floats(0, 2), unit=st.sampled_from(["%", "mm"]))
def test_any_wear_history_can_be_drawn(history: list[tuple[int, float]], limit: float, unit: str) -> None:
    days, values = zip(*history, strict=True)
    numbers: Numbers = {"days": days, "values": values, "limit": limit, "unit": unit, "first": "2025-01-10"}
    drawing = draw("wear-trend", numbers)
    assert len(parts(drawing, "point")) == len(history)
    reached = values[-1] >= limit if unit == "%" else values[-1] <= limit
    assert ("the limit is reached" in words(drawing)) == reached


def test_the_points_and_the_line_of_the_wear_trend_stand_to_scale() -> None:
    drawing = draw("wear-trend", {"days": (0, 100, 200, 300), "values": (0.1, 0.2, 0.3, 0.4), "limit": 0.75})
    places = [centre(point) for point in parts(drawing, "point")]
    line = LineString(ends(part(drawing, "fitted")))
    assert max(line.distance(Point(place)) for place in places) < 0.02
    (x1, y1), (x2, y2) = places[0], places[-1]
    limit_y = ends(part(drawing, "limit"))[0][1]
    assert (limit_y - y1) / (y2 - y1) == pytest.approx((0.75 - 0.1) / 0.3, abs=0.01)
    assert x2 > x1
    assert "limit reached about day 650" in words(drawing)
    assert "likely between day 650 and day 650" in words(drawing), "points in line leave no doubt"


@pytest.mark.parametrize(
    "numbers", [numbers for name, numbers in CASES if name == "wear-trend"], ids=lambda numbers: numbers["values"]
)
def test_the_word_of_the_limit_stands_clear_of_the_time_axis(numbers: Numbers) -> None:
    drawing = draw("wear-trend", numbers)
    axis, limit = (ends(part(drawing, name))[0][1] for name in ("axis", "limit"))
    letters = part(drawing, "limit-words")
    base = value(letters, "y")
    assert base < axis - 1.0
    assert base < limit or base - value(letters, "font-size") > limit - 1.5


# Marks


@settings(max_examples=40, deadline=None)
@given(
    corners=st.lists(st.tuples(st.floats(0, 60), st.floats(0, 60)), min_size=3, max_size=8), angle=st.floats(-80, 80)
)
def test_hatching_stays_inside_its_outline(corners: list[tuple[float, float]], angle: float) -> None:
    hull = MultiPoint(corners).convex_hull
    assume(isinstance(hull, Polygon) and hull.area > 20)
    outline = list(hull.exterior.coords)[:-1]
    found = re.findall(r'x1="([-\d.]+)" y1="([-\d.]+)" x2="([-\d.]+)" y2="([-\d.]+)"', hatch(outline, angle_deg=angle))
    assert all(
        hull.buffer(0.02).covers(LineString(((float(x1), float(y1)), (float(x2), float(y2)))))
        for x1, y1, x2, y2 in found
    )


@settings(max_examples=40, deadline=None)
@given(places=st.lists(st.floats(0, 90), min_size=1, max_size=6).map(sorted), least=st.floats(0.5, 10))
def test_crowded_marks_are_moved_apart(places: list[float], least: float) -> None:
    moved = spread(places, least)
    assert all(b - a >= least - 1e-9 for a, b in pairwise(moved))
    assert sum(moved) == pytest.approx(sum(places), abs=1e-6)
