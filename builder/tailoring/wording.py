"""Put conditions and named values into words for the reader."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from builder.model.condition import All, AnyOf, Condition, Is, Not, UnknownCase, asked, holds
from builder.model.library import Library
from builder.model.named_values import with_values


def case_words(question: Is, library: Library) -> str:
    """The cases of a question in words: `a rear disc brake or a rear rim brake`."""
    attribute = library.attributes.get(question.attribute)
    words = [
        attribute.cases[case] if attribute is not None and case in attribute.cases else case for case in question.cases
    ]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"


def in_words(condition: Condition, library: Library) -> str:
    """A condition in words that follow "with", such as `a rear disc brake`; '' where it always holds."""
    match condition:
        case Is():
            return case_words(condition, library)
        case Not(part):
            return f"not {in_words(part, library)}"
        case All(parts):
            return " and ".join(_grouped(part, library) for part in parts)
        case AnyOf(parts):
            return " or ".join(_grouped(part, library) for part in parts)


def _grouped(condition: Condition, library: Library) -> str:
    words = in_words(condition, library)
    several = isinstance(condition, AnyOf | All) and len(condition.parts) > 1
    return f"({words})" if several else words


def lead(conditions: tuple[Condition, ...], library: Library) -> str:
    """The opening of a step that some bikes only have: `With a rear disc brake`; '' where all bikes have it."""
    words = [text for text in (in_words(condition, library) for condition in conditions) if text]
    return f"With {' and '.join(dict.fromkeys(words))}" if words else ""


def why_not(conditions: tuple[Condition, ...], cases: Mapping[str, str], library: Library) -> str:
    """Why a step is left out: what it is for, and what this bike has instead.

    `conditions` are those that do not hold for `cases`.
    """
    failing = tuple(part for condition in conditions for part in _failing(condition, cases))
    has: list[str] = []
    for condition in failing:
        for attribute_id in dict.fromkeys(question.attribute for question in asked(condition)):
            attribute = library.attributes.get(attribute_id)
            case = cases.get(attribute_id, "")
            if attribute is not None and case in attribute.cases:
                has.append(attribute.cases[case])
    wanted = " and ".join(in_words(condition, library) for condition in failing)
    return f"It is for a bike with {wanted}. This one has {', '.join(dict.fromkeys(has)) or 'none'}."


def _failing(condition: Condition, cases: Mapping[str, str]) -> Iterator[Condition]:
    """The parts of a condition that do not hold; parts that do are no reason."""
    match condition:
        case All(parts):
            for part in parts:
                yield from _failing(part, cases)
        case _:
            try:
                if holds(condition, cases):
                    return
            except UnknownCase:  # what is not known was not what decided
                return
            yield condition


def fill(text: str, values: Mapping[str, str], library: Library) -> str:
    """`text` with each `{{ name }}` replaced by its value, or by the words for a value that is not known.

    Raises:
        KeyError: the name is in neither; sources refuse such a text before it comes here.
    """

    def shown(name: str) -> str:
        return values[name] if name in values else library.named_texts[name].unknown

    return with_values(text, shown)
