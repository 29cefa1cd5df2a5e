"""A card is told to be sound from what is known of its blocks only where reading it letter by letter finds nothing."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import NoReturn

import pytest

from builder.build.cards import card_of
from builder.build.legible import card_texts
from builder.build.printer import Printer
from builder.build.store import Store
from builder.diagnostics.diagnostic import Diagnostic
from builder.pages.form import Form
from builder.pages.leaf import Holes, Shape
from builder.pages.paper import Paper
from builder.pages.sides import Composed
from builder.printing import pdf
from builder.printing import verdicts as verdicts_of
from builder.printing.block_facts import facts_of
from builder.printing.legibility import CardTexts, Margins, check_card
from builder.printing.piece import Piece, packed_sheet
from builder.printing.sheet import Letter, Sheet
from builder.printing.shelf import Shelf
from builder.printing.stood import sheets_of_card
from builder.printing.verdicts import Verdicts
from builder.proof.jobs import Job, Ready, work_out
from tests.demo import library
from tests.pages.shop import theme

GUIDE, BIKE = "mudguards-fitted", "heron"

Seen = tuple[Composed, list[Piece], CardTexts]


@cache
def card(form: Form = Form.STEPS) -> tuple[str, CardTexts]:
    ready = work_out(Job(guide=library().guides[GUIDE], bike=library().bikes[BIKE]), library())
    assert isinstance(ready, Ready)
    made = card_of(ready, form, Paper.A5, Printer(), library().workshop)
    assert made.texts is not None
    return made.html, made.texts


SHELF = Shelf()


@cache
def looked_at(html: str, texts: CardTexts) -> Seen:
    """What the printing room asks a verdict on."""
    seen: list[Seen] = []

    class Looking(Verdicts):
        def is_sound(self, card: Composed, bands: object, texts: CardTexts) -> bool:
            assert isinstance(bands, list)
            seen.append((card, bands, texts))
            return True

    writer = pdf.PdfWriter(theme(), shelf=SHELF)
    writer._verdicts = Looking()
    writer.printed(html, texts)
    return seen[0]


def read(seen: Seen) -> tuple[Diagnostic, ...]:
    """What reading letter by letter finds."""
    composed, bands, texts = seen
    whole, parts = sheets_of_card(composed, [band.sheet for band in bands])
    return check_card(whole, texts, parts=parts)


@pytest.mark.parametrize("holes", list(Holes))
def test_a_card_with_an_edge_kept_for_holes_is_told_sound_as_it_is_read(holes: Holes) -> None:
    ready = work_out(Job(guide=library().guides[GUIDE], bike=library().bikes[BIKE]), library())
    assert isinstance(ready, Ready)
    shape = Shape(holes=holes)
    html = Printer().html(ready.tailored, Paper.A5, library().workshop, form=Form.STEPS, shape=shape)
    seen = looked_at(html, card_texts(ready.tailored, Form.STEPS, shape))
    assert read(seen) == ()
    assert Verdicts().is_sound(*seen)
    # One that keeps no edge free stands where the holes come.
    plain = looked_at(card()[0], card_texts(ready.tailored, Form.STEPS, shape))
    assert [one.rule for one in read(plain)] == ["L23"] * len(read(plain)) != []
    assert not Verdicts().is_sound(*plain)


@pytest.mark.parametrize("form", [Form.STEPS, Form.BRIEF])
def test_a_sound_card_is_told_at_once_and_remembered(form: Form) -> None:
    seen = looked_at(*card(form))
    verdicts = Verdicts()
    assert verdicts.is_sound(*seen)
    assert verdicts.is_sound(*seen)
    assert read(seen) == ()


def test_what_was_found_out_is_kept_beside_the_blocks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    seen = looked_at(*card())
    first = Verdicts(Shelf(Store(tmp_path)))
    assert first.is_sound(*seen)
    first.keep()

    def asked_again(*_: object) -> NoReturn:
        raise AssertionError("it was known")

    for check in ("check_sizes", "check_lines", "cautions_with_steps"):
        monkeypatch.setattr(verdicts_of, check, asked_again)
    assert Verdicts(Shelf(Store(tmp_path))).is_sound(*seen)
    with pytest.raises(AssertionError, match="it was known"):
        Verdicts(Shelf(Store(tmp_path), "another setting")).is_sound(*seen)


def with_letters(change: Callable[[Letter], Letter]) -> Callable[[Sheet], Sheet]:
    return lambda sheet: replace(sheet, letters=tuple(map(change, sheet.letters)))


def small_boxes(sheet: Sheet) -> Sheet:
    return replace(sheet, frames=tuple(replace(one, x1=one.x0 + 8, bottom=one.top + 8) for one in sheet.frames))


def spoilt(seen: Seen, change: Callable[[Sheet], Sheet]) -> Seen:
    """The same card as if its blocks had come out otherwise."""
    composed, bands, texts = seen
    galleys = []
    for galley in composed.galleys:
        sheet = change(galley.page.sheet)
        kept = packed_sheet(sheet)
        page = replace(galley.page, kept_sheet=kept, fills=(), facts=facts_of(sheet, hashlib.sha256(kept).digest()))
        galleys.append(replace(galley, page=page))
    return replace(composed, galleys=tuple(galleys)), bands, texts


@pytest.mark.parametrize(
    ("rule", "change"),
    [
        ("L01", with_letters(lambda one: one._replace(size_pt=8.0))),
        ("L02", with_letters(lambda one: one._replace(size_pt=11.0))),
        ("L06", with_letters(lambda one: one._replace(size_pt=11.0))),
        ("L07", with_letters(lambda one: one._replace(bottom=one.bottom * 0.8, top=one.top * 0.8))),
        ("L17", with_letters(lambda one: one._replace(colour=(0.7, 0.7, 0.7)))),
        ("L19", with_letters(lambda one: one._replace(colour=(0.1, 0.4, 0.1) if one.bold else (0.4, 0.1, 0.5)))),
        ("L24", small_boxes),
    ],
)
def test_a_card_whose_blocks_break_a_rule_is_not_told_sound(rule: str, change: Callable[[Sheet], Sheet]) -> None:
    seen = spoilt(looked_at(*card()), change)
    assert rule in {one.rule for one in read(seen)}
    assert not Verdicts().is_sound(*seen)


@pytest.mark.parametrize(
    ("rule", "asked"),
    [
        ("L01", lambda texts: replace(texts, steps=(*texts.steps, "Paint the frame yellow."))),
        ("L04", lambda texts: replace(texts, distance_mm=3000.0)),
        ("L23", lambda texts: replace(texts, margins=Margins(binding_mm=20.0, other_mm=20.0))),
        ("H03", lambda texts: replace(texts, guarded=((texts.steps[-1], texts.steps[0]),))),
        ("N07", lambda texts: replace(texts, torques=(*texts.torques, "431 N·m"))),
        ("S18", lambda texts: replace(texts, marks=(*texts.marks, "Another bike"))),
    ],
)
def test_a_card_that_lacks_what_it_must_show_is_not_told_sound(
    rule: str, asked: Callable[[CardTexts], CardTexts]
) -> None:
    composed, bands, texts = looked_at(*card())
    seen = (composed, bands, asked(texts))
    assert rule in {one.rule for one in read(seen)}
    verdicts = Verdicts()
    assert verdicts.is_sound(composed, bands, texts)
    assert not verdicts.is_sound(*seen)


def test_a_card_that_is_not_told_sound_is_read_letter_by_letter() -> None:
    html, texts = card()
    made = pdf.PdfWriter(theme(), shelf=SHELF).printed(html, replace(texts, marks=("Another bike",)))
    assert {one.rule for one in made.findings} == {"S18"}
