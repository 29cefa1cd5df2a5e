"""Articles that are laid out apart and joined to one file: each on its own sides, nothing of it made twice."""

from __future__ import annotations

import gc
import io
import weakref
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from builder.build.store import Store
from builder.pages.paper import Paper
from builder.pages.service_sheet import service_sheet_html
from builder.printing.article_document import article_document
from builder.printing.legibility import CardTexts, Margins
from builder.printing.pdf import PdfWriter, Printed
from builder.printing.reading import read_sides
from builder.printing.shelf import Shelf
from tests.demo import library
from tests.pages.fleet import SHEET_GUIDES, TAG_GUIDES, sheet, sheets_html
from tests.pages.shop import theme, writer

MESSAGE = "Do the brake test before a person rides the bike."
# The second has so much to say that it goes on on a back.
FLEET = {"Heron": 2, "Coot & Co": 60, "Wren": 1, "Teal": 2}
TEXTS = CardTexts(cautions=(MESSAGE,), margins=Margins(binding_mm=10.0, other_mm=10.0, band_mm=4.0))


def article(bike: str, lines: int, *, message: str = MESSAGE, size_pt: int = 12) -> str:
    name = bike.replace("&", "&amp;")
    said = "".join(f"<p>{name} says line {number} of all that it has to say.</p>" for number in range(lines))
    return (
        f'<article data-title="{name}"><h1>{name}</h1>'
        f'<p style="font-size: {size_pt}pt">{message}</p><div class="more">{said}</div></article>'
    )


def document(articles: Iterable[str], begins: str = "leaf") -> str:
    style = (
        "@page { size: a5; margin: 15mm; @top-right { content: 'Side ' counter(page) } @top-left { content: none } "
        "@bottom-left { content: none } @bottom-right { content: none } } p { font-size: 12pt; line-height: 1.3 }"
    )
    head = f'<head><title>All of them</title><meta name="author" content="The shop"><style>{style}</style></head>'
    return f'<html lang="en">{head}<body class="x" data-language="en" data-begins="{begins}">{"".join(articles)}</body>'


def fleet(**lines: int) -> str:
    return document(article(bike, lines.get(bike, number)) for bike, number in FLEET.items())


def printed(html: str, keeper: Store | None = None) -> Printed:
    made_by = writer() if keeper is None else PdfWriter(theme(), shelf=Shelf(keeper, "setting"))
    return made_by.printed(html, TEXTS)


@cache
def fleet_printed() -> Printed:
    return printed(fleet())


def test_each_article_stands_on_its_own_sides_which_are_numbered_from_one() -> None:
    sides = [side.words for side in read_sides(fleet_printed().data)]
    owner = ["Heron", "", "Coot & Co", "Coot & Co", "Wren", "", "Teal"]
    # The third has two sides, so that nothing is left blank behind it.
    assert len(sides) == len(owner) == fleet_printed().sides
    for bike, words in zip(owner, sides, strict=True):
        assert {name for name in FLEET if f"{name} says line" in words} == ({bike} if bike else set())
    assert [words.count("Side 1") + 2 * words.count("Side 2") for words in sides] == [1, 0, 1, 2, 1, 0, 1]
    written = " ".join(sides)
    assert all(f"{bike} says line {number} of" in written for bike, most in FLEET.items() for number in range(most))


def test_where_each_begins_on_a_side_none_is_blank() -> None:
    sides = read_sides(printed(document([article("Heron", 1), article("Wren", 1)], "side")).data)
    assert ["Heron" in side.words for side in sides] == [True, False]


def test_a_bookmark_leads_to_the_first_side_of_each_article_and_the_file_says_what_it_is() -> None:
    with pikepdf.open(io.BytesIO(fleet_printed().data)) as pdf, pdf.open_outline() as outline:
        numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
        found = {one.title: numbers[one.destination[0].objgen] for one in outline.root}
        assert found == {"Heron": 0, "Coot & Co": 2, "Wren": 4, "Teal": 6}
        assert (str(pdf.docinfo.Title), str(pdf.docinfo.Author), str(pdf.Root.Lang)) == (
            "All of them",
            "The shop",
            "en",
        )


