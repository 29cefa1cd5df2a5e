"""A fault that is put into the work meets a line of the brief card that names it: a few cards, drawn with a seed.

`python -m tests.mutation.brief` judges all cards and names each survivor.
"""

from __future__ import annotations

import random
from collections import Counter
from functools import cache

from builder.tailoring import Tailored, tailor
from tests.demo import lead_card, library
from tests.mutation.brief import Kind, WorkFault, is_shown, judged, lines_of, work_faults
from tests.pages.shop import theme

CARDS, SEED = 8, 20261126
# What else a hand can leave undone is done to get at something: of those most must meet a line, and the rest has names.
LEAST_UNDONE = 0.75


@cache
def faults() -> tuple[tuple[WorkFault, bool], ...]:
    names = random.Random(SEED).sample(sorted(library().guides), CARDS - 1)
    drawn: list[Tailored] = [tailor(library().guides[name], library()) for name in names]
    return tuple(judged([lead_card("heron"), *drawn], theme(), library()))


def test_what_is_left_loose_forgotten_untested_or_unread_meets_a_line() -> None:
    assert [str(fault) for fault, is_met in faults() if not is_met and fault.kind is not Kind.UNDONE] == []


def test_faults_of_most_kinds_were_put_in() -> None:
    assert {Kind.LOOSE, Kind.FORGOTTEN, Kind.STATE, Kind.UNTESTED, Kind.UNREAD, Kind.UNHELD, Kind.DRY, Kind.UNDONE} <= {
        fault.kind for fault, _ in faults()
    }


def test_of_other_acts_most_meet_a_line() -> None:
    undone = Counter(is_met for fault, is_met in faults() if fault.kind is Kind.UNDONE)
    assert undone[True] >= LEAST_UNDONE * undone.total()


def test_a_fault_is_not_taken_for_shown_where_its_line_is_gone() -> None:
    card = lead_card("heron")
    lines = lines_of(card, theme(), library())
    loose = next(
        fault for fault in work_faults(card) if fault.kind is Kind.LOOSE and "lockring" in fault.shown_by[0][0]
    )
    assert is_shown(loose, lines)
    assert not is_shown(loose, [line for line in lines if "lockring" not in line])
