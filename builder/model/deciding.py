"""Decide a condition where only some cases are known: it holds, it does not, or it is still open."""

from __future__ import annotations

from collections.abc import Mapping

from builder.model.condition import All, AnyOf, Condition, Is, Not


def decided(condition: Condition, cases: Mapping[str, str]) -> bool | None:
    """Whether `condition` holds for the known `cases`; None where an unknown case could still decide it.

    Parts are decided one by one, so that `{any: [{a: x}, {not: {a: x}}]}` stays open while `a` is unknown.
    """
    match condition:
        case Is(attribute, wanted):
            return cases[attribute] in wanted if attribute in cases else None
        case All(parts):
            answers = [decided(part, cases) for part in parts]
            if False in answers:
                return False
            return None if None in answers else True
        case AnyOf(parts):
            answers = [decided(part, cases) for part in parts]
            if True in answers:
                return True
            return None if None in answers else False
        case Not(part):
            answer = decided(part, cases)
            return None if answer is None else not answer
