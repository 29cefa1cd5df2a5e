"""Tyre pressure: the lowest of the limits that tyre, rim and a rim without hooks set."""

from __future__ import annotations

from enum import StrEnum

from builder.checks.judging import at_least, at_most, choice, named, number, number_or_none, quantity, word
from builder.checks.result import Check, CheckResult, InputError, Inputs, Provenance, Source, Verdict
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


class Bead(StrEnum):
    """How the rim holds the tyre's bead."""

    HOOKED = "hooked"
    HOOKLESS = "hookless"


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


def tyre_pressure(
    *,
    pressure_bar: float | None,
    tyre_bar: float,
    rim_bar: float | None = None,
    least_bar: float | None = None,
    bead: Bead = Bead.HOOKED,
) -> CheckResult:
    """A wanted pressure against the lowest limit; without one, the limit itself is the value.

    Args:
        pressure_bar: what is to be pumped in [bar], None if only the limit is asked for.
        tyre_bar, rim_bar: limits marked on tyre and rim [bar].
        least_bar: least pressure marked on the tyre [bar].
        bead: whether the rim has hooks.

    Raises:
        InputError: the least pressure of the tyre is above the highest.

    Source: ISO 4210-1, 2.27; ETRTO for rims without hooks, from memory.
    """
    highest = highest_pressure_bar(tyre_bar, rim_bar, bead)
    if least_bar is not None and least_bar > tyre_bar:
        raise InputError(f"tyre-min: {least_bar:g} bar is more than tyre-max, {tyre_bar:g} bar")
    n = write_number
    shown = f"{write_quantity(highest, Unit.BAR)} ({n(highest / factor_to('psi', Unit.BAR), 0)} psi)"
    working = [
        f"Tyre: {n(tyre_bar, 2)} bar",
        "Rim: nothing marked" if rim_bar is None else f"Rim: {n(rim_bar, 2)} bar",
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
    elif least_bar is not None and not at_least(highest, least_bar):
        verdict = Verdict.DOES_NOT_FIT
        limit, margin = least_bar, highest - least_bar
        advice = f"The tyre asks for {n(least_bar, 2)} bar at least, more than is allowed here: take another tyre."
    elif least_bar is not None and not at_least(value, least_bar):
        verdict, advice = Verdict.WITH_CARE, f"Less than the tyre asks for: pump to {n(least_bar, 2)} bar at least."
    elif hookless:
        verdict, advice = Verdict.WITH_CARE, f"Pump to {shown} at most."
    else:
        verdict, advice = Verdict.FITS, f"Pump to {shown} at most."
    return CheckResult(
        check=TYRE_PRESSURE.name,
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


def _run(inputs: Inputs) -> CheckResult:
    return tyre_pressure(
        pressure_bar=number_or_none(inputs, "pressure"),
        tyre_bar=number(inputs, "tyre-max"),
        rim_bar=number_or_none(inputs, "rim-max"),
        least_bar=number_or_none(inputs, "tyre-min"),
        bead=Bead(word(inputs, "bead")),
    )


TYRE_PRESSURE = Check(
    name="tyre-pressure",
    family="tyres",
    title="Highest tyre pressure",
    purpose="Tyre and rim each state a limit, and a rim without hooks has one by standard. The lowest of them counts.",
    formula=r"p \le \min(p_{tyre},\; p_{rim},\; p_{hookless})",
    inputs=(
        quantity("tyre-max", "highest pressure marked on the tyre", Unit.BAR, 0.5, 16),
        quantity("pressure", "pressure that is wanted", Unit.BAR, 0.2, 16, optional=True),
        quantity("rim-max", "highest pressure marked on the rim", Unit.BAR, 0.5, 16, optional=True),
        quantity("tyre-min", "least pressure marked on the tyre", Unit.BAR, 0.2, 16, optional=True),
        choice("bead", "how the rim holds the bead", tuple(Bead), default=Bead.HOOKED),
    ),
    source=SOURCE,
    run=_run,
    at_verdict={
        Verdict.FITS: "Pump it up, with an eye on the gauge.",
        Verdict.WITH_CARE: (
            "Keep above the tyre's least pressure. On a rim without hooks, make sure that the tyre is marked for it."
        ),
        Verdict.DOES_NOT_FIT: "Never above the lowest limit. Let air out, or take a tyre and a rim that suit the wish.",
    },
    example={"pressure": "4.5 bar", "tyre-max": "6 bar", "rim-max": "5 bar"},
    notes=(
        "Gauges of floor pumps err by a tenth and more. The 5 bar for rims without hooks are from memory; some makers "
        "state less, and theirs goes first. Protect eyes and ears when a tubeless tyre is seated."
    ),
)

CHECKS = (TYRE_PRESSURE,)
