"""Every kind of PDF holds what it claims, by a checker that is not ours: PDF/UA-1 (ISO 14289-1).

The checker is the library outloud. It tells errors of conformance, and of meaning where it guesses; the former are held
here. A table that goes on keeps its headings on each side, which it takes for a running head: the one warning let pass.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import outloud
import pikepdf
import pytest

from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.printing.pdf import Printed
from builder.printing.sheets_to_cut import sheets_to_cut
from tests.demo import lead_card, library
from tests.pages.fleet import (
    SHEET_GUIDES,
    TAG_GUIDES,
    sheets_printed,
    torques_printed,
    upkeep_printed,
)
from tests.pages.shop import printer

REPEATED_HEADINGS = "PAG-001"
HTML = '<html lang="en"><head><title>A card</title></head><body><h1>A card</h1>{}</body></html>'
PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><rect width="9" height="9"/></svg>'


@cache
def card(form: Form, paper: Paper) -> Printed:
    return printer().pdf(printer().html(lead_card("kestrel"), paper, library().workshop, form=form))


KINDS: dict[str, Callable[[], Printed]] = {
    "step card": lambda: card(Form.STEPS, Paper.A4),
    "brief card": lambda: card(Form.BRIEF, Paper.A4),
    "teaching card": lambda: card(Form.TEACHING, Paper.A5),
    "service sheets": lambda: sheets_printed(SHEET_GUIDES[0], Paper.A4, "heron", "coot"),
    "tags": lambda: sheets_printed(TAG_GUIDES[0], Paper.A6, "heron", "coot"),
    "torque chart": lambda: torques_printed(Paper.A4),
    "torques and tools of a bike": lambda: upkeep_printed("heron", Paper.A4),
}


def found_in(data: bytes, folder: Path) -> list[tuple[str, str]]:
    """What the checker finds against conformance: the rule, and what it says."""
    file = folder / "it.pdf"
    file.write_bytes(data)
    result = outloud.check(str(file), layers=["conformance"])
    assert result.stats["pages"], "the checker could not read it"
    return [(one.rule, one.message) for one in result.findings if one.rule != REPEATED_HEADINGS]


def elements(pdf: Any) -> list[Any]:
    found, rest = [], list(pdf.Root.StructTreeRoot.K)
    while rest:
        one = rest.pop()
        found.append(one)
        rest += [kid for kid in one.get("/K", ()) if not isinstance(kid, int) and "/S" in kid]
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_what_a_pdf_claims_is_true(kind: str, tmp_path: Path) -> None:
    made = KINDS[kind]()
    assert [one for one in made.findings if one.rule == "L25"] == []
    assert found_in(made.data, tmp_path) == []
    with pikepdf.open(io.BytesIO(made.data)) as pdf:
        with pdf.open_metadata() as said:
            assert said["pdfuaid:part"] == "1"
        # Where the checker is milder than the Matterhorn protocol: 15-003, a heading says which cells it heads.
        # An element without content says nothing to anybody.
        for one in elements(pdf):
            assert len(one.get("/K", ())) or str(one.S) in ("/TD", "/TH")
            if one.S == pikepdf.Name.TH:
                assert str(one.A.Scope) in ("/Row", "/Column")


@pytest.mark.parametrize(
    ("body", "rule"),
    [
        ("<table><tr><td>1</td><td>2</td></tr><tr><td>3</td><td>4</td></tr></table>", "TBL-001"),
        (PICTURE, "FIG-001"),
        ("<h3>Too deep</h3>", "HDG-001"),
    ],
)
def test_the_checker_finds_what_the_printing_library_leaves_untrue(body: str, rule: str, tmp_path: Path) -> None:
    from weasyprint import HTML as Document

    raw = Document(string=HTML.format(body)).write_pdf(pdf_variant="pdf/ua-1")
    assert rule in [name for name, _ in found_in(raw, tmp_path)]
    if rule != "HDG-001":  # an order of headings is the author's to mend
        assert found_in(printer().pdf(HTML.format(body)).data, tmp_path) == []


def test_a_heading_beside_data_heads_its_row_and_any_other_its_column() -> None:
    body = (
        '<table><thead><tr><th scope="col">Tool</th><th scope="col">Use</th></tr></thead><tbody>'
        '<tr><th scope="rowgroup" colspan="2">Wheels</th></tr>'
        '<tr><th scope="row">pump</th><td>tyres</td></tr></tbody></table>'
    )
    with pikepdf.open(io.BytesIO(printer().pdf(HTML.format(body)).data)) as pdf:
        scopes = [str(one.A.Scope) for one in elements(pdf) if one.S == pikepdf.Name.TH]
    assert sorted(scopes) == ["/Column", "/Column", "/Column", "/Row"]


def test_bands_and_bare_pictures_are_artifacts() -> None:
    style = '<style>@page { @top-left { content: "a band" } }</style>'
    with pikepdf.open(io.BytesIO(printer().pdf(HTML.format(style + PICTURE)).data)) as pdf:
        content = pdf.pages[0].Contents.read_bytes()
        assert content.count(b"/Artifact <</Type /Pagination>> BDC") >= 1
        assert b"/Figure" not in content
        # 01-005: what is marked is an artifact or stands in the tree, and the tree says so in both directions.
        row = pdf.Root.StructTreeRoot.ParentTree.Nums[1]
        named = [one for one in row if isinstance(one, pikepdf.Dictionary)]
        assert named
        assert len(named) == content.count(b"/MCID")


def boxes_of(data: bytes) -> list[tuple[float, list[float], str]]:
    """The width of the paper, and the box and the words of each picture."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return [
            (float(one.Pg.MediaBox[2]), [float(value) for value in one.A.BBox], str(one.Alt))
            for one in elements(pdf)
            if pikepdf.Name.Figure == one.S
        ]


