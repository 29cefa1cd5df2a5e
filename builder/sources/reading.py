"""From the text of a single value to the value, or to what is wrong with it and how to mend it."""

from __future__ import annotations

import datetime
import math
import re
from dataclasses import dataclass
from enum import Enum
from typing import Any

from builder.diagnostics.diagnostic import nearest
from builder.model.condition import All, AnyOf, Condition, Is, Not
from builder.model.units import Measure, QuantityError, Range, Unit, read_measure, read_range, read_value, write_number
from builder.model.written import number_of, one_line
from builder.sources.shapes import DOTTED, KEBAB, Many, Number, OneOf, Quantity, Shape, StandardOf, Text, Truth, When

_WHOLE = re.compile(r"[+-]?\d{1,9}", re.ASCII)
_BARE = re.compile(r"[+-]?(\d{1,12}([.,]\d{1,12})?|[.,]\d{1,12})", re.ASCII)
# More marks of lists or quotations side by side than any text needs; each is a list within a list.
_NESTED = re.compile(r"^[ \t]*(?:> ?|[-*+][ \t]+|\d{1,4}\.[ \t]+){9}", re.MULTILINE)
_KEBAB = re.compile(KEBAB)
_DOTTED = re.compile(DOTTED)


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong at `path`, keys and numbers of items below the value that is read."""

    message: str
    label: str = ""
    hints: tuple[str, ...] = ()
    path: tuple[str | int, ...] = ()
    at_key: bool = False


class Misread(ValueError):
    """A value that can't be what its place asks for."""

    def __init__(self, *problems: Problem) -> None:
        super().__init__("; ".join(problem.message for problem in problems))
        self.problems = problems


def read_as(shape: Shape, data: object) -> Any:
    """A value of a record, or a list of them, read from bare text and lists.

    Raises:
        Misread: it is not what the shape asks for, or the shape is one of a whole record.
    """
    match shape:
        case Text():
            return read_words(shape, data)
        case Truth():
            return read_truth(data)
        case Number():
            return read_number(shape, data)
        case Quantity():
            return read_quantity(shape, data)
        case OneOf():
            return read_choice(shape, data)
        case StandardOf():
            return read_standard(shape, data)
        case When():
            return read_condition(data)
        case Many(item) if isinstance(data, list | tuple):
            return tuple(read_as(item, one) for one in data)
        case _:
            raise Misread(Problem("this can not be read"))


def what_is(value: object) -> str:
    """What a value is, for the reader."""
    if isinstance(value, dict):
        return "a mapping of keys"
    if isinstance(value, list | tuple):
        return "a list"
    return "a single value"


def _single(value: object, wanted: str) -> str:
    """The text of a single value that is not empty."""
    if not isinstance(value, str):
        raise Misread(Problem(f"{wanted} is wanted here, not {what_is(value)}"))
    if not value.strip():
        raise Misread(Problem("the text is empty", hints=("write the text, or take the key away",)))
    return value


def read_words(shape: Text, value: object) -> str:
    """Text: Markdown keeps its lines, only the space around it goes."""
    text = _single(value, "a text").strip()
    if shape.date:
        try:
            if len(text) != 10:
                raise ValueError
            datetime.date.fromisoformat(text)
        except ValueError:
            hint = "write year, month and day, such as 2026-11-25"
            raise Misread(Problem(f"'{one_line(text)}' is not a date", hints=(hint,))) from None
    if shape.prose and _NESTED.search(text):
        hint = "write plain sentences; a list needs one mark before each item"
        raise Misread(Problem("lists stand in lists too many times", hints=(hint,)))
    return text


def read_part_name(value: object) -> str:
    """The id of a part, or `none`."""
    if not isinstance(value, str):
        hint = "write the id of a part, the part's own facts as keys, or none where the bike has no such part"
        raise Misread(Problem(f"a part is wanted here, not {what_is(value)}", hints=(hint,)))
    return _single(value, "a part")


def read_truth(value: object) -> bool:
    """`true` or `false`."""
    text = _single(value, "true or false")
    if text not in ("true", "false"):
        raise Misread(Problem(f"'{text}' is neither true nor false", hints=("write true or false",)))
    return text == "true"


def read_number(shape: Number, value: object) -> int | float:
    """A bare number."""
    text = _single(value, "a number")
    pattern, words = (_WHOLE, "a whole number") if shape.whole else (_BARE, "a number without a unit")
    if not pattern.fullmatch(text):
        bare = re.match(r"[+-]?\d{1,9}(?![\d.,])", text)
        hint = f"write {bare[0]} alone, without a unit" if bare else f"write {words}, such as 12"
        raise Misread(Problem(f"'{text}' is not {words}", hints=(hint,)))
    try:
        number = int(text) if shape.whole else number_of(text)
    except QuantityError as error:
        message, _, hint = str(error).partition("; ")
        raise Misread(Problem(message, hints=(hint,) if hint else ())) from None
    _within(number, shape.low, shape.high, Unit.ONE, text)
    return number


