"""From written inputs to a result: reading, ranges, tolerances, JSON."""

import json

import pytest

from builder.checks.reckoning import range_words, read_inputs, reckon, reckon_texts, result_as_json
from builder.checks.registry import CHECKS
from builder.checks.result import InputError, Verdict
from builder.model.units import Measure

LENGTH = CHECKS["chain-length"]
SIZED = {"chainstay": "425 mm", "ring": "32", "sprocket": "40"}
CAPACITY = CHECKS["derailleur-capacity"]


@pytest.mark.parametrize("written", ["425 mm", "42.5 cm", "0.425 m", "16.7322834646 in", "425mm", "+425 mm", "42,5 cm"])
def test_a_length_takes_any_sensible_unit(written):
    given = read_inputs(LENGTH, {**SIZED, "chainstay": written})["chainstay"]
    assert given.value == pytest.approx(425)


@pytest.mark.parametrize("written", ["32", "32 teeth", "32T", "32.0"])
def test_a_tooth_count_may_name_its_unit(written):
    assert read_inputs(LENGTH, {**SIZED, "ring": written})["ring"] == 32


@pytest.mark.parametrize("written", ["48,31", "48, 31", "48 31", "48/31", "48;31", "48,31 teeth"])
def test_a_list_takes_any_sensible_separator(written):
    assert read_inputs(CAPACITY, {"rings": written, "sprockets": "11,34"})["rings"] == (48, 31)


def test_defaults_are_filled_in_and_optional_inputs_stay_out():
    given = read_inputs(CAPACITY, {"rings": "48,31", "sprockets": "11,34"})
    assert set(given) == {"rings", "sprockets", "growth"}
    assert read_inputs(LENGTH, SIZED)["joiner"] == "quick-link"


def test_a_true_minus_sign_is_read():
    texts = {"mass": "90 kg", "gradient": "−6 %", "speed": "20 km/h"}
    assert read_inputs(CHECKS["hill-power"], texts)["gradient"] == Measure(-6.0)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"chainstay": "4 m"}, "chainstay: 4000 mm is outside 250 to 900 mm"),
        ({"chainstay": "425"}, "chainstay: '425' has no unit"),
        ({"chainstay": "425 kg"}, "chainstay: 'kg' is not a unit for this"),
        ({"ring": "3"}, "ring: 3 teeth is outside 8 to 100 teeth"),
        ({"ring": "32.5"}, "ring: 32.5 is not a whole number"),
        ({"joiner": "quik-link"}, "did you mean 'quick-link'"),
        ({"chainstai": "425 mm"}, "did you mean 'chainstay'"),
        (
            {"chainstay": "252 ± 5 mm"},
            "chainstay: 252 mm with its tolerance reaches 247 mm, which is outside 250 to 900 mm",
        ),
    ],
)
def test_a_mistake_is_told_in_one_plain_line(more, said):
    with pytest.raises(InputError) as error:
        reckon_texts(LENGTH, {**SIZED, **more})
    assert said in str(error.value)
    assert "\n" not in str(error.value)


def test_a_missing_input_is_told_with_range_and_example():
    with pytest.raises(InputError, match=r"chainstay is missing: .*250 to 900 mm.*chainstay=425 mm"):
        reckon_texts(LENGTH, {"ring": "32", "sprocket": "40"})


def test_plain_values_may_be_given_too():
    assert reckon(LENGTH, {"chainstay": 425, "ring": 32, "sprocket": 40.0}).value == 106


# --- tolerance ---


def test_without_a_tolerance_nothing_is_said_of_one():
    result = reckon_texts(LENGTH, SIZED)
    assert not any("tolerance" in line for line in result.working)


def test_a_harmless_tolerance_keeps_the_verdict_and_shows_the_span():
    result = reckon_texts(LENGTH, {**SIZED, "chainstay": "425 ± 2 mm"})
    assert result.verdict is Verdict.FITS
    assert any("423 mm" in line for line in result.working)
    assert any("427 mm" in line for line in result.working)


def test_a_tolerance_that_straddles_the_limit_asks_for_a_closer_measurement_and_shows_both_ends():
    result = reckon_texts(CHECKS["chain-wear"], {"length": "306.2 ± 0.3 mm", "links": "24", "speeds": "11"})
    assert result.verdict is Verdict.MEASURE_FIRST
    lines = "\n".join(result.working)
    assert "305.9 mm" in lines
    assert "306.5 mm" in lines
    assert "does not fit" in lines
    assert "tolerance could turn" in result.advice


