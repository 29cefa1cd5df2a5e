"""Which facts of a bike the checks read: every path leads somewhere, and every condition can come true."""

import pytest

from builder.checks.registry import CHECKS
from builder.model.facts import Role
from builder.model.fields import ENDS, WHERE
from builder.model.paths import fact_field, is_worked_out
from builder.planning.asking import roles_of

ASKED = [check for check in CHECKS.values() if check.of_bikes]
EVERY = pytest.mark.parametrize("check", ASKED, ids=lambda check: check.name)


def at_every_end(path: str) -> set[str]:
    return {path.replace("{end}", end) for end in ENDS}


def places_read(check) -> set[str]:
    return {role.value for where in check.wheres for role in roles_of(check, where)}


@EVERY
def test_every_fact_of_an_input_is_one_of_the_model(check):
    for item in check.inputs:
        for where in check.wheres if item.fact is not None else ():
            path = item.fact.at(where)
            if path != WHERE and not is_worked_out(path):
                assert fact_field(path) is not None


@EVERY
def test_an_input_has_the_unit_the_range_and_the_words_of_its_fact(check):
    for item in check.inputs:
        for where in check.wheres if item.fact is not None and item.fact.by is None else ():
            path = item.fact.at(where)
            if path == WHERE or is_worked_out(path):
                continue
            of_fact = fact_field(path)
            assert of_fact.unit is None or of_fact.unit is item.unit
            if of_fact.bounds is not None:
                # Where one input stands for facts of several joints, its range holds each of theirs.
                low, high = of_fact.bounds.low, of_fact.bounds.high
                assert (
                    item.low <= low and high <= item.high if item.fact.joints else (item.low, item.high) == (low, high)
                )
            if item.choices:
                assert set(item.choices) & set(of_fact.choices)


@EVERY
def test_every_condition_asks_for_a_word_that_the_fact_can_be(check):
    for conditions in (check.asked.only, check.asked.unless, check.asked.surely):
        for path, words in conditions.items():
            for one in at_every_end(path):
                if not is_worked_out(one):
                    # '' is a bike without such a part.
                    assert set(words) <= {*fact_field(one).choices, ""}


@EVERY
def test_what_cures_is_a_place_that_the_check_reads(check):
    roles = {role.value for role in Role}
    for place in (*check.asked.new, *check.asked.kept, *check.asked.cures):
        assert at_every_end(place) <= roles
    for place in check.asked.cures:
        assert at_every_end(place) & places_read(check)
