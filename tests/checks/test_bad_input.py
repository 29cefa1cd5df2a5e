"""Bad input, for every check there is: one clear line, never another exception, never a silent clamp."""

import math
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.reckoning import read_inputs, reckon, reckon_texts, result_as_json
from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult, InputError, Verdict
from builder.model.units import Measure
from tests.checks.strategies import bad_texts, good_inputs

EVERY = pytest.mark.parametrize("check", CHECKS.values(), ids=lambda check: check.name)
INPUTS = [
    pytest.param(check, item, id=f"{check.name}-{item.name}") for check in CHECKS.values() for item in check.inputs
]


def one_line(error: pytest.ExceptionInfo[InputError]) -> str:
    message = str(error.value)
    assert message.strip()
    assert len(message.splitlines()) == 1
    return message


def answer_of(ask) -> CheckResult | str:
    """The result, or the message of an InputError; any other exception is the test's failure."""
    try:
        return ask()
    except InputError as error:
        return str(error)


@pytest.mark.parametrize(("check", "item"), INPUTS)
def test_a_bad_text_is_refused_with_one_line_that_names_the_input(check, item):
    for text in bad_texts(item):
        answer = answer_of(partial(reckon_texts, check, {**check.example, item.name: text}))
        assert isinstance(answer, str), f"{text!r} is taken"
        assert item.name in answer
        assert len(answer.splitlines()) == 1


@EVERY
def test_a_missing_input_is_named(check):
    for item in check.inputs:
        if item.default is None and not item.optional:
            with pytest.raises(InputError) as error:
                reckon_texts(check, {name: text for name, text in check.example.items() if name != item.name})
            assert item.name in one_line(error)


@EVERY
def test_an_unknown_input_is_refused_with_what_there_is(check):
    with pytest.raises(InputError) as error:
        reckon_texts(check, {**check.example, "xyzzy": "1"})
    assert "xyzzy" in one_line(error)
    misspelt = check.inputs[0].name + "s"
    if misspelt not in {item.name for item in check.inputs}:
        with pytest.raises(InputError) as error:
            read_inputs(check, {misspelt: "1"})
        assert check.inputs[0].name in one_line(error)


@EVERY
@settings(max_examples=30, deadline=None)
@given(data=st.data())
def test_any_text_at_all_gives_a_result_or_one_line(check, data):
    texts = dict(check.example)
    item = data.draw(st.sampled_from(check.inputs))
    texts[item.name] = data.draw(st.text(max_size=30))
    answer = answer_of(lambda: reckon_texts(check, texts))
    assert isinstance(answer, CheckResult) or len(answer.splitlines()) == 1


@EVERY
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_within_the_ranges_a_result_is_finite_and_its_verdict_has_words(check, data):
    inputs = data.draw(good_inputs(check))
    result = answer_of(lambda: reckon(check, inputs))
    if isinstance(result, str):
        assert len(result.splitlines()) == 1
        return
    written = result_as_json(result)
    numbers = [written["value"], written["limit"], written["margin"], *written["values"].values()]
    assert all(number is None or math.isfinite(number) for number in numbers)
    assert result.working
    assert result.advice
    assert result.verdict in check.at_verdict
    if result.margin is not None:
        assert result.verdict is not Verdict.FITS or result.margin >= -1e-6
        assert result.verdict is not Verdict.DOES_NOT_FIT or result.margin <= 1e-6


@EVERY
@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_no_value_of_another_type_gets_through(check, data):
    item = data.draw(st.sampled_from(check.inputs))
    wrong = data.draw(st.sampled_from((math.nan, math.inf, -math.inf, True, Measure(math.nan), Measure(1.0, -1.0), ())))
    with pytest.raises(InputError) as error:
        reckon(check, {**read_inputs(check, check.example), item.name: wrong})
    one_line(error)
