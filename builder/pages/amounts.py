"""How quantities are shown on pages and cards: always through `builder.model.units`, with places that suit the unit."""

from __future__ import annotations

from builder.model.units import Range, Unit, write_number, write_quantity, write_range

_PLACES = {
    Unit.ONE: 2,
    Unit.PERCENT: 2,
    Unit.METRE: 2,
    Unit.TEETH: 0,
    Unit.LINKS: 2,
    Unit.WATT: 0,
    Unit.PER_MINUTE: 0,
    Unit.NEWTON: 0,
    Unit.MONEY: 2,
    Unit.MILLIMETRE: 2,
    Unit.BAR: 2,
}


def amount(value: float | None, unit: Unit) -> str:
    """A quantity such as `51 teeth`; empty where it is not known."""
    if value is None:
        return ""
    return write_quantity(value, unit, _PLACES.get(unit, 1))


def torque(span: Range) -> str:
    """A torque range such as `35 to 45 N·m`."""
    return write_range(span, Unit.NEWTON_METRE)


def minutes(value: float) -> str:
    """A time such as `75 min` or `2 h 15 min`."""
    whole = round(value)
    if whole < 120:
        return write_quantity(whole, Unit.MINUTE, 0)
    hours, rest = divmod(whole, 60)
    return f"{write_number(hours, 0)}\u00a0h" + (f" {write_quantity(rest, Unit.MINUTE, 0)}" if rest else "")


def duration(value: float) -> str:
    """A time as ISO 8601 writes it, `PT1H15M`, for machine-readable data."""
    hours, rest = divmod(round(value), 60)
    return "PT" + (f"{hours}H" if hours else "") + (f"{rest}M" if rest or not hours else "")


def step_list(numbers: tuple[int, ...]) -> str:
    """Step numbers with runs joined: `3, 5 to 7`."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = []
    for run in runs:
        if len(run) == 1:
            parts.append(str(run[0]))
        elif len(run) == 2:
            parts += [str(run[0]), str(run[1])]
        else:
            parts.append(f"{run[0]} to {run[-1]}")
    return ", ".join(parts)