def test_a_picture_says_where_it_stands() -> None:
    style = "<style>@page { size: 200mm 100mm; margin: 0 } svg { position: absolute; left: 20mm; top: 10mm }</style>"
    picture = PICTURE.replace("><rect", "><title>A square</title><rect")
    ((_, box, words),) = boxes_of(printer().pdf(HTML.format(style + picture)).data)
    assert words == "A square"
    assert [value * 25.4 / 72 for value in box] == pytest.approx([20.0, 81.0, 29.0, 90.0], abs=0.02)


def test_each_picture_of_a_composed_card_stands_on_its_side_and_in_its_column() -> None:
    found = boxes_of(card(Form.STEPS, Paper.A4).data)
    assert len(found) > 3
    for width, (x0, y0, x1, y1), words in found:
        assert words
        assert 0 < x0 < x1 < width
        assert 0 < y0 < y1 < 842
    assert {x0 < width / 2 for width, (x0, *_), _ in found} == {True, False}


def test_sheets_to_cut_claim_nothing() -> None:
    data = sheets_to_cut([card(Form.BRIEF, Paper.A4).data], Paper.A4, Paper.A3, double=True)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert "/Metadata" not in pdf.Root
        assert "/StructTreeRoot" not in pdf.Root


def test_a_bookmark_is_a_title_and_nothing_more() -> None:
    titles = {section.title for section in lead_card("kestrel").sections}
    with pikepdf.open(io.BytesIO(card(Form.TEACHING, Paper.A5).data)) as pdf, pdf.open_outline() as outline:
        assert titles <= {inner.title for one in outline.root for inner in (one, *one.children)}


def test_a_letter_that_no_face_has_is_told_and_grave() -> None:
    made = printer().pdf(HTML.format("<p>Coot \U000a1234 \U0010fffd</p>"))
    (told,) = (one for one in made.findings if one.rule == "L25")
    assert "U+10FFFD" in told.message
    assert told.gravity.value == "error"
    assert printer().pdf(HTML.format("<p>Coot</p>")).findings == ()
