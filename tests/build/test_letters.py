"""A letter that no face of the theme has is told, and the system's faces count where one of them stands in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builder.build import fingerprint
from builder.build.cards import Card, packed_html, printed_cards
from builder.build.letters import finding, lacking
from builder.build.order import Order, Quiet
from builder.build.printer import Printer
from builder.build.store import Store
from builder.diagnostics.diagnostic import Gravity
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.pages.theme import load_theme
from tests.pages.shop import THEME


def card(text: str) -> Card:
    html = f"<!doctype html><html lang='en'><title>x</title><body><p>{text}</p></body></html>"
    return Card(
        guide="guide",
        bike="",
        form=Form.STEPS,
        paper=Paper.A5,
        path="generic/guide-a5.pdf",
        packed_html=packed_html(html),
    )


@pytest.mark.parametrize(
    ("text", "letters"),
    [
        ("40 to 45 N·m, ± 2 mm, 12 °C → ½ × 3 ≤ 4", ""),
        ("Müller, Żółw, Ångström", ""),
        ("Велосипед", "Велосипд"),
        ("&#x416; and &amp;", "Ж"),
        ("line\n\ttab\u00a0space\u200dx", ""),
    ],
)
def test_letters_without_a_face_are_found(text: str, letters: str) -> None:
    assert set(lacking(text, load_theme(THEME))) == set(letters)


def test_a_theme_without_faces_leaves_all_to_the_system() -> None:
    assert lacking("Ж", replace(load_theme(THEME), card_css="")) == ""


def test_a_card_with_such_letters_is_told_each_time_and_its_neighbour_is_not(tmp_path: Path) -> None:
    printer, store = Printer(), Store(tmp_path / "store")
    cards = (card("Coot"), replace(card("Лысуха"), path="generic/other-a5.pdf"))
    for new in (True, False):
        made = dict(printed_cards(cards, store, printer, Order(out=tmp_path), Quiet()))
        assert [pdf.new for pdf in made.values()] == [new, new]
        assert made[cards[0]].findings == ()
        (told,) = made[cards[1]].findings
        assert told.at.file == "cards/generic/other-a5.pdf"
        assert told.gravity is Gravity.WARNING
        assert "'Л' (U+041B)" in told.message


def test_the_faces_of_the_system_count_only_where_one_stands_in(monkeypatch: pytest.MonkeyPatch) -> None:
    printer = Printer()
    keys = []
    for faces in ("one", "another"):
        monkeypatch.setattr(fingerprint, "of_system_fonts", lambda faces=faces: faces)
        keys.append((printer.key(card("Coot").html), printer.key(card("Лысуха").html)))
    assert keys[0][0] == keys[1][0]
    assert keys[0][1] != keys[1][1]


def test_many_letters_are_told_in_one_line() -> None:
    said = finding("".join(map(chr, range(0x400, 0x440)))).message
    assert "and 52 more" in said
    assert "\n" not in said
