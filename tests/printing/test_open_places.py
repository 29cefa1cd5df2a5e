"""Words that are set in the open places of a block stand there as if the block had been laid out with them."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache

import pikepdf
import pytest

from builder.model.catalogue import Workshop
from builder.pages.bands import CardName, SideName, bands_of, bands_style
from builder.pages.form import Form
from builder.pages.leaf import leaf_of
from builder.pages.paper import Paper
from builder.printing.block_document import BlockStyle, BlockText, block_document
from builder.printing.open_places import opened
from builder.printing.pdf import Batch, PdfWriter
from builder.printing.piece import Piece
from builder.printing.sheet import Sheet
from builder.printing.shelf import Shelf
from builder.proof.jobs import Job, Ready, work_out
from tests.demo import library
from tests.pages.shop import theme
from tests.read_back import read_sides

SHORT_GUIDE = "mudguards-fitted"
SITE = "https://workshop.example/guides"
LONG = "Errand bike " * 12


@cache
def writer() -> PdfWriter:
    return PdfWriter(theme(), shelf=Shelf())


@cache
def html(bike: str = "heron", paper: Paper = Paper.A5, *, site: str = "", name: str = "") -> str:
    from builder.build.printer import Printer

    known = library().bikes[bike]
    own = replace(known, name=name or known.name)
    ready = work_out(Job(guide=library().guides[SHORT_GUIDE], bike=own), library())
    assert isinstance(ready, Ready)
    workshop = replace(library().workshop, site=site)
    assert isinstance(workshop, Workshop)
    return Printer(theme=theme()).html(ready.tailored, paper, workshop, form=Form.STEPS)


def blocks(text: str) -> tuple[BlockStyle, tuple[BlockText, ...]]:
    found = block_document(text)
    assert found is not None
    return found.style, found.blocks


def both_ways(style: BlockStyle, block: BlockText) -> tuple[Piece, Piece]:
    """A block with words set in its open places, and laid out with them."""
    (filled,) = writer()._pieces(style, (block,))
    (whole,) = writer().lay_out(Batch(style, (block.markup,)))
    return filled, whole


def ink(sheet: Sheet) -> list[tuple[str, float, float]]:
    return sorted((one.text, round(one.x0, 1), round(one.bottom, 1)) for one in sheet.ink)


@pytest.mark.parametrize("paper", [Paper.A5, Paper.A4])
@pytest.mark.parametrize("site", ["", SITE])
def test_the_name_of_the_bike_stands_where_a_layout_puts_them(paper: Paper, site: str) -> None:
    style, (head, *_) = blocks(html(paper=paper, site=site))
    filled, whole = both_ways(style, head)
    assert filled.fills
    assert filled.block_mm == pytest.approx(whole.block_mm, abs=0.01)
    assert [one[0] for one in ink(filled.sheet)] == [one[0] for one in ink(whole.sheet)]
    for mine, other in zip(ink(filled.sheet), ink(whole.sheet), strict=True):
        assert mine[1:] == pytest.approx(other[1:], abs=0.31)
    assert filled.facts.written == whole.facts.written
    assert filled.facts.is_sound is whole.facts.is_sound


def test_the_labels_of_steps_stand_where_a_layout_puts_them() -> None:
    style, all_ = blocks(html())
    step = next(block for block in all_ if block.said.get("data-step") == "A2")
    filled, whole = both_ways(style, step)
    assert ink(filled.sheet) == ink(whole.sheet)
    assert filled.facts.written == whole.facts.written


def test_bands_stand_where_a_layout_puts_them() -> None:
    leaf = leaf_of(Paper.A5, theme().distances)
    name = CardName(
        bike="M-01 Heron", stamp="UNVERIFIED", title="Fit", code="FX · rev 0", language="en", family="brakes"
    )
    sides = bands_of(
        name,
        (SideName(first="A1", last="B2", titles=("Ready", "Fit")), SideName(first="B3", last="C14", titles=("Test",))),
        leaf,
    )
    for side in map(str, sides):
        style = BlockStyle(bands_style(leaf), "en", leaf.height_mm)
        filled, whole = both_ways(style, BlockText({}, side, opened(side)))
        assert filled.fills
        for mine, other in zip(ink(filled.sheet), ink(whole.sheet), strict=True):
            assert mine[0] == other[0]
            assert mine[1:] == pytest.approx(other[1:], abs=0.31)


def test_another_bike_of_the_same_shape_brings_no_block_of_its_own() -> None:
    made = PdfWriter(theme(), shelf=Shelf())
    made.printed(html())
    assert made.due([html(name="Rook")]) == ()


@pytest.mark.parametrize("name", ["Лысуха", LONG * 3])
def test_a_name_that_has_no_room_or_no_face_is_laid_out_with_its_block(name: str) -> None:
    style, (head, *_) = blocks(html(name=name.strip()))
    (piece,) = writer()._pieces(style, (head,))
    assert not piece.slots
    shown = "".join(letter.text for letter in piece.sheet.ink)
    assert name.replace(" ", "") in shown.replace("\n", "")


def test_a_card_says_its_words_in_the_order_of_reading_and_what_its_code_leads_to() -> None:
    data = writer().printed(html(site=SITE)).data
    text = read_sides(data)[0].text
    assert text.index("Install the mudguards") < text.index("Heron", text.index("Install the mudguards"))
    with pikepdf.open(io.BytesIO(data)) as pdf:
        said = [str(one.Alt) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]
    assert [one for one in said if one.startswith(SITE)]
    assert "0" not in said
