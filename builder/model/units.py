"""Units: every quantity of the trade kept in one unit, read from any sensible one.

The factors are those of NIST SP 811 (2008), appendix B; the tests compare them with a general unit library.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from builder.model.written import QuantityError, one_line, taken_apart

__all__ = [
    "Measure",
    "QuantityError",
    "Range",
    "Unit",
    "factor_to",
    "read_measure",
    "read_range",
    "read_value",
    "write_number",
    "write_quantity",
    "write_range",
    "written_units",
]


class Unit(Enum):
    """The one unit in which a quantity of each kind is kept; the value is its printed symbol."""

    MILLIMETRE = "mm"
    METRE = "m"
    SQUARE_METRE = "m²"
    NEWTON_METRE = "N·m"
    NEWTON = "N"
    KILONEWTON = "kN"
    MEGAPASCAL = "MPa"
    BAR = "bar"
    KILOGRAM = "kg"
    KILOGRAM_PER_CUBIC_METRE = "kg/m³"
    KILOMETRE_PER_HOUR = "km/h"
    DEGREE = "deg"
    CELSIUS = "°C"
    ARC_MINUTE = "arcmin"
    WATT = "W"
    PER_MINUTE = "rev/min"
    PERCENT = "%"
    TEETH = "teeth"
    LINKS = "links"
    POINT = "pt"
    MINUTE = "min"
    KILOMETRE = "km"
    MONEY = "€"
    ONE = ""


# Written unit -> (kept unit, factor to it). NIST SP 811 (2008), appendix B.8 and B.9.
_INCH_MM = 25.4
_POUND_KG = 0.45359237
_STANDARD_GRAVITY = 9.80665
_POUND_FORCE_N = _POUND_KG * _STANDARD_GRAVITY
_WRITTEN: dict[str, tuple[Unit, float]] = {
    "mm": (Unit.MILLIMETRE, 1.0),
    "cm": (Unit.MILLIMETRE, 10.0),
    "in": (Unit.MILLIMETRE, _INCH_MM),
    "inch": (Unit.MILLIMETRE, _INCH_MM),
    "ft": (Unit.MILLIMETRE, 12 * _INCH_MM),
    "m": (Unit.METRE, 1.0),
    "km": (Unit.KILOMETRE, 1.0),
    "mi": (Unit.KILOMETRE, 1.609344),
    "m²": (Unit.SQUARE_METRE, 1.0),
    "m2": (Unit.SQUARE_METRE, 1.0),
    "N·m": (Unit.NEWTON_METRE, 1.0),
    "Nm": (Unit.NEWTON_METRE, 1.0),
    "N*m": (Unit.NEWTON_METRE, 1.0),
    "N.m": (Unit.NEWTON_METRE, 1.0),
    "in·lbf": (Unit.NEWTON_METRE, _POUND_FORCE_N * _INCH_MM / 1000),
    "in-lbf": (Unit.NEWTON_METRE, _POUND_FORCE_N * _INCH_MM / 1000),
    "in*lbf": (Unit.NEWTON_METRE, _POUND_FORCE_N * _INCH_MM / 1000),
    "lbf·in": (Unit.NEWTON_METRE, _POUND_FORCE_N * _INCH_MM / 1000),
    "ft·lbf": (Unit.NEWTON_METRE, _POUND_FORCE_N * 12 * _INCH_MM / 1000),
    "ft-lbf": (Unit.NEWTON_METRE, _POUND_FORCE_N * 12 * _INCH_MM / 1000),
    "ft*lbf": (Unit.NEWTON_METRE, _POUND_FORCE_N * 12 * _INCH_MM / 1000),
    "lbf·ft": (Unit.NEWTON_METRE, _POUND_FORCE_N * 12 * _INCH_MM / 1000),
    "kgf·m": (Unit.NEWTON_METRE, _STANDARD_GRAVITY),
    "kgf·cm": (Unit.NEWTON_METRE, _STANDARD_GRAVITY / 100),
    "N": (Unit.NEWTON, 1.0),
    "kgf": (Unit.NEWTON, _STANDARD_GRAVITY),
    "lbf": (Unit.NEWTON, _POUND_FORCE_N),
    "kN": (Unit.KILONEWTON, 1.0),
    "MPa": (Unit.MEGAPASCAL, 1.0),
    "bar": (Unit.BAR, 1.0),
    "kPa": (Unit.BAR, 0.01),
    "psi": (Unit.BAR, _POUND_FORCE_N / (_INCH_MM / 1000) ** 2 / 1e5),
    "kg": (Unit.KILOGRAM, 1.0),
    "g": (Unit.KILOGRAM, 0.001),
    "lb": (Unit.KILOGRAM, _POUND_KG),
    "kg/m³": (Unit.KILOGRAM_PER_CUBIC_METRE, 1.0),
    "kg/m3": (Unit.KILOGRAM_PER_CUBIC_METRE, 1.0),
    "km/h": (Unit.KILOMETRE_PER_HOUR, 1.0),
    "m/s": (Unit.KILOMETRE_PER_HOUR, 3.6),
    "mph": (Unit.KILOMETRE_PER_HOUR, 1.609344),
    "deg": (Unit.DEGREE, 1.0),
    "°": (Unit.DEGREE, 1.0),
    "rad": (Unit.DEGREE, 180 / math.pi),
    "°C": (Unit.CELSIUS, 1.0),
    "arcmin": (Unit.ARC_MINUTE, 1.0),
    "W": (Unit.WATT, 1.0),
    "rev/min": (Unit.PER_MINUTE, 1.0),
    "rpm": (Unit.PER_MINUTE, 1.0),
    "%": (Unit.PERCENT, 1.0),
    "teeth": (Unit.TEETH, 1.0),
    "tooth": (Unit.TEETH, 1.0),
    "T": (Unit.TEETH, 1.0),
    "links": (Unit.LINKS, 1.0),
    "link": (Unit.LINKS, 1.0),
    "pt": (Unit.POINT, 1.0),
    "min": (Unit.MINUTE, 1.0),
    "h": (Unit.MINUTE, 60.0),
    "€": (Unit.MONEY, 1.0),
}
# A metre is a length too, and so is a millimetre: the same kind kept in two units.
_ACROSS: dict[tuple[Unit, Unit], float] = {
    (Unit.METRE, Unit.MILLIMETRE): 1000.0,
    (Unit.MILLIMETRE, Unit.METRE): 0.001,
    (Unit.KILOMETRE, Unit.METRE): 1000.0,
    (Unit.METRE, Unit.KILOMETRE): 0.001,
    (Unit.MILLIMETRE, Unit.KILOMETRE): 1e-6,
    (Unit.KILOMETRE, Unit.MILLIMETRE): 1e6,
    (Unit.POINT, Unit.MILLIMETRE): _INCH_MM / 72,
    (Unit.MILLIMETRE, Unit.POINT): 72 / _INCH_MM,
    (Unit.NEWTON, Unit.KILONEWTON): 0.001,
    (Unit.KILONEWTON, Unit.NEWTON): 1000.0,
    (Unit.DEGREE, Unit.ARC_MINUTE): 60.0,
    (Unit.ARC_MINUTE, Unit.DEGREE): 1 / 60,
    (Unit.BAR, Unit.MEGAPASCAL): 0.1,
    (Unit.MEGAPASCAL, Unit.BAR): 10.0,
    (Unit.PERCENT, Unit.ONE): 0.01,
}
# What a unit that is a word is called when there is one of it.
_ONE_OF = {Unit.TEETH: "tooth", Unit.LINKS: "link"}
_UNITLESS = frozenset({Unit.ONE, Unit.TEETH, Unit.LINKS})

# Other ways to write a unit: a pound beside an inch is one of force, and a dash or a space stands for the dot.
_ALSO: dict[str, str] = {
    '"': "in",
    "inches": "in",
    "lbs": "lb",
    "N m": "N·m",
    "N-m": "N·m",
    "in-lb": "in·lbf",
    "in·lb": "in·lbf",
    "in lb": "in·lbf",
    "in-lbs": "in·lbf",
    "lb-in": "in·lbf",
    "lb·in": "in·lbf",
    "lbf-in": "in·lbf",
    "ft-lb": "ft·lbf",
    "ft·lb": "ft·lbf",
    "ft lb": "ft·lbf",
    "ft-lbs": "ft·lbf",
    "lb-ft": "ft·lbf",
    "lb·ft": "ft·lbf",
    "lbf-ft": "ft·lbf",
    "PSI": "psi",
    "Bar": "bar",
    "BAR": "bar",
}
_WRITTEN |= {also: _WRITTEN[written] for also, written in _ALSO.items()}


@dataclass(frozen=True, slots=True)
class Measure:
    """A value with the tolerance of its measurement, both in the unit that the field's name tells."""

    value: float
    tolerance: float = 0.0

    @property
    def low(self) -> float:
        """The least value that the tolerance allows."""
        return self.value - self.tolerance

    @property
    def high(self) -> float:
        """The greatest value that the tolerance allows."""
        return self.value + self.tolerance