def test_a_tolerance_that_changes_a_count_alone_does_not_ask_to_measure_what_does_not_fit_anyway():
    # 51 − 10 = 41 teeth against 20: the growth of the axle decides a few teeth more or less, never the answer.
    texts = {"rings": "32", "sprockets": "10,51", "rated": "20", "growth": "25 ± 8 mm"}
    result = reckon_texts(CHECKS["derailleur-capacity"], texts)
    assert result.verdict is Verdict.DOES_NOT_FIT
    assert "could turn" not in result.advice
    assert any("changes the count, not the answer" in line for line in result.working)


def test_a_tolerance_that_only_decides_how_much_care_it_takes_asks_for_care():
    texts = {"body": "36 mm", "stack": "37.05 ± 0.2 mm", "spacers": "0 mm"}
    assert reckon_texts(CHECKS["sprocket-stack"], texts).verdict is Verdict.WITH_CARE


@pytest.mark.parametrize(
    ("name", "texts"),
    [
        ("chain-wear", {"length": "306.4 ± 0.3 mm", "links": "24", "speeds": "11"}),
        ("rotor-wear", {"thickness": "1.45 ± 0.1 mm", "least": "1.5 mm"}),
        ("wheel-runout", {"lateral": "0.9 ± 0.2 mm", "radial": "0.2 mm", "brake": "rim"}),
    ],
)
def test_no_tolerance_lifts_what_does_not_fit(name, texts):
    result = reckon_texts(CHECKS[name], texts)
    assert result.verdict is Verdict.DOES_NOT_FIT
    assert "'does not fit'" in result.advice


def test_another_number_of_links_is_another_answer():
    result = reckon_texts(LENGTH, {**SIZED, "chainstay": "425 ± 8 mm"})
    assert result.verdict is Verdict.WITH_CARE
    lines = "\n".join(result.working)
    assert "104 links" in lines
    assert "108 links" in lines


def test_all_corners_of_several_tolerances_are_visited():
    texts = {"body": "36 ± 0.2 mm", "stack": "37.5 ± 0.2 mm", "spacers": "0 mm"}
    result = reckon_texts(CHECKS["sprocket-stack"], texts)
    assert result.verdict is Verdict.FITS
    wide = reckon_texts(CHECKS["sprocket-stack"], {**texts, "stack": "36.4 ± 0.2 mm", "body": "36 ± 0.3 mm"})
    assert wide.verdict is Verdict.MEASURE_FIRST


def test_the_middle_value_stays():
    plain = reckon_texts(CHECKS["chain-wear"], {"length": "306.2 mm", "links": "24"})
    spread = reckon_texts(CHECKS["chain-wear"], {"length": "306.2 ± 0.3 mm", "links": "24"})
    assert spread.value == plain.value
    assert spread.margin == plain.margin


# --- JSON ---


def test_the_json_has_the_fixed_keys_and_names():
    written = json.loads(json.dumps(result_as_json(reckon_texts(LENGTH, SIZED))))
    keys = ["check", "verdict", "value", "unit", "limit", "margin", "working", "advice", "source", "values"]
    assert list(written) == keys
    assert written["check"] == "chain-length"
    assert written["verdict"] == "fits"
    assert written["value"] == 106
    assert written["unit"] == "links"
    assert written["values"]["exact"] == pytest.approx(102.97758307)


def test_numbers_are_not_rounded_for_the_reader_but_to_twelve_digits():
    written = result_as_json(reckon_texts(CHECKS["gear"], {"ring": "50", "sprocket": "11"}))
    assert written["value"] == 4.54545454545


def test_no_value_is_null():
    written = result_as_json(reckon_texts(CHECKS["chain-width"], {"speeds": "11"}))
    assert written["value"] is None
    assert written["verdict"] == "measure-first"


def test_a_range_reads_as_written():
    by_name = {item.name: item for item in LENGTH.inputs}
    assert range_words(by_name["chainstay"]) == "250 to 900 mm"
    assert range_words(by_name["joiner"]) == "quick-link or joining-pin"
