"""The rules are right about made-up sentences: few false alarms, few misses. See `python -m tests.writing.report`.

The sentences and their labels are our own. The bounds are those that the project sets itself.
"""

from __future__ import annotations

import pytest

from builder.proof.writing.registry import ON_PASSAGE
from tests.writing.report import cases, counts, tried

MOST_FALSE = 0.05
LEAST_FOUND = 0.95


@pytest.fixture(scope="module")
def results():
    return tried(cases())


def test_the_corpus_holds_enough_good_and_bad_sentences() -> None:
    good = sum(not case.breaks for case in cases())
    bad = sum(bool(case.breaks) for case in cases())
    assert good >= 150
    assert bad >= 150


def test_every_rule_about_a_text_has_a_sentence_that_breaks_it() -> None:
    broken = {rule for case in cases() for rule in case.breaks}
    rules = {rule.ID for rule in ON_PASSAGE}
    assert rules - broken == {"W03"}, "W03 wants a paragraph: see its documentation"


@pytest.mark.parametrize("unseen", [False, True], ids=["made with the rules", "written after them"])
def test_false_alarms_are_few_and_little_is_missed(results, unseen: bool) -> None:
    right, false, missed = counts(tuple(result for result in results if result.case.unseen is unseen))
    assert false.total() / (right.total() + false.total()) <= MOST_FALSE
    assert right.total() / (right.total() + missed.total()) >= LEAST_FOUND


def test_no_good_sentence_breaks_a_grave_rule_by_mistake(results) -> None:
    wrong = [result.case.text for result in results if not result.case.breaks and result.false]
    good = sum(not result.case.breaks for result in results)
    assert len(wrong) / good <= 0.01, wrong
