"""Diagnostics: how they are written for people and for programs."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.diagnostics.diagnostic import Diagnostic, Gravity, nearest, ordered
from builder.diagnostics.rendering import Tone, as_json, as_line, as_text, visible
from builder.model.position import NOWHERE, Position

UNKNOWN = Diagnostic(
    rule="unknown-name",
    message="unknown tool 'cassete-tool'",
    at=Position("guides/rear-wheel-out.yaml", 41, 13, 12),
    label="there is no such tool",
    related=((Position("guides/catalogue/tools.yaml", 88, 1), "did you mean 'cassette-tool'?"),),
    hints=("tools stand in the catalogue",),
)
TEXTS = {"guides/rear-wheel-out.yaml": "\n" * 40 + "    tools: [cassete-tool, chain-whip]\n"}


def test_a_diagnostic_quotes_its_line_and_points_at_the_place() -> None:
    assert as_text(UNKNOWN, TEXTS) == (
        "guides/rear-wheel-out.yaml:41:13: error: unknown tool 'cassete-tool'\n"
        "   41 |     tools: [cassete-tool, chain-whip]\n"
        "      |             ^^^^^^^^^^^^ there is no such tool\n"
        "   = did you mean 'cassette-tool'?  (guides/catalogue/tools.yaml:88)\n"
        "   = tools stand in the catalogue"
    )


def test_without_its_text_a_diagnostic_still_says_all() -> None:
    assert as_text(UNKNOWN, {}).splitlines()[1] == "   = there is no such tool"


def test_a_diagnostic_fits_on_one_line() -> None:
    assert as_line(UNKNOWN) == (
        "guides/rear-wheel-out.yaml:41:13: error: unknown tool 'cassete-tool' "
        "(there is no such tool; did you mean 'cassette-tool'?; tools stand in the catalogue)"
    )


def test_a_diagnostic_of_a_whole_file_has_no_line_and_one_of_nothing_no_file() -> None:
    whole = Diagnostic(rule="x", message="this file is not read", at=Position("a.yml", 0, 0))
    assert as_text(whole, {"a.yml": "x"}) == "a.yml: error: this file is not read"
    assert as_text(Diagnostic(rule="x", message="no guides", gravity=Gravity.NOTE), {}) == "note: no guides"


def test_json_holds_everything() -> None:
    (read,) = json.loads(as_json([UNKNOWN]))
    assert read == {
        "rule": "unknown-name",
        "gravity": "error",
        "message": "unknown tool 'cassete-tool'",
        "file": "guides/rear-wheel-out.yaml",
        "line": 41,
        "column": 13,
        "length": 12,
        "label": "there is no such tool",
        "hints": ["tools stand in the catalogue"],
        "related": [
            {
                "message": "did you mean 'cassette-tool'?",
                "file": "guides/catalogue/tools.yaml",
                "line": 88,
                "column": 1,
                "length": 1,
            }
        ],
    }


def _at(line: str, column: int, length: int = 1) -> list[str]:
    wrong = Diagnostic(rule="x", message="wrong", at=Position("x", 1, column, length))
    return as_text(wrong, {"x": line}).splitlines()[1:]


def test_carets_stand_below_wide_and_combined_characters() -> None:
    assert _at("a: 自転車 b", 4, 3) == ["    1 | a: 自転車 b", "      |    ^^^^^^"]
    assert _at("a: 自転車 b", 8) == ["    1 | a: 自転車 b", "      |           ^"]
    assert _at("e\u0301e\u0301 b", 6) == ["    1 | e\u0301e\u0301 b", "      |    ^"]


def test_tabs_are_shown_as_spaces() -> None:
    assert _at("\ta", 2) == ["    1 |     a", "      |     ^"]


def test_a_long_line_is_cut_round_its_place() -> None:
    quoted, carets = _at("x" * 300 + "WRONG" + "y" * 300, 301, 5)
    assert quoted == "    1 | …" + "x" * 40 + "WRONG" + "y" * 53 + "…"
    assert carets == "      | " + " " * 41 + "^^^^^"


@given(st.text(alphabet="ab自\u0301\t é", min_size=1, max_size=300), st.data())
def test_carets_never_leave_the_quoted_line(line: str, data: st.DataObject) -> None:
    start = data.draw(st.integers(1, len(line)))
    length = data.draw(st.integers(1, len(line)))
    shown = _at(line, start, length)
    if shown:
        assert shown[1].count("^") >= 1
        assert len(shown[1]) <= 8 + 110


@pytest.mark.parametrize("sign", ["\x1b", "\x07", "\u202e", "\u200b", "\x9b"])
def test_what_a_terminal_would_obey_is_not_passed_on(sign: str) -> None:
    wrong = Diagnostic(rule="x", message=f"'{sign}[31m'", at=Position(f"{sign}x", 1, 1), label=sign, hints=(sign,))
    assert sign not in as_text(wrong, {f"{sign}x": f"{sign}[31m red"})
    assert sign not in as_line(wrong)


def test_a_message_stays_on_its_line() -> None:
    assert visible("one\ntwo\r\n three") == "one two  three"


def test_every_piece_is_painted_in_its_tone() -> None:
    tones: list[Tone] = []

    def paint(tone: Tone, text: str) -> str:
        tones.append(tone)
        return text

    assert as_text(UNKNOWN, TEXTS, paint) == as_text(UNKNOWN, TEXTS)
    assert set(tones) == {Tone.PLACE, Tone.ERROR, Tone.MESSAGE, Tone.MARGIN, Tone.CARETS, Tone.HINT}


def test_diagnostics_are_told_in_the_order_of_their_places_and_once() -> None:
    first = Diagnostic(rule="b", message="x", at=Position("a", 1, 1))
    second = Diagnostic(rule="a", message="y", at=Position("a", 2, 1))
    nowhere = Diagnostic(rule="c", message="z", at=NOWHERE)
    assert ordered([second, first, first, nowhere]) == (nowhere, first, second)


def test_the_nearest_name_is_found_or_none() -> None:
    assert nearest("cassete-tool", ["chain-whip", "cassette-tool"]) == "cassette-tool"
    assert nearest("hammer", ["chain-whip"]) is None
