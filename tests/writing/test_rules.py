"""Every rule passes what its documentation says passes, and finds what it says fails.

The source of each rule stands in its file as `SOURCE`; the examples are invented sentences.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from builder.pages.rules_page import house_rules
from builder.proof.writing import HELD, RULES, HeldBy, HeldRule
from builder.proof.writing.registry import ON_GUIDE
from builder.proof.writing.rule import RuleModule
from tests.writing.trying import EVERY_RULE, breaks, examples

ROOT = Path(__file__).parent.parent.parent
CASES = [
    pytest.param(rule, text, heading == "Fails", id=f"{rule.ID} {heading.lower()}: {text[:40]}")
    for rule in EVERY_RULE
    if rule not in ON_GUIDE
    for heading in ("Passes", "Fails")
    for text in examples(rule, heading)
]


@pytest.mark.parametrize(("rule", "text", "fails"), CASES)
def test_the_examples_in_the_documentation_of_a_rule_hold(rule: RuleModule[object], text: str, fails: bool) -> None:
    assert breaks(rule, text) is fails


@pytest.mark.parametrize("rule", EVERY_RULE, ids=lambda rule: rule.ID)
def test_a_rule_is_documented_with_passing_and_failing_examples(rule: RuleModule[object]) -> None:
    assert examples(rule, "Passes")
    assert examples(rule, "Fails")


def test_every_rule_of_the_list_is_judged_or_told_who_holds_it() -> None:
    # Writing 25 (one of our own), structure 23, applicability 7, safety 17, numbers 9, legibility 25, delivery 6.
    counts = {"W": 25, "S": 23, "A": 7, "H": 17, "N": 9, "L": 25, "D": 6}
    wanted = [f"{group}{number:02}" for group, most in counts.items() for number in range(1, most + 1)]
    assert sorted([rule.id for rule in RULES] + [rule.id for rule in HELD]) == sorted(wanted)


# What only a person can judge: whether a fact is the bike's or the plan's, a face, lamination, a helpful message.
BY_PERSONS = {"A02", "L14", "L20", "D05"}


def test_every_rule_that_a_program_can_hold_is_held_by_one() -> None:
    not_held = {rule.id for rule in HELD if rule.by in (HeldBy.PERSON, HeldBy.NOTHING)}
    assert not_held <= BY_PERSONS
    assert not {rule.id for rule in RULES} & BY_PERSONS


@pytest.mark.parametrize("rule", [rule for rule in HELD if rule.where.startswith(("builder.", "tests/"))])
def test_what_holds_a_rule_is_there(rule: HeldRule) -> None:
    if rule.where.startswith("tests/"):
        assert (ROOT / rule.where).is_file()
    else:
        assert importlib.util.find_spec(rule.where) is not None


def test_the_page_of_house_rules_lists_every_rule_once_and_says_what_holds_it() -> None:
    rules = house_rules()
    assert {rule.id for rule in rules} == {rule.id for rule in (*RULES, *HELD)}
    assert len(rules) == len(RULES) + len(HELD)


def test_every_rule_has_an_id_of_its_own_and_is_listed() -> None:
    ids = [rule.ID for rule in EVERY_RULE]
    assert sorted(ids) == sorted(set(ids))
    assert {rule.id for rule in RULES} == set(ids)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_listed_rule_names_its_source_as_a_house_rule_and_its_limit(rule: object) -> None:
    assert rule.source.startswith("house rule")  # type: ignore[attr-defined]
    assert rule.limit  # type: ignore[attr-defined]
    assert rule.title.endswith(".")  # type: ignore[attr-defined]
    assert "complian" not in rule.source  # type: ignore[attr-defined]
