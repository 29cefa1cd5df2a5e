"""Whatever the blocks, none is lost or parted from what it keeps, and nothing overlaps or runs over."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.composing import Block, End, Frame, Place, TooHigh, compose, fewest, fills, roomy
from builder.composing.sides import parted

ROOM_MM = 100.0
HAIR_MM = 0.02


@st.composite
def block_lists(draw: st.DrawFn) -> list[Block]:
    """Blocks that always fit: a heading and its step together are lower than a column."""
    heads = draw(st.lists(st.floats(1, 20), max_size=2))
    found = [Block(height_mm=height, gap_mm=draw(st.floats(0, 3)), spans=True) for height in heads]
    for _ in range(draw(st.integers(0, 30))):
        if draw(st.booleans()):
            found.append(Block(height_mm=draw(st.floats(1, 10)), gap_mm=draw(st.floats(0, 8)), keeps_next=True))
        height = draw(st.floats(1, 80))
        tells = draw(st.frozensets(st.sampled_from(["eyes", "teeth", "hot"]), max_size=2))
        short = draw(st.floats(0.5, height)) if tells and draw(st.booleans()) else None
        found.append(
            Block(
                height_mm=height,
                gap_mm=draw(st.floats(0, 8)),
                ends=draw(st.sampled_from(list(End))),
                tells=tells,
                short_mm=short,
            )
        )
    return found


FRAMES = st.builds(Frame, columns=st.integers(1, 4), height_mm=st.just(ROOM_MM))


@given(block_lists(), FRAMES)
def test_every_block_has_one_place_in_reading_order(blocks: list[Block], frame: Frame) -> None:
    places = compose(blocks, frame)
    assert len(places) == len(blocks)
    order = [(place.side, not place.spans, place.column, place.top_mm) for place in places]
    assert order == sorted(order)


@given(block_lists(), FRAMES)
def test_no_two_blocks_overlap_and_none_runs_over(blocks: list[Block], frame: Frame) -> None:
    places = compose(blocks, frame)
    for block, place in zip(blocks, places, strict=True):
        assert place.bottom_mm <= ROOM_MM + HAIR_MM
        assert place.height_mm == (block.short_mm if place.short else block.height_mm)
        assert 0 <= place.column < frame.columns
    for number, (one, other) in enumerate(pairwise(places), 1):
        if (one.side, one.column, one.spans) == (other.side, other.column, other.spans):
            assert other.top_mm == pytest.approx(one.bottom_mm + blocks[number].gap_mm)
    heads = [place for place in places if place.spans]
    below = [place for place in places if place.side == 0 and not place.spans]
    assert all(one.top_mm >= heads[-1].bottom_mm - HAIR_MM for one in below) if heads else True


@given(block_lists(), FRAMES)
def test_the_fewest_sides_are_known_without_composing(blocks: list[Block], frame: Frame) -> None:
    whole = [replace(block, short_mm=None) for block in blocks]
    for some in filter(None, (whole, blocks)):
        sides = compose(some, frame, tight=True)[-1].side + 1
        assert fewest(some, frame) == sides or (some is blocks and fewest(some, frame) > sides)


@given(block_lists(), FRAMES)
def test_a_heading_is_never_parted_from_its_step(blocks: list[Block], frame: Frame) -> None:
    assert list(parted(blocks, compose(blocks, frame))) == []


@given(block_lists(), FRAMES)
def test_a_block_is_shortened_only_where_its_side_has_told_all_of_it(blocks: list[Block], frame: Frame) -> None:
    told: dict[int, set[str]] = {}
    for block, place in zip(blocks, compose(blocks, frame), strict=True):
        here = told.setdefault(place.side, set())
        if place.short:
            assert block.tells
            assert block.tells <= here
        here |= block.tells


@given(block_lists())
def test_there_are_never_more_sides_than_by_filling_each_column_in_turn(blocks: list[Block]) -> None:
    one = Frame(columns=1, height_mm=ROOM_MM)
    assert compose(blocks, one)[-1].side + 1 <= filled_in_turn(blocks) if blocks else compose(blocks, one) == ()


def filled_in_turn(blocks: list[Block]) -> int:
    """How many sides of one column a compositor needs who puts down what fits and knows no short forms."""
    sides, used, number = 1, 0.0, 0
    while number < len(blocks):
        end = number
        while blocks[end].keeps_next and end + 1 < len(blocks):
            end += 1
        group = blocks[number : end + 1]
        height = sum(block.height_mm for block in group) + sum(block.gap_mm for block in group[1:])
        gap = group[0].gap_mm if used else 0.0
        if used + gap + height > ROOM_MM:
            sides, used, gap = sides + 1, 0.0, 0.0
        used += gap + height
        number = end + 1
    return sides


def test_a_side_ends_with_a_section_where_that_costs_no_side() -> None:
    step, last = Block(height_mm=10), Block(height_mm=10, ends=End.SECTION)
    places = compose([*[step] * 7, last, *[step] * 4], Frame(columns=1, height_mm=90))
    assert [place.side for place in places] == [0] * 8 + [1] * 4


def test_the_columns_of_the_last_side_stand_level() -> None:
    places = compose([Block(height_mm=10)] * 6, Frame(columns=2, height_mm=ROOM_MM))
    assert [place.column for place in places] == [0, 0, 0, 1, 1, 1]


def test_what_is_told_again_on_a_side_stands_in_its_short_form() -> None:
    warned = Block(height_mm=30, tells=frozenset({"eyes"}), short_mm=20)
    places = compose([warned] * 4, Frame(columns=1, height_mm=ROOM_MM))
    assert [place.short for place in places] == [False, True, True, True]
    assert {place.side for place in places} == {0}


def test_blocks_that_do_not_fit_are_named() -> None:
    heading = Block(height_mm=30, keeps_next=True)
    with pytest.raises(TooHigh, match=r"block 1 and what it keeps is 10\.0 mm higher than a column"):
        compose([Block(height_mm=5), heading, Block(height_mm=80)], Frame(columns=2, height_mm=ROOM_MM))


def test_only_the_first_blocks_span() -> None:
    with pytest.raises(ValueError, match="only the first blocks may span"):
        compose([Block(height_mm=5), Block(height_mm=5, spans=True)], Frame(columns=2, height_mm=ROOM_MM))


def test_the_fill_of_a_side_is_the_share_of_its_columns_down_to_their_last_block() -> None:
    frame = Frame(columns=2, height_mm=ROOM_MM)
    places = [
        Place(side=0, column=0, top_mm=0, height_mm=20, spans=True),
        Place(side=0, column=0, top_mm=25, height_mm=75),
    ]
    assert [fill.share for fill in fills(places, frame)] == [pytest.approx((100 + 20) / 200)]


@given(block_lists(), FRAMES)
def test_more_white_never_costs_a_side(blocks: list[Block], frame: Frame) -> None:
    wider, places = roomy(blocks, frame, (2.0, 1.5))
    least = compose(blocks, frame)
    assert [place.side for place in places][-1:] <= [place.side for place in least][-1:]
    widths = [[block.gap_mm * factor for block in blocks] for factor in (2.0, 1.5, 1.0)]
    assert [block.gap_mm for block in wider] in widths


def test_the_widest_white_that_there_is_room_for_is_taken() -> None:
    blocks = [Block(height_mm=20, gap_mm=5)] * 4
    wider, places = roomy(blocks, Frame(columns=1, height_mm=ROOM_MM), (2.0, 1.3, 1.1))
    assert {block.gap_mm for block in wider} == {6.5}
    assert places[-1].bottom_mm == pytest.approx(80 + 3 * 6.5)


def test_white_grows_by_a_share_and_by_no_more_than_is_said() -> None:
    blocks = [Block(height_mm=10, gap_mm=gap) for gap in (0, 1, 6)]
    wider, _ = roomy(blocks, Frame(columns=1, height_mm=ROOM_MM), (4.0,), 5.0)
    assert [block.gap_mm for block in wider] == [0, 4, 11]


def test_the_columns_stand_clear_of_the_head_where_that_costs_no_side() -> None:
    frame = Frame(columns=1, height_mm=ROOM_MM)
    for height, top in ((70, 25), (80, 20)):
        blocks = (Block(height_mm=20, spans=True), Block(height_mm=height, gap_mm=5))
        _, places = roomy(blocks, frame, ())
        assert [(place.side, place.top_mm) for place in places] == [(0, 0), (0, top)]
