"""Ask when each torque wrench of the workshop was last checked: a wrench that has drifted tightens every bolt wrong."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.library import Library

# N06. The interval of ISO 6789 (2003 guidance) for users without a procedure of their own; from memory.
MONTHS, CYCLES = 12, 5000
_SOURCE = "N06, house rule after ISO 6789 (from memory)"


def wrenches_are_checked(library: Library) -> tuple[Diagnostic, ...]:
    """Every torque wrench that the workshop owns and whose last check is not told, and dates that are none."""
    return tuple(_findings(library))


def _findings(library: Library) -> Iterator[Diagnostic]:
    workshop = library.workshop
    for name, day in workshop.checked.items():
        if not _is_day(day):
            yield Diagnostic(
                rule="N06",
                message=f"'{day}' is no day on which the wrench '{name}' was checked",
                at=workshop.places.of(f"checked.{name}"),
                label="allowed: a day such as 2026-03-02",
                hints=("write year, month and day", _SOURCE),
            )
    for name in workshop.tools:
        tool = library.tools.get(name)
        if tool is None or tool.torque_nm is None or name in workshop.checked:
            continue
        yield Diagnostic(
            rule="N06",
            message=f"when the {tool.name} was last checked is not told",
            at=workshop.places.of("tools"),
            gravity=Gravity.NOTE,
            label=f"allowed: a check every {MONTHS} months or {CYCLES} cycles",
            hints=(f"write 'checked: {{{name}: YYYY-MM-DD}}' in the workshop's file", _SOURCE),
        )


def _is_day(text: str) -> bool:
    try:
        return datetime.date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False
