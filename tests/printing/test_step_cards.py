"""The card to work along: composed from blocks, printed, read back and held against what such a card must keep."""

from __future__ import annotations

import io
import re
from functools import cache

import pikepdf
import pytest
from markupsafe import Markup

from builder.build.legible import card_texts
from builder.pages.card import card_revision
from builder.pages.form import Form
from builder.pages.form_card import form_card_html
from builder.pages.labels import LETTERS, section_letters, step_labels
from builder.pages.paper import Paper
from builder.pages.strings_en import EN
from builder.pages.told_once import told_at_steps
from builder.printing.pdf import Printed
from builder.printing.reading import Side, structure_tags
from builder.tailoring import tailor
from tests.card_table import MOST_LEAD
from tests.demo import LEAD, library
from tests.pages.shop import card_of, theme, writer
from tests.read_back import read_sides

PAPERS = (Paper.A4, Paper.A5, Paper.LETTER)
# 10 pt, and 12 pt for what is done: CAP 676, issue 3, chapter 7, as quoted by others.
LEAST_PT, STEP_PT, HAIR_PT = 10.0, 12.0, 0.01
# Letters in drawings: 15 minutes of arc at 0.47 m for capitals of 0.67 em (NUREG-0700 rev. 3, 11.4.1.5-1), and in
# proportion where a card is read from nearer than the 0.5 m of the stand.
DRAWING_PT = 8.1
DISTANCES = theme().distances
READ_MM = {Paper.A4: DISTANCES.stand_mm, Paper.LETTER: DISTANCES.stand_mm, Paper.A5: DISTANCES.hand_mm}


@cache
def revision(bike: str) -> str:
    return card_revision(card_of(bike), theme(), workshop=library().workshop)


@cache
def html(bike: str, paper: Paper) -> str:
    return form_card_html(card_of(bike), theme(), Form.STEPS, paper, workshop=library().workshop)


@cache
def printed(bike: str, paper: Paper) -> Printed:
    return writer().printed(html(bike, paper), card_texts(card_of(bike), Form.STEPS))


@cache
def sides(bike: str, paper: Paper) -> tuple[Side, ...]:
    return read_sides(printed(bike, paper).data)


def squeezed(text: str) -> str:
    return re.sub(r"[^\w]", "", Markup(text).striptags())


@cache
def in_order(bike: str, paper: Paper) -> tuple[str, ...]:
    """The words of each side as they were put down: down a column, then down the next."""
    import pdfplumber

    with pdfplumber.open(io.BytesIO(printed(bike, paper).data)) as pdf:
        return tuple(squeezed("".join(letter["text"] for letter in page.chars)) for page in pdf.pages)


def test_the_lead_job_is_three_leaves_of_a4_or_six_of_a5_at_most() -> None:
    for paper in (Paper.A4, Paper.A5):
        assert printed("heron", paper).sides <= MOST_LEAD[Form.STEPS, paper]
    assert len(sides("heron", Paper.A4)) == printed("heron", Paper.A4).sides


@pytest.mark.parametrize("bike", ["heron", "kestrel"])
@pytest.mark.parametrize("paper", PAPERS)
def test_sides_are_full(bike: str, paper: Paper) -> None:
    fill = printed(bike, paper).fill
    assert all(share >= 0.5 for share in fill[:-1])
    assert sum(fill) / len(fill) >= 0.85


@pytest.mark.parametrize("paper", PAPERS)
def test_every_step_is_on_the_card_in_its_order(paper: Paper) -> None:
    text = "".join(in_order("heron", paper))
    labels = step_labels(card_of("heron"))
    place = 0
    for step in card_of("heron").steps:
        wanted = squeezed(step.do)
        found = text.find(wanted, place)
        assert found >= 0, f"step {labels[step.number]} '{step.do}' is missing or out of order"
        place = found + len(wanted)


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_sticks_out_and_no_rule_of_print_is_broken(paper: Paper) -> None:
    for bike in ("heron", "kestrel"):
        assert printed(bike, paper).overflows == ()
        assert [str(one) for one in printed(bike, paper).findings] == []


