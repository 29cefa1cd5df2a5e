"""The search for the fewest and then the cheapest changes, held against trying every set of changes."""

from __future__ import annotations

from itertools import combinations, product

from hypothesis import given, settings
from hypothesis import strategies as st

from builder.checks.check import Asked, Check, Family
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import Role
from builder.model.parts import Part
from builder.model.units import Unit
from builder.planning.asking import Answered
from builder.planning.search import MOST_CHANGES, cheapest_cure, price

ROLES = (Role.REAR_DERAILLEUR, Role.CHAIN, Role.REAR_SHIFTER, Role.SPROCKET_SPACER)


def _check(name, cures):
    """A check that some places could cure; the search asks through its own function and never calls it."""

    def never_asked() -> CheckResult:
        raise AssertionError("the search asks through its own function")

    never_asked.__name__ = name
    return Check(
        function=never_asked,
        family=Family.SPROCKETS,
        title=name,
        purpose="",
        formula="",
        source=Source(title="invented", provenance=Provenance.COMMON_PRACTICE),
        at_verdict={},
        example={},
        asked=Asked(cures=tuple(role.value for role in cures)),
    )


@st.composite
def shelves(draw):
    """A shelf of up to three parts for each of four places, with whole prices."""
    return {
        role: tuple(
            Part(id=f"{role.value}-{number}", name="part", price_eur=float(draw(st.integers(1, 9))))
            for number in range(draw(st.integers(0, 3)))
        )
        for role in ROLES
    }


@st.composite
def puzzles(draw):
    """A shelf and some questions; each passes for some combinations of the parts in its places and fails for others."""
    shelf = draw(shelves())
    questions = []
    for number in range(draw(st.integers(1, 3))):
        roles = tuple(draw(st.lists(st.sampled_from(ROLES), min_size=1, max_size=2, unique=True)))
        kept_or_new = [("as found", *(part.id for part in shelf[role])) for role in roles]
        every = list(product(*kept_or_new))
        good = draw(st.sets(st.sampled_from(every)))
        questions.append((_check(f"q{number}", roles), roles, good))
    return shelf, questions


def _failing(questions):
    def failing(changes):
        found = []
        for check, roles, good in questions:
            state = tuple(changes[role].id if role in changes else "as found" for role in roles)
            if state not in good:
                result = CheckResult(check=check.name, verdict=Verdict.DOES_NOT_FIT, value=None, unit=Unit.ONE)
                found.append(Answered(check=check, where="", given={}, result=result, roles=frozenset(roles)))
        return tuple(found)

    return failing


def _every_set(shelf):
    for size in range(min(len(ROLES), MOST_CHANGES) + 1):
        for roles in combinations(ROLES, size):
            for parts in product(*(shelf[role] for role in roles)):
                yield dict(zip(roles, parts, strict=True))


@settings(max_examples=100, deadline=None)
@given(puzzles())
def test_the_search_finds_as_few_and_as_cheap_changes_as_trying_everything(puzzle):
    shelf, questions = puzzle
    failing = _failing(questions)
    sound = [(len(changes), price(changes)) for changes in _every_set(shelf) if not failing(changes)]
    found = cheapest_cure(failing, shelf.__getitem__, frozenset())
    if sound:
        assert found.failing == ()
        assert failing(found.changes) == ()
        assert (len(found.changes), price(found.changes)) == min(sound)
    else:
        assert found.failing != ()


def test_a_part_without_a_price_comes_after_every_part_with_one():
    dear, unpriced = Part(id="dear", name="part", price_eur=900.0), Part(id="unpriced", name="part")
    assert price({Role.CHAIN: dear}) < price({Role.CHAIN: unpriced})


def test_a_place_that_was_asked_for_is_not_searched():
    part = Part(id="other", name="part", price_eur=1.0)
    failing = _failing([(_check("q", (Role.CHAIN,)), (Role.CHAIN,), {("other",)})])
    found = cheapest_cure(failing, lambda role: (part,), frozenset({Role.CHAIN}))
    assert found.changes == {}
    assert len(found.failing) == 1
