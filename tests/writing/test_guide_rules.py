"""The rules about whole guides. The source of each stands in its file; the guides are invented."""

from __future__ import annotations

from dataclasses import replace

from builder.checks.result import Verdict
from builder.model.guide import Step
from builder.model.library import Library
from builder.pages.guide_view import view_checks
from builder.pages.strings_en import EN
from builder.proof.writing import check_guide
from builder.proof.writing.context import context_of
from builder.proof.writing.passages import guide_element
from builder.proof.writing.rules import (
    average_sentence,
    average_word,
    chunks,
    completion,
    few_cautions,
    final_test,
    persons,
    times,
)
from tests.demo import lead_card
from tests.writing.trying import caution, guide, on_guide, section, shipped

LONG = (
    "The wheel and the chain and the cage and the lever and the cable and the brake and the rim and the tyre and the "
    "hub."
)
HARD = "Immediately manipulate numerous additional elements."


def test_a_plain_guide_keeps_every_rule() -> None:
    assert check_guide(guide(), shipped().library) == ()


def test_sentences_of_more_than_twenty_words_on_average_are_told() -> None:
    # MIL-DTL-81927C(AS), p. 15, item b: not more than 20 words, 17 or fewer desired.
    assert on_guide(average_sentence, guide()) == ()
    long = guide(purpose=LONG, done_when=LONG, work=(section("x", 9, end=LONG, text=LONG),))
    assert len(on_guide(average_sentence, long)) == 1


def test_words_of_more_than_1_60_syllables_on_average_are_told() -> None:
    # MIL-DTL-81927C(AS), p. 15, item a: not more than 1.60 syllables, 1.50 or fewer desired, technical names excluded.
    assert on_guide(average_word, guide()) == ()
    assert len(on_guide(average_word, guide(work=(section("x", 9, text=HARD),)))) == 1


def test_a_long_guide_is_parted_into_sections_with_an_end() -> None:
    # Degani and Wiener 1990, NASA CR-177549, appendix A, guidelines 6 and 7.
    assert on_guide(chunks, guide(work=(section("x", 9),))) == ()
    assert on_guide(chunks, guide(work=(section("x", 10),))) == ("10 steps in one section",)
    assert len(on_guide(chunks, guide(work=(section("x", 1), section("y", 1, end=""))))) == 1
    assert len(on_guide(chunks, guide(work=(section("x", 1), section("x", 1))))) == 1


def test_a_guide_says_when_it_is_complete() -> None:
    # Degani and Wiener 1990, NASA CR-177549, appendix A, guideline 6.
    assert on_guide(completion, guide()) == ()
    assert len(on_guide(completion, guide(done_when=" "))) == 1


def test_a_guide_ends_with_a_test_that_shows_something() -> None:
    # S1000D closing requirements and function tests; OASIS DITA result.
    assert on_guide(final_test, guide()) == ()
    assert len(on_guide(final_test, guide(test=()))) == 1
    blind = Step(id="blind", do="Turn the cranks.")
    assert len(on_guide(final_test, guide(test=(*guide().test, blind)))) == 1


def test_times_and_persons_are_more_than_nothing() -> None:
    # schema.org HowTo (prepTime, performTime); OASIS DITA 1.3, task requirements domain (reqpers).
    assert on_guide(times, guide()) == ()
    assert on_guide(persons, guide()) == ()
    assert len(on_guide(times, guide(work_time_min=0.0))) == 1
    assert len(on_guide(persons, guide(persons=0))) == 1


def test_cautions_are_few() -> None:
    # ISO 9244, 4.6.2 ("DANGER shall be used sparingly"); one message for each three steps is a house number.
    grave = {"text": "Keep away. It can hurt.", "severity": "death-or-serious-injury", "likelihood": "will"}
    cautions = {name: replace(caution({**grave, "harm": "rider"}), id=name) for name in ("first", "second")}
    library = Library(cautions=cautions, verbs=shipped().library.verbs)
    context = context_of(library)

    def found(*steps: Step) -> list[str]:
        of = guide(work=(replace(section("x", 0), steps=steps),), test=())
        return [finding.found for finding in few_cautions.check(guide_element(of, context), context)]

    bare = tuple(Step(id=f"s{n}", do="Turn it.") for n in range(5))
    one = Step(id="one", do="Turn it.", cautions=("first",))
    two = Step(id="two", do="Turn it.", cautions=("second",))
    assert found(*bare, one) == []
    assert found(*bare, one, two) == ["2 messages with DANGER: first, second"]
    assert found(*bare[:1], one) == ["1 messages for 2 steps"]


def test_a_list_of_checks_puts_those_that_want_something_done_first() -> None:
    # S10, after Degani and Wiener 1990, NASA CR-177549, appendix A, guideline 10. Steps are read and done in turn.
    checks = lead_card("heron").checks
    some = [replace(check, verdict=verdict) for check, verdict in zip(checks, (*Verdict, *Verdict), strict=False)]
    assert {check.verdict for check in some} == set(Verdict)
    wanted = [Verdict.DOES_NOT_FIT, Verdict.MEASURE_FIRST, Verdict.WITH_CARE, Verdict.FITS]
    for order in (some, some[::-1]):
        shown = [view.verdict for view in view_checks(order, EN)]
        assert list(dict.fromkeys(shown)) == [verdict.value for verdict in wanted]