def read_quantity(shape: Quantity, value: object) -> float | Measure | Range:
    """A number with its unit, within what can be meant."""
    text = _single(value, "a number with its unit").strip()
    read: float | Measure | Range
    try:
        if shape.kind is Measure:
            read = read_measure(text, shape.unit)
        elif shape.kind is Range:
            read = read_range(text, shape.unit)
        else:
            read = read_value(text, shape.unit)
    except QuantityError as error:
        message, _, hint = str(error).partition("; ")
        # A bare number lacks nothing but its unit.
        hints = (f"write '{text} {shape.unit.value}'",) if _BARE.fullmatch(text) else ()
        raise Misread(Problem(message, hints=(*hints, hint) if hint else hints)) from None
    match read:
        case Measure(middle, _):
            _within(middle, shape.low, shape.high, shape.unit, text)
            for end in (read.low, read.high):
                _within(end, shape.low, shape.high, shape.unit, text, " with its tolerance")
        case Range(low, high):
            _within(low, shape.low, shape.high, shape.unit, text)
            _within(high, shape.low, shape.high, shape.unit, text)
        case _:
            _within(read, shape.low, shape.high, shape.unit, text)
    return read


def _within(number: float, low: float, high: float, unit: Unit, text: str, how: str = "") -> None:
    if not math.isfinite(number) or not low <= number <= high:
        span = f"{write_number(low)} to {write_number(high)} {unit.value}".strip()
        hint = "has a decimal point slipped, or is the unit another one?"
        if unit is Unit.ONE:
            hint = f"write a number from {write_number(low)} to {write_number(high)}"
        raise Misread(Problem(f"'{text}' is out of range{how}", label=f"{span} is possible here", hints=(hint,)))


def read_choice(shape: OneOf, value: object) -> Enum:
    """One word of a closed set."""
    words = [str(choice.value) for choice in shape.choices]
    text = _single(value, f"one of {', '.join(words)}")
    for choice in shape.choices:
        if choice.value == text:
            return choice
    near = nearest(text, words)
    hint = f"did you mean '{near}'?" if near else known("the words are", words)
    raise Misread(Problem(f"'{text}' is none of the words that can stand here", hints=(hint,)))


def read_standard(shape: StandardOf, value: object) -> str:
    """One word of a set of standards, or any other: whether the catalogue adds it is seen when all is read."""
    return shape.of.word(_single(value, f"one of {', '.join(shape.of.words)}"))


def read_name(value: object, *, dotted: bool = False, what: str = "name") -> str:
    """A name: lower-case words joined by hyphens."""
    text = value if isinstance(value, str) else ""
    if not (_DOTTED if dotted else _KEBAB).fullmatch(text):
        hints: tuple[str, ...] = ("a name is made of lower-case letters, digits and hyphens, such as 'rear-wheel'",)
        suggestion = re.sub(r"[^a-z0-9.]+" if dotted else r"[^a-z0-9]+", "-", text.lower()).strip("-.")
        if suggestion and (_DOTTED if dotted else _KEBAB).fullmatch(suggestion):
            hints = (f"write '{suggestion}'", *hints)
        shown = "".join(sign if sign.isprintable() else "\ufffd" for sign in one_line(text))
        raise Misread(Problem(f"'{shown}' can not be a {what}", hints=hints, at_key=True))
    return text


def known(what: str, names: list[str]) -> str:
    """A hint that lists what could stand here."""
    return f"{what}: {', '.join(names)}"


def read_condition(value: object) -> Condition:
    """A condition in its mapping form: see `builder.model.condition`. All that is wrong with it is raised at once."""
    problems: list[Problem] = []
    condition = _condition(value, (), problems)
    if problems:
        raise Misread(*problems)
    return condition


_WRITE_SO = "write it as {attribute: case}, such as {rear-axle: quick-release}"


def _condition(value: object, path: tuple[str | int, ...], problems: list[Problem]) -> Condition:
    if not isinstance(value, dict):
        problems.append(Problem(f"a condition is wanted here, not {what_is(value)}", hints=(_WRITE_SO,), path=path))
        return All(())
    if not value:
        hint = "take 'when' away if it always holds, or write {attribute: case}"
        problems.append(Problem("the condition is empty", hints=(hint,), path=path))
    parts = tuple(_question(key, asked, (*path, key), problems) for key, asked in value.items())
    return parts[0] if len(parts) == 1 else All(parts)


def _question(key: str, asked: object, path: tuple[str | int, ...], problems: list[Problem]) -> Condition:
    if key == "not":
        return Not(_condition(asked, path, problems))
    if key in ("all", "any"):
        if not isinstance(asked, list) or not asked:
            hint = f"write '{key}: [{{...}}, {{...}}]'"
            problems.append(Problem(f"'{key}' wants a list of conditions", hints=(hint,), path=path))
            return All(())
        parts = tuple(_condition(part, (*path, number), problems) for number, part in enumerate(asked))
        return All(parts) if key == "all" else AnyOf(parts)
    cases = asked if isinstance(asked, list) else [asked]
    words = tuple(case for case in cases if isinstance(case, str) and case)
    if not cases or len(words) < len(cases):
        problems.append(Problem(f"'{key}' wants one case or a list of cases", hints=(_WRITE_SO,), path=path))
        return All(())
    return Is(key, tuple(dict.fromkeys(words)))
