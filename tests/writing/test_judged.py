"""Findings in real prose, judged by hand one by one: few are false, and the rules still find just these.

The prose is our own: the library before it was mended, and drafts for its guides. See `judged.yaml`.
"""

from __future__ import annotations

from collections import defaultdict

import pytest

from builder.proof.waived import waived
from builder.proof.writing.passages import TextKind
from tests.demo import library
from tests.writing.report import judged, silent
from tests.writing.trying import found_in_text

MOST_FALSE = 0.05
NOW = [one for one in judged() if one.group != "refined"]


def by_text() -> dict[tuple[TextKind, str], set[str]]:
    texts: dict[tuple[TextKind, str], set[str]] = defaultdict(set)
    for one in NOW:
        texts[one.kind, one.text].add(one.rule)
    return texts


@pytest.mark.parametrize("groups", [("library",), ("drafts",), ("library", "drafts")])
def test_few_findings_are_false(groups: tuple[str, ...]) -> None:
    found = [one for one in NOW if one.group in groups]
    assert len(found) >= 20
    assert sum(not one.right for one in found) / len(found) <= MOST_FALSE


def test_every_judgement_gives_its_reason() -> None:
    assert all(one.why.strip() for one in judged())


@pytest.mark.parametrize(("kind", "text"), by_text(), ids=lambda value: str(value)[:40])
def test_the_rules_find_in_each_text_what_was_judged(kind: TextKind, text: str) -> None:
    assert by_text()[kind, text] <= set(found_in_text(kind, text))


@pytest.mark.parametrize(
    ("kind", "text"), dict.fromkeys((one.kind, one.text) for one in NOW if one.group == "drafts"), ids=str
)
def test_nothing_is_found_in_a_draft_that_was_not_judged(kind: TextKind, text: str) -> None:
    assert set(found_in_text(kind, text)) == by_text()[kind, text]


@pytest.mark.parametrize(("kind", "text"), silent(), ids=lambda value: str(value)[:40])
def test_a_draft_in_which_nothing_was_found_stays_silent(kind: TextKind, text: str) -> None:
    assert found_in_text(kind, text) == ()


@pytest.mark.parametrize("one", [one for one in judged() if one.group == "refined"], ids=lambda one: one.text[:40])
def test_a_false_alarm_for_which_a_rule_was_refined_is_raised_no_more(one: object) -> None:
    assert one.rule not in found_in_text(one.kind, one.text) or (one.rule, one.text) in {  # type: ignore[attr-defined]
        (right.rule, right.text) for right in NOW if right.right
    }


def test_every_finding_that_the_library_waives_was_judged() -> None:
    rules = {one.what.removeprefix("the rule ") for one in waived(library()) if one.what.startswith("the rule")}
    assert rules <= {one.rule for one in NOW if one.group == "library"}