@dataclass(frozen=True, slots=True)
class Range:
    """A span from `low` to `high`, both in the unit that the field's name tells; never low > high."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise QuantityError(f"the range runs backwards: {self.low:g} is more than {self.high:g}")

    @property
    def middle(self) -> float:
        """The value half way between the ends."""
        return (self.low + self.high) / 2

    def holds(self, value: float) -> bool:
        """Whether `value` lies in the span, its ends included."""
        return self.low <= value <= self.high


def written_units(unit: Unit) -> tuple[str, ...]:
    """The written forms that are taken for `unit`: the kept one first, other ways to write the same last."""
    direct = [written for written, (kept, _) in _WRITTEN.items() if kept is unit]
    across = [written for written, (kept, _) in _WRITTEN.items() if (kept, unit) in _ACROSS]
    found = sorted(direct, key=lambda written: written != unit.value) + across
    return tuple(sorted(found, key=lambda written: written in _ALSO))


def factor_to(written: str, unit: Unit) -> float:
    """The factor from a written unit to the kept `unit`.

    Raises:
        QuantityError: an unknown unit, or one of another kind; the message lists what would be taken.
    """
    expected = ", ".join(written_units(unit)[:8])
    if written not in _WRITTEN:
        raise QuantityError(f"unknown unit '{one_line(written)}'; write one of: {expected}")
    kept, factor = _WRITTEN[written]
    if kept is unit:
        return factor
    if (kept, unit) in _ACROSS:
        return factor * _ACROSS[kept, unit]
    if unit in _UNITLESS and kept in _UNITLESS:
        return factor
    raise QuantityError(f"'{written}' is not a unit for this; write one of: {expected or 'a bare number'}")


def _split(text: str, unit: Unit) -> tuple[float, float | None, float | None]:
    """Value or low end, high end, tolerance, all in `unit`."""
    found = taken_apart(text)
    shown = one_line(text)
    if found is None:
        example = f"12 {unit.value}".strip()
        raise QuantityError(f"'{shown}' is not a number with a unit; write for instance '{example}'")
    if not found.first_unit and unit not in _UNITLESS:
        raise QuantityError(f"'{shown}' has no unit; write one of: {', '.join(written_units(unit)[:8])}")
    first = _in_unit(found.first, found.first_unit, unit, shown)
    if found.second is None:
        return first, None, None
    second = _in_unit(found.second, found.second_unit, unit, shown)
    return (first, None, second) if found.tolerant else (first, second, None)


def _in_unit(number: float, written: str, unit: Unit, shown: str) -> float:
    value = number * factor_to(written, unit) if written else number
    if not math.isfinite(value):
        raise QuantityError(f"'{shown}' is too large to be a quantity")
    return value


def read_measure(text: str, unit: Unit) -> Measure:
    """Read `425 mm`, `425 ± 2 mm` or `17 5/16 in ± 1/16 in` in the kept `unit`.

    Raises:
        QuantityError: no number, no unit, a unit of another kind, or a range.
    """
    value, high, tolerance = _split(text, unit)
    if high is not None:
        raise QuantityError(
            f"'{one_line(text)}' is a range; one value is wanted here, such as '{value:g} {unit.value}'"
        )
    if tolerance is not None and tolerance < 0:
        raise QuantityError(f"'{one_line(text)}' has a negative tolerance")
    return Measure(value, tolerance or 0.0)


def read_value(text: str, unit: Unit) -> float:
    """Read `425 mm` in the kept `unit`; a tolerance is refused.

    Raises:
        QuantityError: as `read_measure`, or a tolerance.
    """
    measure = read_measure(text, unit)
    if measure.tolerance:
        raise QuantityError(f"'{one_line(text)}' has a tolerance; a plain value is wanted here")
    return measure.value


def read_range(text: str, unit: Unit) -> Range:
    """Read `35–45 N·m`, `35 to 45 N·m`, or one value as a range of no width, in the kept `unit`.

    Raises:
        QuantityError: no number, no unit, a unit of another kind, or ends the wrong way round.
    """
    low, high, tolerance = _split(text, unit)
    if tolerance is not None:
        return Range(low - tolerance, low + tolerance)
    return Range(low, low if high is None else high)


def write_number(value: float, decimals: int = 1) -> str:
    """A number for the reader: at most `decimals` places, no trailing zeros, a true minus sign."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if text in ("-0", ""):
        text = "0"
    return text.replace("-", "−")


def write_quantity(value: float, unit: Unit, decimals: int = 1) -> str:
    """A quantity for the reader, with a no-break space before the unit (SI Brochure, 9th edition, 5.4.3)."""
    number = write_number(value, decimals)
    if unit is Unit.ONE:
        return number
    if unit is Unit.DEGREE:
        return f"{number}°"
    name = _ONE_OF.get(unit, unit.value) if number in ("1", "−1") else unit.value
    return f"{number}\u00a0{name}"


def write_range(span: Range, unit: Unit, decimals: int = 1) -> str:
    """A range for the reader, `35 to 45 N·m`; one value where both ends are the same."""
    low, high = write_number(span.low, decimals), write_number(span.high, decimals)
    if low == high:
        return write_quantity(span.low, unit, decimals)
    return f"{low} to {write_quantity(span.high, unit, decimals)}"
