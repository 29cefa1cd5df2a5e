"""Ask of torque wrenches when each was last checked, and whether one reaches every torque.

A wrench that has drifted tightens every bolt wrong.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from builder.checks.result import Verdict
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.library import Library
from builder.model.torque import own_figures
from builder.model.units import Unit, write_range
from builder.tailoring.torques import reaches, wrench_for

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
            message=f"the day of the last check is not told: {tool.name}",
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


def torques_are_held(library: Library) -> tuple[Diagnostic, ...]:
    """Every part's own torque that no wrench of the catalogue holds.

    Typical figures are asked of the catalogue at the steps that tighten: see `builder.proof.static`.
    """
    return tuple(
        Diagnostic(
            rule="proof-wrench",
            message=f"no torque wrench of the catalogue holds {write_range(torque, Unit.NEWTON_METRE)} "
            f"for the {fastener.name}",
            at=part.places.of(f"torques.{fastener.id}"),
            hints=("add a wrench whose range holds it, or correct the torque",),
        )
        for part, fastener, torque in own_figures(library)
        if wrench_for(torque, library) is None
    )


def workshop_reaches(library: Library) -> tuple[Diagnostic, ...]:
    """What the workshop's own tools can't do; a workshop that names no tools is not asked."""
    return tuple(_unreached(library))


def _unreached(library: Library) -> Iterator[Diagnostic]:
    """One warning for each kind of thing that the workshop's tools can't do, with the fasteners that wait for it."""
    workshop = library.workshop
    owned = [library.tools[name] for name in workshop.tools if name in library.tools]
    if not owned:
        return
    heads = {head for tool in owned for head in tool.fits}
    driven = {head for tool in owned if tool.driven for head in tool.fits}
    spans = [tool.torque_nm for tool in owned if tool.torque_nm is not None]
    unfit, undriven, unheld = [], [], []
    for fastener in library.fasteners.values():
        if fastener.head not in heads:
            unfit.append(fastener.id)
        elif fastener.torque_nm is not None and fastener.head not in driven:
            undriven.append(fastener.id)
        if fastener.torque_nm is not None and not any(
            reaches(span, fastener.torque_nm) is not Verdict.DOES_NOT_FIT for span in spans
        ):
            unheld.append(fastener.id)
    for names, words in (
        (unfit, "no tool of the workshop fits the head of"),
        (undriven, "no tool of the workshop by which a torque wrench drives the head of"),
        (unheld, "no torque wrench of the workshop reaches the torque of"),
    ):
        if names:
            yield Diagnostic(
                rule="workshop-tools",
                message=f"{words}: {', '.join(names)}",
                at=workshop.places.of("tools"),
                gravity=Gravity.WARNING,
                hints=("add the tool under 'tools' in the workshop's file; cards say what is missing",),
            )
