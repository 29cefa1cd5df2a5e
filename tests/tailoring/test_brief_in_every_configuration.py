"""The brief card of a guide holds in every configuration that a bike can have, not in those of the fleet alone.

A step stays for what it is by itself, whatever the bike, except where it is the last to set a state: which step that is
hangs on the configuration. So for each step that is left out it is shown that no bike comes to it and then to no later
step that sets the same state: every combination of the attributes that decide it is tried, less the exclusions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

import pytest

from builder.model.condition import Condition, asked
from builder.model.deciding import decided
from builder.model.guide import Guide
from builder.model.inlining import PlacedStep
from builder.model.library import Library
from builder.proof.configurations import Configurations
from builder.proof.track import track_of
from builder.tailoring import tailor
from builder.tailoring.brief import BriefPart, brief_of
from builder.tailoring.tailored import Tailored
from tests.demo import library

Brief = tuple[tuple[BriefPart, ...], BriefPart | None, BriefPart | None]


def combinations(names: Sequence[str], space: Configurations, cases: Mapping[str, str]) -> Iterator[Mapping[str, str]]:
    """Every way in which a bike can have these attributes."""
    if not names:
        yield cases
        return
    for case in space.choices(names[0], cases):
        yield from combinations(names[1:], space, {**cases, names[0]: case})


def ends_with(step: PlacedStep, later: Sequence[PlacedStep], space: Configurations) -> Mapping[str, str] | None:
    """A bike that comes to the step and to none of the later ones; None where there is none."""
    mine = set(map(repr, step.conditions))
    if any(set(map(repr, other.conditions)) <= mine for other in later):
        return None
    conditions: list[Condition] = [one.condition for one in (step, *later)]
    names = [name for name in space.domains if any(name in asked(one) for one in conditions)]
    for cases in combinations(names, space, {}):
        holds = [decided(one, cases) is True for one in conditions]
        if holds[0] and not any(holds[1:]):
            return cases
    return None


def unconfirmed(guide: Guide, lib: Library, brief: Callable[[Tailored], Brief] = brief_of) -> Iterator[str]:
    """Each state that a step sets for good on some bike without a line that says so."""
    tailored = tailor(guide, lib)
    sections, finish, test = brief(tailored)
    kept = {line.step.number for part in (*sections, finish, test) if part is not None for line in part.lines}
    track = track_of(guide, lib)
    shown = iter(tailored.steps)
    numbers: dict[int, int] = {}
    step = next(shown, None)
    for placed in track.steps:
        if step is not None and step.anchor == placed.anchor:
            numbers[placed.index] = step.number
            step = next(shown, None)
    assert step is None, "the guide for any bike shows its steps in their order"
    setters: dict[str, list[PlacedStep]] = {}
    for placed in track.steps:
        for state in placed.step.leaves:
            setters.setdefault(state, []).append(placed)
    for state, steps in setters.items():
        for place, placed in enumerate(steps):
            if numbers.get(placed.index) in kept:
                continue
            bike = ends_with(placed, steps[place + 1 :], track.space)
            if bike is not None:
                yield f"{guide.id}: {placed.anchor} sets {state} for good where {dict(bike)}"


def test_whatever_a_guide_sets_for_good_is_confirmed_on_every_bike() -> None:
    assert [told for guide in library().guides.values() for told in unconfirmed(guide, library())] == []


def nothing(tailored: Tailored) -> Brief:
    """The brief card without the lines of its sections."""
    sections, finish, test = brief_of(tailored)
    return tuple(replace(part, lines=()) for part in sections), finish, test


@pytest.mark.parametrize("guide", ["wider-range-cassette", "rear-wheel-out-and-in"])
def test_a_brief_card_that_forgets_a_state_is_found(guide: str) -> None:
    assert list(unconfirmed(library().guides[guide], library(), nothing))