@pytest.mark.parametrize("paper", PAPERS)
def test_no_heading_stands_alone(paper: Paper) -> None:
    text = in_order("heron", paper)
    card = card_of("heron")
    for letter, section in zip(section_letters(card), card.sections, strict=True):
        heading, first = squeezed(f"{letter}{section.title}"), squeezed(section.steps[0].do)
        assert any(0 <= side.find(heading) < side.find(first) for side in text), section.title


@pytest.mark.parametrize("paper", PAPERS)
def test_a_caution_goes_before_its_step_on_one_side_and_is_framed_once_a_side(paper: Paper) -> None:
    text = in_order("heron", paper)
    card = card_of("heron")
    told, seen = told_at_steps(card.steps), 0
    for step in card.steps:
        for shown in told[step.number]:
            caution, act = squeezed(shown.text), squeezed(step.do)
            assert any(0 <= side.find(caution) < side.find(act) for side in text), shown.text
            seen += 1
    assert seen > 5
    # What may follow is told before the first act that a message is about.
    assert {shown.caution.text for shown in card.summary_cautions} <= {
        shown.text for step in card.steps for shown in told[step.number]
    }


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("bike", ["heron", "kestrel"])
def test_every_side_is_told_from_every_other(bike: str, paper: Paper) -> None:
    card, found = card_of(bike), sides(bike, paper)
    assert card.bike is not None
    for number, side in enumerate(found, 1):
        assert f"{number}/{len(found)}" in side.words
        for words in (f"{card.bike.tag} {card.bike.name}", card.guide.title, card.code, revision(bike)):
            assert words in side.words
        assert (round(side.width_mm, 1), round(side.height_mm, 1)) == (paper.sheet.width_mm, paper.sheet.height_mm)
    assert re.fullmatch(r"[A-Z]\d+–[A-Z]\d+", found[len(found) // 2].words.split(card.bike.name)[1].split()[0])


def test_letters_are_as_large_as_the_distance_asks_and_each_step_has_its_name() -> None:
    for paper, read_mm in READ_MM.items():
        nearer = read_mm / DISTANCES.stand_mm
        assert min(side.smallest_pt for side in sides("heron", paper)) >= DRAWING_PT * nearer - HAIR_PT
    labels = step_labels(card_of("kestrel"))
    lines = [line for side in sides("kestrel", Paper.A5) for line in side.lines]
    for step in card_of("kestrel").steps:
        first = squeezed(f"{labels[step.number]}{' '.join(step.do.split()[:2])}")
        least = STEP_PT * DISTANCES.hand_mm / DISTANCES.stand_mm
        assert any(first in squeezed(line.text) and line.size_pt >= least - HAIR_PT for line in lines), first


def test_the_first_side_says_what_to_get_and_how_tight() -> None:
    first = sides("heron", Paper.A4)[0].words
    for words in ("Cassette 11-42, 11 sprockets", "Cassette 11-50, 11 sprockets", "in stock", "79", "Stop if"):
        assert words in first
    assert re.search(r"8 to 10\s*N·m", first)
    assert (
        squeezed("forced: capacity at least 39 teeth, largest sprocket at least 50 teeth")
        in in_order("heron", Paper.A4)[0]
    )


def test_results_that_fit_are_counted_and_a_hill_is_told_apart() -> None:
    words = " ".join(side.words for side in sides("heron", Paper.A4))
    assert "more checks fit." in words
    assert "The lowest gear reaches 11.84 %; wanted 11 %." in words
    assert "does not fit" not in words


def test_the_last_side_is_the_sign_off_with_the_torques_applied() -> None:
    last = sides("heron", Paper.A4)[-1].words
    assert "Torques applied" in last
    assert squeezed(EN.no_ride) in in_order("heron", Paper.A4)[-1]


def test_a_figure_that_only_the_maker_knows_is_written_beside_the_torque_that_was_set() -> None:
    card = tailor(library().guides["child-seat-fitted"], library())
    html = form_card_html(card, theme(), Form.STEPS, Paper.A4, workshop=library().workshop)
    ((name, value),) = re.findall(r'<tr><th scope="row">(.*?)</th><td>(.*?)</td><td></td></tr>', html)
    assert Markup(name).unescape().endswith(f"{library().fasteners['child-seat-bolts'].name}, maker's figure")
    assert 'class="line' in value


def test_a_step_keeps_its_letter_where_a_bike_lacks_a_section() -> None:
    for bike in ("heron", "kestrel", "plover", "marten"):
        card = card_of(bike)
        titles = [section.title for section in card.guide.work]
        for letter, section in zip(section_letters(card), card.sections, strict=True):
            assert titles[LETTERS.index(letter)] == section.title


# --- the file ------------------------------------------------------------------------------------


def opened(bike: str, paper: Paper) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(printed(bike, paper).data))


def elements(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    found: list[pikepdf.Object] = []

    def walk(one: pikepdf.Object) -> None:
        found.append(one)
        for kid in one.get("/K", []):
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                walk(kid)

    walk(pdf.Root.StructTreeRoot.K[0])
    return found


def test_a_card_is_tagged_and_each_picture_says_what_it_shows() -> None:
    assert {"Document", "H1", "H2", "L", "LI", "Table", "TH", "TD", "Figure"} <= structure_tags(
        printed("heron", Paper.A4).data
    )
    pdf = opened("heron", Paper.A4)
    figures = [one for one in elements(pdf) if one.get("/S") == pikepdf.Name.Figure]
    assert figures
    assert all(str(one.get("/Alt", "")) for one in figures)


def test_the_structure_names_the_side_and_the_form_of_its_content() -> None:
    pdf = opened("heron", Paper.A4)
    sides_of_file = {page.obj.objgen for page in pdf.pages}
    parents = pdf.Root.StructTreeRoot.ParentTree.Nums
    by_key = {int(parents[at]): parents[at + 1] for at in range(0, len(parents), 2)}
    checked = 0
    for element in elements(pdf):
        for kid in element.get("/K", []):
            if isinstance(kid, pikepdf.Dictionary) and kid.get("/Type") == pikepdf.Name.MCR:
                assert kid.Pg.objgen in sides_of_file
                assert by_key[int(kid.Stm.StructParents)][int(kid.MCID)].objgen == element.objgen
                checked += 1
    assert checked > 500


def test_bands_are_no_part_of_the_structure() -> None:
    pdf = opened("heron", Paper.A4)
    for page in pdf.pages:
        assert page.Contents.read_bytes().startswith(b"/Artifact <</Type /Pagination>> BDC")
        assert "/StructParents" not in page.obj


def test_each_section_has_a_bookmark() -> None:
    pdf = opened("heron", Paper.A4)
    with pdf.open_outline() as outline:
        titles = [item.title for item in outline.root]
    card = card_of("heron")
    for letter, section in zip(section_letters(card), card.sections, strict=True):
        assert f"{letter} {section.title}" in titles


def test_a_face_is_embedded_once_and_the_same_card_gives_the_same_bytes() -> None:
    pdf = pikepdf.open(io.BytesIO(printed("kestrel", Paper.A5).data))
    names = [str(one.FontName) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/FontName" in one]
    assert len(names) == len(set(names))
    assert writer().pdf_bytes(html("kestrel", Paper.A5)) == printed("kestrel", Paper.A5).data


def test_a_guide_for_any_bike_is_composed_too() -> None:
    tailored = tailor(library().guides["chain-wear-check"], library())
    text = form_card_html(tailored, theme(), Form.STEPS, Paper.A5)
    made = writer().printed(text, card_texts(tailored, Form.STEPS))
    assert made.findings == ()
    assert made.overflows == ()
    assert LEAD in library().guides
