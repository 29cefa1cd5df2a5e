"""What the checks of several families share: taking an input by its name, and holding a value against a limit."""

from __future__ import annotations

from builder.checks.result import Input, InputError, Inputs, Kind, NamedValue, Value
from builder.model.units import Unit

# Trigonometry can differ in the last bits from one machine to the next, so a threshold is never compared bare.
_DECIMALS = 9


def at_most(value: float, limit: float) -> bool:
    """Whether `value` is `limit` or less, the last bits of the arithmetic left out."""
    return round(value - limit, _DECIMALS) <= 0


def at_least(value: float, limit: float) -> bool:
    """Whether `value` is `limit` or more, the last bits of the arithmetic left out."""
    return at_most(limit, value)


def number(inputs: Inputs, name: str) -> float:
    """The number given for `name`.

    Raises:
        InputError: nothing, or no number, is given.
    """
    value = number_or_none(inputs, name)
    if value is None:
        raise InputError(f"'{name}' is missing")
    return value


def number_or_none(inputs: Inputs, name: str) -> float | None:
    """The number given for `name`, or None where it has still to be measured.

    Raises:
        InputError: what is given is no number.
    """
    value = inputs.get(name)
    if value is None:
        return None
    if isinstance(value, str | tuple):
        raise InputError(f"'{name}' is not a number: {value}")
    return float(value)


def whole(inputs: Inputs, name: str) -> int:
    """The whole number given for `name`.

    Raises:
        InputError: nothing, or no whole number, is given.
    """
    value = number(inputs, name)
    if value != int(value):
        raise InputError(f"'{name}' is not a whole number: {value:g}")
    return int(value)


def wholes(inputs: Inputs, name: str) -> tuple[float, ...]:
    """The list of whole numbers given for `name`.

    Raises:
        InputError: nothing, or no list, is given.
    """
    value = inputs.get(name)
    if not isinstance(value, tuple):
        raise InputError(f"'{name}' is not a list of whole numbers")
    return value


def word(inputs: Inputs, name: str) -> str:
    """The text or the choice given for `name`.

    Raises:
        InputError: nothing, or no text, is given.
    """
    value = inputs.get(name)
    if not isinstance(value, str):
        raise InputError(f"'{name}' is missing" if value is None else f"'{name}' is not a word: {value}")
    return value


def quantity(
    name: str,
    words: str,
    unit: Unit,
    low: float,
    high: float,
    *,
    default: Value | None = None,
    optional: bool = False,
) -> Input:
    """An input with a unit and the range in which it is taken."""
    return Input(name=name, words=words, unit=unit, low=low, high=high, default=default, optional=optional)


def choice(name: str, words: str, choices: tuple[str, ...], *, default: str | None = None) -> Input:
    """An input that is one of a few words."""
    return Input(name=name, words=words, kind=Kind.CHOICE, choices=choices, default=default)


def text(name: str, words: str) -> Input:
    """An input that is read as text, such as a thread or a colour."""
    return Input(name=name, words=words, kind=Kind.TEXT)


def named(name: str, value: float, unit: Unit = Unit.ONE) -> NamedValue:
    """A further result of a check."""
    return NamedValue(name=name, value=value, unit=unit)
