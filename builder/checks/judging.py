"""What the checks of several families share: holding a value against a limit, and naming a further result."""

from __future__ import annotations

from builder.checks.result import NamedValue
from builder.model.units import Unit

# Trigonometry can differ in the last bits from one machine to the next, so a threshold is never compared bare.
_DECIMALS = 9


def at_most(value: float, limit: float) -> bool:
    """Whether `value` is `limit` or less, the last bits of the arithmetic left out."""
    return round(value - limit, _DECIMALS) <= 0


def at_least(value: float, limit: float) -> bool:
    """Whether `value` is `limit` or more, the last bits of the arithmetic left out."""
    return at_most(limit, value)


def named(name: str, value: float, unit: Unit = Unit.ONE) -> NamedValue:
    """A further result of a check."""
    return NamedValue(name=name, value=value, unit=unit)
