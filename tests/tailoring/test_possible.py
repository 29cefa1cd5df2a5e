"""Whether some bike may meet conditions, held against trying every bike one by one."""

from __future__ import annotations

import random
from itertools import product

from builder.model.catalogue import Attribute, Exclusion
from builder.model.condition import All, AnyOf, Condition, Is, Not, asked, holds
from builder.model.library import Library
from builder.tailoring.generic import possible

CASES = {"a": ("x", "y"), "b": ("x", "y", "z"), "c": ("x", "y"), "d": ("x", "y")}


def at_random(chance: random.Random, depth: int) -> Condition:
    """A condition of few parts."""
    kind = chance.randrange(4) if depth else 0
    if kind == 0:
        name = chance.choice(list(CASES))
        return Is(name, tuple(chance.sample(CASES[name], chance.randint(1, 2))))
    if kind == 1:
        return Not(at_random(chance, depth - 1))
    parts = tuple(at_random(chance, depth - 1) for _ in range(chance.randint(1, 3)))
    return All(parts) if kind == 2 else AnyOf(parts)


def by_trying(wanted: tuple[Condition, ...], library: Library, known: dict[str, str]) -> bool:
    """The same question, answered by every bike that there is of the attributes asked."""
    names = {question.attribute for one in wanted for question in asked(one)} - known.keys()
    about = names | known.keys()
    never = [one.never for one in library.exclusions if {part.attribute for part in asked(one.never)} <= about]
    for cases in product(*(CASES[name] for name in names)):
        bike = {**known, **dict(zip(names, cases, strict=True))}
        if all(holds(one, bike) for one in wanted) and not any(holds(one, bike) for one in never):
            return True
    return False


def test_it_answers_as_trying_every_bike_does() -> None:
    chance = random.Random(7)
    attributes = {
        name: Attribute(id=name, ask="", words=name, source="", cases=dict.fromkeys(cases, ""))
        for name, cases in CASES.items()
    }
    answers = []
    for _ in range(800):
        never = tuple(Exclusion(never=at_random(chance, 2), because="") for _ in range(chance.randrange(3)))
        library = Library(attributes=attributes, exclusions=never)
        wanted = tuple(at_random(chance, 3) for _ in range(chance.randint(1, 3)))
        known = {name: chance.choice(CASES[name]) for name in chance.sample(list(CASES), chance.randrange(3))}
        answers.append(possible(wanted, library, known))
        assert answers[-1] is by_trying(wanted, library, known), (wanted, never, known)
    assert {True, False} == {*answers}
