"""A card is set as densely or as large as the room of its sides asks, which is reckoned before it is laid out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pytest

from builder.pages import brief_room, step_room
from builder.pages.composed_card import composed_card_html
from builder.pages.form import Form
from builder.pages.leaf import UPRIGHT, Leaf, Shape, larger, leaf_of, read_leaf
from builder.pages.letter_widths import flow_mm, lines_of
from builder.pages.paper import Paper
from builder.printing.block_document import block_document
from builder.proof.jobs import Job, Ready, work_out
from builder.tailoring import Tailored, tailor
from tests.demo import library
from tests.pages.shop import printer, theme

# Too much for one side as it is usually set; a few lines that leave half a side white.
LONG, SHORT = ("hanger-replaced", "marten"), ("check-before-a-ride", "dipper")
# The longest of the fleet but the lead job.
HARDEST = (("yearly-service", "dotterel"), ("rear-brake-lever-replaced", "heron"))
_KIND = re.compile(r'class="galley (?:brief dense|brief|along) ([\w-]+)')
# How far what is reckoned of a whole card may be from what is laid out, as a share.
WITHIN = 0.03


@cache
def tailored(guide: str, bike: str) -> Tailored:
    outcome = work_out(Job(guide=library().guides[guide], bike=library().bikes[bike]), library())
    assert isinstance(outcome, Ready)
    return outcome.tailored


def html_of(job: tuple[str, str], form: Form = Form.BRIEF, shape: Shape = UPRIGHT, paper: Paper = Paper.A4) -> str:
    return composed_card_html(tailored(*job), theme(), form, paper, workshop=library().workshop, shape=shape)


def leaf_in(html: str) -> Leaf:
    found = re.search(r'data-leaf="([^"]*)"', html)
    assert found is not None
    return read_leaf(found[1])


def test_a_longer_text_never_takes_fewer_lines_and_a_shorter_measure_never_fewer() -> None:
    text = "The axle touches the end of both seats and the wheel runs free."
    counts = [lines_of(" ".join([text] * times), 10.0, 90.0) for times in range(4)]
    assert counts == sorted(counts)
    assert counts[0] == 0
    assert lines_of(text, 10.0, 40.0) > lines_of(text, 10.0, 90.0) >= 1
    assert flow_mm(((text, 10.0, 1.2),), 40.0) == pytest.approx(lines_of(text, 10.0, 40.0) * 12.0 * 25.4 / 72)


def test_a_brief_card_that_is_too_long_for_a_side_has_lines_in_runs_and_keeps_each_of_them() -> None:
    html = html_of(LONG)
    assert 'class="galley brief dense' in html
    runs = [re.findall(r'<b class="see">(\w+)</b>', one) for one in html.split('<section class="galley brief dense ')]
    assert max(map(len, runs)) > 1
    in_hand = leaf_of(Paper.A4, theme().distances, in_hand=True)
    assert leaf_in(html).distance_mm / leaf_in(html).scale < in_hand.distance_mm
    large = html_of(LONG, shape=Shape(large=True))
    assert sorted(label for run in runs for label in run) == sorted(re.findall(r'<b class="see">(\w+)</b>', large))


@pytest.mark.parametrize("job", HARDEST, ids="-".join)
def test_the_longest_jobs_have_their_brief_card_on_one_side(job: tuple[str, str]) -> None:
    assert printer().pdf(html_of(job)).sides == 1


def test_the_longest_card_for_any_bike_has_no_block_that_is_higher_than_a_small_side() -> None:
    """All of its bolts at once are, so that they stand in parts."""
    every = tailor(library().guides["yearly-service"], library())
    html = composed_card_html(every, theme(), Form.STEPS, Paper.A5, workshop=library().workshop)
    strips = html.count('<ul class="torque-strip')
    assert strips > 1
    assert html.count('<ul class="torque-strip goes-on') == strips - 1
    assert printer().pdf(html).sides > len(every.torques) / 12


def test_a_torque_has_a_tick_of_its_own_and_readings_share_one_under_one_limit_alone() -> None:
    lines = '<section class="galley brief dense brief-line"'
    blocks = [one.partition("</section>")[0] for job in HARDEST for one in html_of(job).split(lines)[1:]]
    for block in blocks:
        labels = re.findall(r'<b class="see">', block)
        assert len(labels) == 1 or 'class="value"' not in block
        assert len(labels) == 1 or block.count('class="line short"') == 0 or block.count("Limit:") == 1
    assert any(block.count('class="line short"') > block.count('<b class="see">') > 1 for block in blocks)


@pytest.mark.parametrize("form", [Form.BRIEF, Form.STEPS])
def test_a_card_that_leaves_room_is_larger_and_one_for_the_wall_as_large_as_the_theme_says(form: Form) -> None:
    leaf = leaf_in(html_of(SHORT, form))
    usual = leaf_of(Paper.A4, theme().distances, in_hand=form is Form.BRIEF)
    assert leaf.scale > 1
    assert leaf.distance_mm == pytest.approx(usual.distance_mm * leaf.scale)
    assert leaf.columns == usual.columns
    far = leaf_in(html_of(SHORT, form, Shape(large=True)))
    assert far.distance_mm == theme().distances.far_mm


@pytest.mark.parametrize("shape", [UPRIGHT, Shape(holes=None, one_sided=True)])
def test_an_enlarged_leaf_has_the_paper_and_the_white_at_the_edge_of_the_usual_one(shape: Shape) -> None:
    leaf = leaf_of(Paper.A4, theme().distances, shape)
    wider = larger(leaf, 1.2)
    for name in ("width_mm", "height_mm", "margin_mm", "bound_mm"):
        assert getattr(wider, name) * wider.scale == pytest.approx(getattr(leaf, name))


def reckoned_and_laid_out(html: str) -> Iterator[tuple[float, float]]:
    """How high each block is about, and how high it is [mm]."""
    document = block_document(html)
    assert document is not None
    leaf = leaf_in(html)
    setting = brief_room.DENSE if "brief dense" in html else brief_room.USUAL
    pieces = printer()._writer()._pieces(document.style, document.blocks)
    for block, piece in zip(document.blocks, pieces, strict=True):
        kind = _KIND.search(block.markup)
        assert kind is not None
        wide = "data-spans" in block.said
        if "galley along" in block.markup:
            yield step_room.height_mm(kind[1], block.markup, leaf, wide=wide), piece.block_mm
        else:
            yield brief_room.height_mm(kind[1], block.markup, leaf, setting, wide=wide), piece.block_mm


@pytest.mark.parametrize(("job", "form"), [(LONG, Form.BRIEF), (SHORT, Form.BRIEF), (SHORT, Form.STEPS)])
def test_what_is_reckoned_is_about_what_is_laid_out(job: tuple[str, str], form: Form) -> None:
    found = list(reckoned_and_laid_out(html_of(job, form)))
    reckoned_mm, laid_out_mm = (sum(column) for column in zip(*found, strict=True))
    assert abs(reckoned_mm / laid_out_mm - 1) < WITHIN
    printed = printer().pdf(html_of(job, form))
    assert printed.sides == (1 if form is Form.BRIEF else 2)
    assert sum(printed.fill) / printed.sides > 0.85
