"""What must be confirmed of a job by somebody who knows it: worked out from the steps, never written by hand.

A step stays where it leaves something that a ride depends on, or that this bike makes different: it tightens a
fastener or tries one, takes a reading or is held against a limit, puts a part on, is the last to set a state, names a
figure worked out for this bike, looks at what may be forgotten, or is part of the test. All other steps only lead
there.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from builder.tailoring.decisive import decisive
from builder.tailoring.tailored import ShownStep, Tailored


class Why(StrEnum):
    """Why a step stays."""

    TIGHTENS = "tightens"
    TRIES = "tries"
    MEASURES = "measures"
    LIMIT = "limit"
    FITS = "fits"
    SETS = "sets"
    FIGURE = "figure"
    TESTS = "tests"
    CHOICE = "choice"
    LOOKS = "looks"
    PROVES = "proves"


# A step that only looks leaves nothing behind, but what it looks at is what is forgotten: a spacer on the bench.
SURE = "Make sure that "
_LOOKS = ("Make sure ", "Inspect ", "Check ")
# What these begin only makes ready, and a thread that is started by hand is tightened later: neither stays as it is.
# Cleaning with alcohol stays: grease on a rotor is seen by nobody.
_READIES = ("Remove ", "Disconnect ", "Clean ", "Cut ", "Mark ", "Find ", "Loosen ")
_STARTS = re.compile(r"\b(into|onto|in|on|with its bolts)\b.*\bby hand\.$")
# So many letters of a heading stand on one line of a narrow column.
_LONG = 40
_STAYS_CLEAN = "rotor-cleaner"


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmed:
    """A step that must be confirmed, and why: `states` that no later step sets, what of its `limit` decides."""

    step: ShownStep
    why: tuple[Why, ...]
    states: tuple[str, ...] = ()
    limit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefPart:
    """What must be confirmed under one heading, and the state in which it ends."""

    title: str
    end: str = ""
    condition: str = ""
    lines: tuple[Confirmed, ...]

    @property
    def is_shown(self) -> bool:
        """Whether there is anything to confirm."""
        return bool(self.lines or self.end)

    @property
    def name(self) -> str:
        """The state in which it ends, or its title where that is shorter and lines confirm the state."""
        if not self.end or (self.lines and len(self.title) < len(self.end) > _LONG):
            return self.title
        return self.end


def brief_of(tailored: Tailored) -> tuple[tuple[BriefPart, ...], BriefPart | None, BriefPart | None]:
    """What must be confirmed: for each section in its order, then of the finish and of the test."""
    last = _last_to_set(tailored)
    tests = frozenset(step.number for step in tailored.test)

    def part(title: str, steps: tuple[ShownStep, ...], end: str = "", condition: str = "") -> BriefPart:
        found = (_confirmed(step, last, is_test=step.number in tests) for step in steps)
        return BriefPart(title=title, end=end, condition=condition, lines=tuple(one for one in found if one.why))

    sections = tuple(part(one.title, one.steps, one.end, one.condition) for one in tailored.sections)
    finish = part("", tailored.finish) if tailored.finish else None
    return sections, finish, part("", tailored.test) if tailored.test else None


def _last_to_set(tailored: Tailored) -> Mapping[str, frozenset[int]]:
    """The last step to set each state; on a guide for any bike the last of each branch, that of its section too."""
    stretches = [(one.condition, one.steps) for one in tailored.sections]
    found: dict[tuple[str, str, str], int] = {}
    for section, steps in (*stretches, ("", tailored.finish), ("", tailored.test)):
        for step in steps:
            for state in step.step.leaves:
                found[state, section, step.condition] = step.number
    last: dict[str, set[int]] = {}
    for (state, _, _), number in found.items():
        last.setdefault(state, set()).add(number)
    return {state: frozenset(numbers) for state, numbers in last.items()}


def _confirmed(step: ShownStep, last: Mapping[str, frozenset[int]], *, is_test: bool) -> Confirmed:
    states = tuple(state for state in step.step.leaves if step.number in last[state])
    asked = {
        Why.TIGHTENS: step.torque is not None,
        Why.TRIES: bool(step.tried),
        Why.MEASURES: step.measurement is not None or bool(step.step.boxes),
        Why.LIMIT: bool(decisive(step.limit)),
        Why.FITS: bool(step.step.parts),
        Why.SETS: bool(states),
        Why.FIGURE: "{{" in step.step.do + step.step.prove + step.step.until,
        Why.TESTS: is_test,
        Why.CHOICE: bool(step.choose),
        Why.LOOKS: step.do.startswith(_LOOKS),
        Why.PROVES: _proves(step),
    }
    why = tuple(why for why, holds in asked.items() if holds)
    limit = decisive(step.limit, proved=says_what_is_so(step, why))
    return Confirmed(step=step, why=why, states=states, limit=limit)


def says_what_is_so(step: ShownStep, why: tuple[Why, ...]) -> bool:
    """Whether the line has the words for what must be so, and not for what to do."""
    if Why.TIGHTENS in why or is_named_reading(step, why):
        return bool(step.prove)
    if Why.LOOKS in why and step.do.startswith(SURE):
        return True
    return bool(step.prove) and {Why.FITS, Why.FIGURE, Why.CHOICE, Why.TRIES}.isdisjoint(why)


def is_named_reading(step: ShownStep, why: tuple[Why, ...]) -> bool:
    """Whether the name of what is measured says all of the act; where the act has a figure of this bike it does not."""
    return step.measurement is not None and Why.FIGURE not in why


def _proves(step: ShownStep) -> bool:
    """Whether a step is there for its proof: it sets nothing that a later one would show, and makes nothing ready."""
    if not step.prove or step.step.leaves or step.step.loosens:
        return False
    return _STAYS_CLEAN in step.step.consumables or not (step.do.startswith(_READIES) or _STARTS.search(step.do))
