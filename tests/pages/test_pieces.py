"""Pieces of pages are made once: a document of pieces shows what it shows without, and each macro is asked once."""

from __future__ import annotations

from dataclasses import replace

from markupsafe import Markup

from builder.pages.card import card_revision
from builder.pages.pieces import Making, Pieces
from builder.pages.revision import seen_in
from tests.demo import lead_card, library
from tests.pages.shop import theme

# What the macro was asked for, in its order.
asked: list[str] = []


def document(once: Making, shown: list[str]) -> str:
    def macro(text: object) -> Markup:
        asked.append(str(text))
        return Markup("<p>{}</p>").format(text)

    return f"<h1>Job</h1>{''.join(once('step', macro, text) for text in shown)}<i>end</i>"


def test_what_is_read_of_pieces_is_what_is_read_of_the_whole() -> None:
    pieces, shown = Pieces(), ["Loosen & turn", "1 < 2", "\ue0017\ue001", "Loosen & turn"]
    whole = document(pieces.once, shown)
    # A sign that stands for a piece is none where an author typed it.
    assert pieces.read(lambda once: document(once, shown)) == seen_in(whole)
    assert seen_in(whole).startswith("Job Loosen & turn 1 < 2")


def test_a_piece_is_made_once_and_another_is_another() -> None:
    pieces = Pieces()
    asked.clear()
    first, second = (document(pieces.once, ["Loosen", text]) for text in ("Tighten", "Turn"))
    assert asked == ["Loosen", "Tighten", "Turn"]
    assert first != second
    assert document(pieces.once, ["Loosen", "Tighten"]) == first


def test_a_code_among_others_is_the_code_alone() -> None:
    pieces, shop = Pieces(), library().workshop
    cards = [lead_card(bike) for bike in ("heron", "kestrel", "heron")]
    step = cards[2].sections[0].steps[0]
    changed = replace(
        cards[2].sections[0], steps=(replace(step, do="Do another thing."), *cards[2].sections[0].steps[1:])
    )
    cards.append(replace(cards[2], sections=(changed, *cards[2].sections[1:])))
    together = [card_revision(card, theme(), workshop=shop, pieces=pieces) for card in cards]
    assert together == [card_revision(card, theme(), workshop=shop) for card in cards]
    assert len(set(together)) == 3