def test_a_face_is_embedded_once_for_all_articles() -> None:
    with pikepdf.open(io.BytesIO(fleet_printed().data)) as pdf:
        named = [str(one.FontName) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/FontName" in one]
    assert named
    assert len(named) == len(set(named))


def test_the_tags_follow_the_articles_and_a_blank_back_has_none() -> None:
    with pikepdf.open(io.BytesIO(fleet_printed().data)) as pdf:
        numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
        order = [numbers[one.Pg.objgen] for one in pdf.Root.StructTreeRoot.K[0].K]
    assert order == [0, 2, 3, 4, 6]


def test_the_bytes_hang_neither_on_what_is_kept_nor_on_what_was_printed_before(tmp_path: Path) -> None:
    keeper = Store(tmp_path)
    assert printed(fleet(), keeper) == fleet_printed()
    assert printed(fleet(), keeper) == fleet_printed()
    printed(fleet(Heron=9))
    assert printed(fleet()) == fleet_printed()


def test_another_bikes_change_lays_out_that_bike_alone(tmp_path: Path) -> None:
    keeper = Store(tmp_path)
    printed(fleet(), keeper)
    (due,) = PdfWriter(theme(), shelf=Shelf(keeper, "setting")).due([fleet(Wren=2)])
    assert "Wren says line 1" in due.blocks[0]
    assert PdfWriter(theme(), shelf=Shelf(keeper, "setting")).due([fleet()]) == ()
    assert len(PdfWriter(theme(), shelf=Shelf(keeper, "another setting")).due([fleet(), fleet()])) == len(FLEET)


def test_a_layout_is_gone_before_the_next_article_is_laid_out(monkeypatch: pytest.MonkeyPatch) -> None:
    alive: list[weakref.ref[Any]] = []
    most = []
    lay_out = PdfWriter._laid_out

    def watched(self: PdfWriter, html: str, *, bands: bool = False) -> Any:
        gc.collect()
        most.append(sum(one() is not None for one in alive))
        made = lay_out(self, html, bands=bands)
        alive.append(weakref.ref(made.pages[0]))
        return made

    monkeypatch.setattr(PdfWriter, "_laid_out", watched)
    PdfWriter(theme()).printed(fleet(), TEXTS)  # one that has kept nothing
    assert most == [0] * len(FLEET)


def test_what_breaks_a_rule_is_told_with_the_side_of_the_file() -> None:
    small = document([article("Heron", 1), article("Wren", 1, size_pt=11)])
    (told,) = printed(small).findings
    assert (told.rule, told.at.line) == ("L06", 3)
    wide = document([article("Heron", 1), article("Wren", 1, message="<s style='white-space: nowrap'>" + "m" * 99)])
    assert [(one.side, one.edge) for one in printed(wide).overflows] == [(3, "right")]


def test_a_safety_message_that_stands_on_no_article_is_told() -> None:
    (told,) = printed(document([article("Heron", 1, message="")])).findings
    assert told.rule == "L06"
    assert MESSAGE in told.message


def test_a_letter_that_no_face_has_is_told() -> None:
    (told,) = printed(document([article("Heron", 1), article("Wren \U0010fffd", 1)])).findings
    assert told.rule == "L25"


@pytest.mark.parametrize(
    ("guide", "paper", "on_leaves"), [(SHEET_GUIDES[0], Paper.A4, True), (TAG_GUIDES[0], Paper.A6, False)]
)
def test_a_guides_sheets_are_a_document_of_articles(guide: str, paper: Paper, on_leaves: bool) -> None:
    found = article_document(sheets_html(guide, paper, "heron", "coot"))
    assert found is not None
    assert [one.title for one in found.articles] == ["Heron, M-01", "Coot, M-08"]
    assert ["Coot" in one.markup for one in found.articles] == [False, True]
    assert found.on_leaves is on_leaves
    assert article_document("<html><body><article>none</article></body></html>") is None


def test_a_text_that_looks_like_the_end_of_an_article_ends_none() -> None:
    name = 'Heron</article></body><body class="x" data-language="en" data-begins="side"><article data-title="Wren">'
    made = sheet(TAG_GUIDES[0], "heron")
    assert made.bike is not None
    hostile = replace(made, bike=replace(made.bike, name=name))
    found = article_document(service_sheet_html([hostile], library(), theme(), Paper.A6))
    assert found is not None
    (one,) = found.articles
    assert one.title == f"{name}, M-01"
    assert one.markup.count("</article>") == 1
