"""Print: letter height, what fits on a card, contrast, safety colours and signs."""

import math
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.contrast import (
    ENHANCED_RATIO,
    LARGE_TEXT_RATIO,
    TEXT_RATIO,
    contrast,
    contrast_ratio,
    read_colour,
    relative_luminance,
)
from builder.checks.legibility import (
    LABEL_ARCMIN,
    PREFERRED_ARCMIN,
    TEXT_ARCMIN,
    characters_a_line,
    letter_height,
    letter_height_mm,
    lines_available,
    text_fit,
)
from builder.checks.result import InputError, Verdict
from builder.model.catalogue import Caution, Harm, Likelihood, Severity
from builder.tailoring.hazards import signal_word
from tests.published import published

CATALOGUE = Path(__file__).parents[2] / "guides" / "catalogue"
COLOURS = st.tuples(*[st.integers(0, 255)] * 3)


# --- letter height -------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(distance=st.floats(150, 20000), angle=st.floats(5, 120))
def test_letter_height_shows_under_the_visual_angle(distance, angle):
    half = letter_height_mm(distance, angle) / 2
    top, bottom = np.array([distance, half]), np.array([distance, -half])
    cosine = float(top @ bottom / (np.linalg.norm(top) * np.linalg.norm(bottom)))
    sine = float((top[0] * bottom[1] - top[1] * bottom[0]) / (np.linalg.norm(top) * np.linalg.norm(bottom)))
    assert math.degrees(math.atan2(abs(sine), cosine)) * 60 == pytest.approx(angle, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(distance=st.floats(150, 10000), angle=st.floats(5, 60), factor=st.floats(1.01, 2))
def test_farther_away_letters_grow_in_proportion(distance, angle, factor):
    assert letter_height_mm(factor * distance, angle) == pytest.approx(factor * letter_height_mm(distance, angle))
    assert letter_height_mm(distance, factor * angle) > letter_height_mm(distance, angle)


@pytest.mark.parametrize("case", published("legibility/angles-of-displays"))
def test_the_preferred_angle_lies_where_the_standard_for_displays_puts_it(case):
    assert case.expected["recommended_low"] <= PREFERRED_ARCMIN <= case.expected["recommended_high"]
    assert case.expected["least"] == TEXT_ARCMIN > LABEL_ARCMIN


@pytest.mark.parametrize(
    ("reading", "height", "verdict"),
    [
        ("text", 2.79, Verdict.DOES_NOT_FIT),
        ("text", 2.8, Verdict.WITH_CARE),
        ("label", 2.61, Verdict.DOES_NOT_FIT),
        ("label", 2.62, Verdict.WITH_CARE),
        ("text", 3.49, Verdict.WITH_CARE),
        ("text", 3.5, Verdict.FITS),
    ],
)
def test_height_verdicts_turn_at_least_and_preferred(reading, height, verdict):
    assert letter_height(distance_mm=600, height_mm=height, reading=reading).verdict is verdict


# --- what fits -----------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(characters=st.integers(1, 5000), width=st.floats(40, 300), room=st.floats(20, 400), size=st.floats(8, 30))
def test_what_fits_can_be_counted_out(characters, width, room, size):
    result = text_fit(characters=characters, width_mm=width, room_mm=room, size=size, line_height=1.35)
    a_line = max(characters_a_line(width, size), 1)
    assert result.value == len(range(0, characters, a_line))
    assert result.limit * 1.35 * size * 25.4 / 72 <= room + 1e-6
    if result.verdict is Verdict.FITS:
        assert result.value <= result.limit


@settings(max_examples=60, deadline=None)
@given(width=st.floats(40, 300), room=st.floats(20, 400), size=st.floats(8, 30))
def test_larger_type_holds_no_more(width, room, size):
    assert characters_a_line(width, size + 1) <= characters_a_line(width, size)
    assert lines_available(room, size + 1, 1.35) <= lines_available(room, size, 1.35)


# --- contrast ------------------------------------------------------------------------------------

# IEC 61966-2-1, Y row of the matrix from linear sRGB to XYZ under D65, from memory.
_MATRIX_Y = np.array([0.2126390059, 0.7151686788, 0.0721923154])
_LIGHT = np.linspace(0.0, 1.0, 200_001)
_SIGNAL = np.where(_LIGHT <= 0.0031308, 12.92 * _LIGHT, 1.055 * _LIGHT ** (1 / 2.4) - 0.055)


def luminance_by_table(colour) -> float:
    return float(_MATRIX_Y @ np.interp(np.array(colour) / 255, _SIGNAL, _LIGHT))


@settings(max_examples=100, deadline=None)
@given(first=COLOURS, second=COLOURS)
def test_contrast_agrees_with_the_matrix_of_the_colour_space(first, second):
    low, high = sorted((luminance_by_table(first), luminance_by_table(second)))
    assert contrast_ratio(first, second) == pytest.approx((high + 0.05) / (low + 0.05), rel=2e-3)


@settings(max_examples=60, deadline=None)
@given(first=COLOURS, second=COLOURS)
def test_contrast_does_not_ask_which_colour_is_on_top_and_stays_within_its_ends(first, second):
    assert contrast_ratio(first, second) == contrast_ratio(second, first)
    assert 1 <= contrast_ratio(first, second) <= 21 + 1e-12
    assert contrast_ratio(first, first) == 1


@settings(max_examples=60, deadline=None)
@given(colour=st.tuples(*[st.integers(0, 254)] * 3))
def test_a_brighter_channel_gives_more_luminance(colour):
    for channel in range(3):
        brighter = tuple(value + (place == channel) for place, value in enumerate(colour))
        assert relative_luminance(brighter) > relative_luminance(colour)


@pytest.mark.parametrize("case", published("legibility/contrast-thresholds"))
def test_the_limits_are_those_of_the_guideline(case):
    assert case.wanted("text") == TEXT_RATIO
    assert case.wanted("large") == LARGE_TEXT_RATIO
    assert case.wanted("enhanced") == ENHANCED_RATIO


def test_grey_on_white_turns_where_the_guideline_says():
    assert contrast("#767676", "#fff").verdict is Verdict.FITS
    assert contrast("#777777", "#fff").verdict is Verdict.DOES_NOT_FIT
    assert contrast("#777777", "#fff", "large").verdict is Verdict.FITS
    assert contrast("#959595", "#fff", "large").verdict is Verdict.DOES_NOT_FIT


@pytest.mark.parametrize("written", ["#ab0", "AABB00", "#aabb00", " #AaBb00 "])
def test_a_colour_is_read_in_every_usual_form(written):
    assert read_colour(written) == (0xAA, 0xBB, 0x00)


@pytest.mark.parametrize("written", ["", "red", "#12", "#12345", "#gggggg", "rgb(1,2,3)"])
def test_what_is_no_colour_is_refused(written):
    with pytest.raises(InputError, match="not a colour"):
        read_colour(written)


# --- safety colours, words and signs -------------------------------------------------------------


def test_every_safety_colour_takes_black_or_white_lettering():
    colours = {
        case.values[0].inputs["colour"]: case.values[0].expected for case in published("safety_signs/safety-colours")
    }
    assert len(colours) == 5
    for name, colour in colours.items():
        assert colour["ral"].startswith("RAL ")
        best = max(contrast_ratio(read_colour(colour["hex"]), read_colour(letter)) for letter in ("#000", "#fff"))
        assert best >= TEXT_RATIO, name


@pytest.mark.parametrize("case", published("safety_signs/signal-words"))
def test_the_signal_word_is_worked_out_as_the_standard_defines_it(case):
    nobody = case.inputs["harm"] == "none"
    caution = Caution(
        text="x",
        harm=Harm.THINGS if nobody else Harm.RIDER,
        severity=Severity.DAMAGE if nobody else Severity(case.inputs["harm"]),
        likelihood=Likelihood(case.inputs["likelihood"]),
    )
    assert signal_word(caution).value == case.expected["word"]


# What a message must speak of when it shows a sign: a word of the sign's registered title, and what we call it.
SAID = {
    "wear ear protection": ("ear",),
    "wear eye protection": ("eye",),
    "wear protective gloves": ("glove",),
    "wear a mask": ("mask",),
    "wear safety footwear": ("feet", "foot"),
    "hot surface": ("hot",),
    "flammable material": ("ignite", "fire", "flam"),
    "no open flame": ("flame", "fire"),
    "crushing of hands": ("hand", "finger"),
}


def test_at_least_one_message_speaks_of_what_each_sign_shows():
    cautions = yaml.safe_load((CATALOGUE / "cautions.yaml").read_text(encoding="utf-8")).values()
    titles = {
        case.values[0].inputs["number"]: case.values[0].expected["title"] for case in published("safety_signs/signs")
    }
    shown = {sign for caution in cautions for sign in caution.get("signs", ())}
    spoken = [number for number in sorted(shown) if titles.get(number) in SAID]
    assert len(spoken) >= 5
    for number in spoken:
        texts = [caution["text"].lower() for caution in cautions if number in caution.get("signs", ())]
        assert any(word in text for text in texts for word in SAID[titles[number]]), number
