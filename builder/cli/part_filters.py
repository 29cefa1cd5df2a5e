"""What a part can be looked for by: a fact by its key, and what people ask of several kinds at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from enum import Enum
from typing import Any

from builder.model.parts import KINDS, Part
from builder.model.units import Measure, Range
from builder.pages.part_facts import facts_of
from builder.sources.hints import choices
from builder.sources.reading import (
    Misread,
    read_choice,
    read_number,
    read_quantity,
    read_standard,
    read_truth,
    read_words,
)
from builder.sources.shapes import Field, Many, Number, OneOf, Quantity, Shape, StandardOf, Text, Truth, fields_of

_WRITTEN = re.compile(r"\s*([a-z][a-z-]*)\s*(>=|<=|=)\s*(.+?)\s*")
_TEETH = ("sprockets", "rings")
_RATED = ("largest_sprocket",)
_MOUNTS = ("mount", "sprocket_mount", "rotor_mount", "caliper_mount", "fits_mount", "rear_caliper_mount")


class FilterError(ValueError):
    """A filter that can not be meant; the message says what would do."""


def fact_filter(written: str, kind: str | None) -> Callable[[Part], bool]:
    """A filter such as `stack=36.5mm` or `links>=116`. A list passes where one of its items does.

    Raises:
        FilterError: no such part has such a fact, or its value can not be so.
    """
    parted = _WRITTEN.fullmatch(written)
    if parted is None:
        raise FilterError(f"'{written}' is no filter; write FACT=VALUE, FACT>=VALUE or FACT<=VALUE")
    key, sign, text = parted.groups()
    records: tuple[type, ...] = tuple(KINDS.values()) if kind is None else (KINDS[kind],)
    fields = {record: field for record in records for field in fields_of(record) if field.key == key}
    if not fields:
        keys = dict.fromkeys(field.key for record in records for field in fields_of(record))
        raise FilterError(
            f"{f'a {kind}' if kind else 'no part'} has no fact '{key}'; {choices(key, keys, 'there are')}"
        )
    values: dict[type, Any] = {}
    problem: Misread | None = None
    for record, field in fields.items():
        try:
            values[record] = _read(_item(field), text)
        except Misread as error:
            problem = problem or error
    if not values and problem is not None:
        first = problem.problems[0]
        raise FilterError("; ".join((first.message, *first.hints[:1])))
    return lambda part: (
        type(part) in values and _passes(getattr(part, fields[type(part)].name), sign, values[type(part)])
    )


def mentions(part: Part, words: str) -> bool:
    """Whether every word stands somewhere in what is known of the part."""
    text = " ".join(
        (part.id, part.name, part.note, *(f"{label} {value}" for label, value in facts_of(part)))
    ).casefold()
    return all(word in text for word in words.casefold().split())


def has_teeth(part: Part, teeth: int) -> bool:
    """Whether it has a sprocket or ring of so many teeth, or is made for that as the largest sprocket."""
    return any(teeth in getattr(part, name, ()) for name in _TEETH) or any(
        getattr(part, name, None) == teeth for name in _RATED
    )


def has_speeds(part: Part, speeds: int) -> bool:
    """Whether it is for so many sprockets: it says so, or it has as many."""
    told = getattr(part, "speeds", None)
    if isinstance(told, tuple):
        return speeds in told
    return told == speeds or len(getattr(part, "sprockets", ())) == speeds


def has_mount(part: Part, mount: str) -> bool:
    """Whether it sits on the mount, or is one for it."""
    return any(getattr(part, name, None) == mount for name in _MOUNTS)


def _item(field: Field) -> Shape:
    return field.shape.item if isinstance(field.shape, Many) else field.shape


def _read(shape: Shape, text: str) -> Any:
    match shape:
        case Number():
            return read_number(shape, text)
        case Quantity():
            return read_quantity(shape, text)
        case OneOf():
            return read_choice(shape, text)
        case StandardOf():
            return read_standard(shape, text)
        case Truth():
            return read_truth(text)
        case Text():
            return read_words(shape, text)
        case _:
            return text


def _passes(have: Any, sign: str, wanted: Any) -> bool:
    if have is None or have == "":
        return False
    if isinstance(have, tuple):
        return any(_passes(one, sign, wanted) for one in have)
    if isinstance(have, Mapping):
        return wanted in have
    ends, limits = _ends(have), _ends(wanted)
    if ends is None or limits is None:
        return sign == "=" and bool(have == wanted)
    (low, high), (least, most) = ends, limits
    # A span or a tolerance passes where all of it does; for a plain "is", where the two meet.
    return {">=": low >= least, "<=": high <= most, "=": low <= most and high >= least}[sign]


def _ends(value: Any) -> tuple[float, float] | None:
    match value:
        case Range() | Measure():
            return value.low, value.high
        case bool() | Enum():
            return None
        case int() | float():
            return float(value), float(value)
        case _:
            return None
