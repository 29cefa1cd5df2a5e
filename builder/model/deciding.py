"""Decide a condition where only some cases are known: it holds, it does not, or it is still open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from builder.model.condition import All, AnyOf, Condition, Is, Not


def decided(condition: Condition, cases: Mapping[str, str]) -> bool | None:
    """Whether `condition` holds for the known `cases`; None where an unknown case could still decide it.

    Parts are decided one by one, so that `{any: [{a: x}, {not: {a: x}}]}` stays open while `a` is unknown.
    """
    match condition:
        case Is(attribute, wanted):
            return cases[attribute] in wanted if attribute in cases else None
        case All(parts):
            return _together(parts, cases, False)
        case AnyOf(parts):
            return _together(parts, cases, True)
        case Not(part):
            answer = decided(part, cases)
            return None if answer is None else not answer


def _together(parts: tuple[Condition, ...], cases: Mapping[str, str], enough: bool) -> bool | None:
    """What parts come to of which a single one that is `enough` decides."""
    answer: bool | None = not enough
    for part in parts:
        found = decided(part, cases)
        if found is enough:
            return enough
        if found is None:
            answer = None
    return answer


def still_open(condition: Condition, cases: Mapping[str, str]) -> Condition:
    """What of an open condition is yet to be found out: the parts that the known `cases` do not decide."""
    match condition:
        case All(parts) | AnyOf(parts):
            left = tuple(still_open(part, cases) for part in parts if decided(part, cases) is None)
            return left[0] if len(left) == 1 else type(condition)(left)
        case Not(part):
            return Not(still_open(part, cases))
        case Is():
            return condition


def deciding(condition: Condition, cases: Mapping[str, str]) -> Iterator[str]:
    """The attributes that have a say in `condition` for the known `cases`.

    Where it is decided, the cases of these alone decide it the same; where it is open, they are all that may.
    """
    match condition:
        case Is(attribute, _):
            yield attribute
        case All(parts):
            yield from _of_parts(parts, cases, False)
        case AnyOf(parts):
            yield from _of_parts(parts, cases, True)
        case Not(part):
            yield from deciding(part, cases)


def _of_parts(parts: tuple[Condition, ...], cases: Mapping[str, str], enough: bool) -> Iterator[str]:
    """Those of the first part whose answer is `enough` for all of them, or those of every part."""
    one = next((part for part in parts if decided(part, cases) is enough), None)
    for part in parts if one is None else (one,):
        yield from deciding(part, cases)
