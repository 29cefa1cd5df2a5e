"""Tyre pressure: the lowest of the limits that tyre, rim and a rim without hooks set."""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.model.facts import Fitted
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, factor_to, write_number, write_quantity

SOURCE = Source(
    title="ISO 4210-1, maximum inflation pressure, as adopted in TBIS 4210-1:2018",
    locator="definition 2.27 and its note: the lower of tyre and rim",
    provenance=Provenance.LOOKED_UP,
)
HOOKLESS_SOURCE = Source(
    title="ETRTO and ISO 5775-2, rims without hooks", locator="5 bar", provenance=Provenance.FROM_MEMORY
)
HOOKLESS_BAR = 5.0
# A pressure below this share of the tyre's highest is doubtful where the tyre states no least one. Our own guard.
_LOW_SHARE = 0.25


class Bead(StrEnum):
    """How the rim holds the tyre's bead."""

    HOOKED = "hooked"
    HOOKLESS = "hookless"


def bead_of(hooks: Fitted) -> Bead:
    """How a rim holds the bead, by whether it has hooks."""
    return Bead.HOOKED if hooks is Fitted.FITTED else Bead.HOOKLESS


def highest_pressure_bar(tyre_bar: float, rim_bar: float | None, bead: Bead) -> float:
    """The highest pressure allowed [bar]: the lowest of the limits that are known.

    Source: ISO 4210-1, 2.27, note; 5 bar on rims without hooks, ETRTO from memory.
    """
    limits = [tyre_bar]
    if rim_bar is not None:
        limits.append(rim_bar)
    if bead is Bead.HOOKLESS:
        limits.append(HOOKLESS_BAR)
    return min(limits)


@check(
    family=Family.TYRES,
    title="Highest tyre pressure",
    purpose="Tyre and rim each state a limit, and a rim without hooks has one by standard. The lowest of them counts.",
    formula=r"p \le \min(p_{tyre},\; p_{rim},\; p_{hookless})",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "Pump it up, with an eye on the gauge.",
        Verdict.WITH_CARE: (
            "Keep above the tyre's least pressure. On a rim without hooks, make sure that the tyre is marked for it."
        ),
        Verdict.MEASURE_FIRST: "Look for the rim's own limit before you pump near the tyre's.",
        Verdict.DOES_NOT_FIT: "Never above the lowest limit. Let air out, or take a tyre and a rim that suit the wish.",
    },
    example={"pressure": "4.5 bar", "tyre-max": "6 bar", "rim-max": "5 bar"},
    notes=(
        "Gauges of floor pumps err by a tenth and more. The 5 bar for rims without hooks are from memory; some makers "
        "state less, and theirs goes first. Less than a quarter of the tyre's highest pressure is called little: our "
        "own guard, no source. Protect eyes and ears when a tubeless tyre is seated."
    ),
    asked=Asked(cures=("{end}-tyre",)),
)
def tyre_pressure(
    *,
    tyre_max_bar: Annotated[
        float, Meaning("highest pressure marked on the tyre"), Fact("{end}-tyre.greatest-pressure")
    ],
    pressure_bar: Annotated[float | None, In(Unit.BAR), Bounds(0.2, 16), Meaning("pressure that is wanted")] = None,
    rim_max_bar: Annotated[
        float | None, Meaning("highest pressure marked on the rim"), Fact("{end}-rim.greatest-pressure")
    ],
    tyre_min_bar: Annotated[
        float | None, Meaning("least pressure marked on the tyre"), Fact("{end}-tyre.least-pressure")
    ] = None,
    bead: Annotated[
        Bead, Meaning("how the rim holds the bead"), Fact("{end}-rim.hooks", by=bead_of, called="hooks of the rim")
    ] = Bead.HOOKED,
) -> CheckResult:
    """A wanted pressure against the lowest limit; without one, the limit itself is the value.

    Raises:
        InputError: the least pressure of the tyre is above the highest.

    Source: ISO 4210-1, 2.27; ETRTO for rims without hooks, from memory.
    """
    highest = highest_pressure_bar(tyre_max_bar, rim_max_bar, bead)
    if tyre_min_bar is not None and tyre_min_bar > tyre_max_bar:
        raise InputError(f"tyre-min: {tyre_min_bar:g} bar is more than tyre-max, {tyre_max_bar:g} bar")
    n = write_number
    # A limit is rounded down, so that what is shown never lies above it.
    bar, psi = math.floor(round(100 * highest, 6)) / 100, math.floor(round(highest / factor_to("psi", Unit.BAR), 6))
    shown = f"{write_quantity(bar, Unit.BAR, 2)} ({psi} psi)"
    working = [
        f"Tyre: {n(tyre_max_bar, 2)} bar",
        "Rim: not known" if rim_max_bar is None else f"Rim: {n(rim_max_bar, 2)} bar",
        *((f"Rim without hooks: {n(HOOKLESS_BAR)} bar",) if bead is Bead.HOOKLESS else ()),
        f"Lowest of these: {shown}",
    ]
    value = highest if pressure_bar is None else pressure_bar
    limit, margin = highest, highest - value
    if pressure_bar is not None:
        working.append(f"Margin: {n(highest, 2)} − {n(pressure_bar, 2)} = {n(margin, 2)} bar")
    hookless = " A rim without hooks takes only tyres that are marked for it." if bead is Bead.HOOKLESS else ""
    if not at_most(value, highest):
        verdict, advice = Verdict.DOES_NOT_FIT, f"Pump to {shown} at most."
    elif tyre_min_bar is not None and not at_least(highest, tyre_min_bar):
        verdict = Verdict.DOES_NOT_FIT
        limit, margin = tyre_min_bar, highest - tyre_min_bar
        advice = f"The tyre asks for {n(tyre_min_bar, 2)} bar at least, more than is allowed here: take another tyre."
    elif tyre_min_bar is not None and not at_least(value, tyre_min_bar):
        verdict, advice = Verdict.WITH_CARE, f"Less than the tyre asks for: pump to {n(tyre_min_bar, 2)} bar at least."
    elif tyre_min_bar is None and not at_least(value, _LOW_SHARE * tyre_max_bar):
        # So little is no question of the rim's limit, known or not.
        verdict = Verdict.WITH_CARE
        advice = f"So little that the tyre may fold: read its least pressure, and pump to {shown} at most."
    elif rim_max_bar is None:
        verdict = Verdict.MEASURE_FIRST
        advice = f"Look up the highest pressure of the rim, on the rim or at its maker; by the tyre, {shown} at most."
    elif hookless:
        verdict, advice = Verdict.WITH_CARE, f"Pump to {shown} at most."
    else:
        verdict, advice = Verdict.FITS, f"Pump to {shown} at most."
    return CheckResult(
        verdict=verdict,
        value=value,
        unit=Unit.BAR,
        limit=limit,
        margin=margin,
        working=tuple(working),
        source=f"{SOURCE}; {HOOKLESS_SOURCE}" if hookless else str(SOURCE),
        advice=advice + hookless,
        values=(named("highest-allowed", highest, Unit.BAR),),
    )
