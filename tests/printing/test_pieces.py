"""A block is laid out once and stands on many cards: what a piece is must not depend on what was laid out beside it."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import pikepdf
import pytest

from builder.build.letters import lacking
from builder.build.store import Store
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.printing import piece as pieces
from builder.printing import typeface as typefaces
from builder.printing.block_document import BlockDocument, block_document
from builder.printing.pdf import Batch, PdfWriter
from builder.printing.piece import Open, Piece
from builder.printing.sheet import Sheet
from builder.printing.shelf import Shelf
from builder.printing.typeface import Typeface
from builder.proof.jobs import Ready, planned_jobs, work_out
from tests.demo import library
from tests.pages.shop import theme
from tests.read_back import read_sides

LETTER = "Лысуха"  # no face of the theme has it


@cache
def html(guide: str = "rear-caliper-aligned", bike: str = "heron") -> str:
    from builder.build.printer import Printer

    job = next(job for job in planned_jobs(library().bikes[bike], library()) if job.guide.id == guide)
    ready = work_out(job, library())
    assert isinstance(ready, Ready)
    return Printer().html(ready.tailored, Paper.A4, library().workshop, form=Form.STEPS)


def document(text: str) -> BlockDocument:
    found = block_document(text)
    assert found is not None
    return found


def writer(shelf: Shelf | None = None) -> PdfWriter:
    return PdfWriter(theme(), shelf=shelf)


@cache
def laid_out() -> tuple[Piece, ...]:
    whole = document(html())
    return tuple(writer().lay_out(Batch(whole.style, tuple(block.laid_out for block in whole.blocks))))


def test_a_document_of_blocks_says_what_the_composer_needs_and_another_is_none() -> None:
    whole = document(html())
    assert whole.head.title
    assert "data-leaf" in whole.said
    assert whole.language == "en"
    assert [block.said["data-step"] for block in whole.blocks if "data-step" in block.said][:2] == ["A1", "A2"]
    assert all(block.markup.startswith('<section class="galley ') for block in whole.blocks)
    assert not any("data-step" in block.markup or "data-gap" in block.markup for block in whole.blocks)
    assert block_document("<html><body><p>no blocks</p></body></html>") is None


def test_a_block_is_the_same_piece_alone_and_among_others() -> None:
    whole = document(html())
    picked = [*[number for number, block in enumerate(whole.blocks) if "<svg" in block.markup][-2:], 0, 5]
    for number in picked:
        (alone,) = writer().lay_out(Batch(whole.style, (whole.blocks[number].laid_out,)))
        assert fields(alone) == fields(laid_out()[number])


def test_a_piece_and_a_face_come_back_as_they_were_kept() -> None:
    for piece in laid_out()[:3]:
        assert fields(pieces.unpacked(pieces.packed(piece))) == fields(piece)
    for face in faces(html()).values():
        assert fields(typefaces.unpacked(typefaces.packed(face))) == fields(face)


def fields(thing: Piece | Typeface) -> dict[str, object]:
    """Every field by its name; a sheet has fields of its own."""
    return {
        name: (sheet.letters, sheet.grounds, sheet.frames, sheet.rules) if isinstance(sheet, Sheet) else sheet
        for name in type(thing).__slots__
        for sheet in [getattr(thing, name)]
    }


def faces(text: str) -> dict[str, Typeface]:
    shelf = Shelf()
    whole = document(text)
    made = writer(shelf).lay_out(Batch(whole.style, tuple(block.laid_out for block in whole.blocks)))
    return {name: shelf.face(name) for piece in made for name in piece.letters}


def test_a_card_from_the_shelf_has_the_bytes_of_one_that_was_laid_out(tmp_path: Path) -> None:
    keeper = Store(tmp_path)
    first = writer(Shelf(keeper, "setting")).printed(html())
    with_shelf = writer(Shelf(keeper, "setting"))
    assert with_shelf.due([html()]) == ()
    assert with_shelf.printed(html()) == first


def test_what_all_cards_are_printed_with_decides_whether_a_piece_is_there(tmp_path: Path) -> None:
    keeper = Store(tmp_path)
    writer(Shelf(keeper, "setting")).printed(html())
    assert writer(Shelf(keeper, "another")).due([html()]) != ()
    greener = html().replace("<style>", "<style>/* another style */")
    assert writer(Shelf(keeper, "setting")).due([greener]) != ()


def test_blocks_that_two_cards_show_are_due_once_and_in_batches() -> None:
    whole = document(html())
    due = writer().due([html(), html()])
    assert [markup for batch in due for markup in batch.blocks] == list(
        dict.fromkeys(block.laid_out for block in whole.blocks)
    )
    assert len(due) > 1
    assert all(len(batch.blocks) <= 32 for batch in due)


def test_a_card_without_a_shelf_is_laid_out_in_batches_too(monkeypatch: pytest.MonkeyPatch) -> None:
    sizes: list[int] = []
    lay_out = PdfWriter.lay_out

    def counted(self: PdfWriter, batch: Batch) -> list[Piece]:
        sizes.append(len(batch.blocks))
        return lay_out(self, batch)

    monkeypatch.setattr(PdfWriter, "lay_out", counted)
    writer(Shelf()).printed(html())
    assert sum(sizes) > 32
    assert max(sizes) <= 32


def test_a_piece_whose_face_is_gone_is_laid_out_again(tmp_path: Path) -> None:
    keeper = Store(tmp_path)
    writer(Shelf(keeper, "setting")).printed(html())
    shelf = Shelf(keeper, "setting")
    key = shelf.key(document(html()).style, document(html()).blocks[0].laid_out)
    assert shelf.piece(key) is not None
    for path in tmp_path.iterdir():
        if b"Hyperlegible" in path.read_bytes():
            path.unlink()
    assert Shelf(keeper, "setting").piece(key) is None


def test_everything_that_is_marked_on_a_side_is_in_the_structure_and_leads_back() -> None:
    with pikepdf.open(io.BytesIO(writer().printed(html()).data)) as pdf:
        root = pdf.Root.StructTreeRoot
        nums = list(root.ParentTree.Nums)
        rows = {int(nums[at]): nums[at + 1] for at in range(0, len(nums), 2)}
        checked = 0
        for page in pdf.pages:
            for form in page.Resources.XObject.values():
                if "/StructParents" not in form:
                    continue
                for number, element in enumerate(rows[int(form.StructParents)]):
                    if element is None:
                        continue
                    kids = [kid for kid in element.K if isinstance(kid, pikepdf.Dictionary) and "/MCID" in kid]
                    assert any(int(kid.MCID) == number and kid.Stm.objgen == form.objgen for kid in kids)
                    assert element.Pg.objgen == page.obj.objgen
                    checked += 1
        assert checked > 100


def test_each_face_is_embedded_once_and_says_what_its_letters_stand_for() -> None:
    data = writer().printed(html()).data
    with pikepdf.open(io.BytesIO(data)) as pdf:
        named = [str(one.FontName) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/FontName" in one]
        assert len(named) == len(set(named))
        assert 2 <= len(named) <= 5
    words = " ".join(side.text for side in read_sides(data))
    assert "Test brakes and gears" in words or "brake" in words
    assert "N·m" in words


def test_a_face_that_the_system_lends_is_cut_to_what_is_shown() -> None:
    text = html().replace("</h1>", f" {LETTER}</h1>", 1)
    assert lacking(text, theme())
    lent = [face for face in faces(text).values() if len(face.file) > 80_000]
    if not lent:
        pytest.skip("the system has no large face for these letters")
    used = dict.fromkeys((40, 41), "x")
    objects = b"".join(lent[0].objects(1, used))
    assert len(objects) < len(lent[0].file) / 4
    assert objects == b"".join(lent[0].objects(1, used))


def test_open_places_are_told_from_the_numbers_of_objects() -> None:
    assert all(place < 0 for place in Open)
    numbers = {part for one in laid_out() for parts in one.objects for part in parts if type(part) is int}
    assert all(0 <= number < 500 for number in numbers)


def test_what_sticks_out_of_a_block_is_told_with_the_side_that_it_came_to_stand_on() -> None:
    wide = html().replace("</h1>", "</h1><p style='white-space: nowrap'>" + "verylongword" * 20 + "</p>", 1)
    made = writer().printed(wide)
    assert [(one.side, one.edge) for one in made.overflows] == [(1, "right")]
