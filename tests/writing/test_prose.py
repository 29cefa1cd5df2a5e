"""Texts are split and counted as ASD-STE100 counts them (rules 8.4 to 8.7, as restated by others)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.model.named_values import names_in
from builder.proof.writing.prose import Kind, plain, sentences, spelled_out, syllables, tokens, word_count


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Loosen the bolt.", 3),
        ("Tighten the bolt to 40 N·m.", 6),
        ("Tighten the bolt to 35 to 45 N·m.", 8),
        ("Open the quick-release lever.", 4),
        ("Loosen the bolt (see the mark on its head).", 4),
        ("Set the switch to “power off now”.", 5),
        ("Turn the screw 1/4 turn.", 5),
        ("Use the M5 bolt.", 4),
        ("Inflate it to 3.5 bar.", 5),
    ],
)
def test_a_number_a_unit_a_hyphenated_word_and_a_parenthesis_count_as_one_word(text: str, count: int) -> None:
    assert word_count(text) == count


def test_a_value_counts_as_one_word_and_can_be_spelled_out() -> None:
    text = "Tighten the bolt to {{ torque }}."
    assert word_count(plain(text)) == 5
    assert names_in(text) == ("torque",)
    assert word_count(spelled_out(text, {"torque": "the torque that the maker prints"})) == 10


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("Turn it by 2.5 mm. Stop.", ["Turn it by 2.5 mm.", "Stop."]),
        ("Use a key, e.g. a small one.", ["Use a key, e.g. a small one."]),
        ("{{ chain.links }} links are left. Stop!", ["⟦chain.links⟧ links are left.", "Stop!"]),
        ("Is it firm? Then stop.", ["Is it firm?", "Then stop."]),
        ("Lay out:\n\n- the chain\n- the pin. It is new.", ["Lay out:", "the chain", "the pin.", "It is new."]),
        ("One line\nthat goes on.", ["One line that goes on."]),
    ],
)
def test_sentences_end_at_full_stops_and_at_list_items(text: str, parts: list[str]) -> None:
    assert [sentence.text for sentence in sentences(text)] == parts


def test_markdown_marks_are_no_words() -> None:
    assert plain("**Hold** the *left* `cup` of [the hub](x.html).") == "Hold the left cup of the hub."


def test_a_unit_is_known_behind_a_number_only() -> None:
    kinds = {token.text: token.kind for token in tokens("Cut 30 mm in the bar at 3 bar")}
    assert kinds["mm"] is Kind.UNIT
    assert kinds["in"] is Kind.WORD
    assert [token.kind for token in tokens("3 bar")] == [Kind.NUMBER, Kind.UNIT]


@pytest.mark.parametrize(
    ("word", "count"),
    [
        # Counts as any English dictionary parts the words.
        ("wheel", 1), ("bolt", 1), ("torque", 1), ("cleaned", 1), ("cable", 2), ("needed", 2), ("loosened", 2),
        ("releases", 3), ("derailleur", 3), ("hydraulic", 3), ("material", 4), ("titanium", 4), ("adjuster", 3),
        ("quick-release", 3), ("tubeless", 2), ("carrier", 3), ("radio", 3), ("touches", 2), ("axle", 2), ("idea", 3),
    ],
)  # fmt: skip
def test_syllables_of_workshop_words(word: str, count: int) -> None:
    assert syllables(word) == count


@settings(max_examples=100)
@given(st.text(max_size=80))
def test_no_text_whatever_breaks_the_splitting(text: str) -> None:
    for sentence in sentences(text):
        assert sentence.text
        assert word_count(sentence.text) >= 0


@settings(max_examples=50)
@given(st.lists(st.sampled_from(["Loosen the bolt.", "Stop!", "Use 2.5 mm keys."]), min_size=1, max_size=6))
def test_sentences_put_side_by_side_come_apart_again(parts: list[str]) -> None:
    assert [sentence.text for sentence in sentences(" ".join(parts))] == parts
