"""Quick-release lever: is it closed with enough force, and not with too much?"""

from __future__ import annotations

from builder.checks.judging import at_least, at_most, number_or_none, quantity
from builder.checks.result import Check, CheckResult, Inputs, Provenance, Source, Verdict
from builder.model.units import Unit, write_number

LEVER_SOURCE = Source(
    title="TBIS 15194:2019, which follows EN 15194 and ISO 4210",
    locator="4.3.9.5 c and d, quick-release devices",
    provenance=Provenance.LOOKED_UP,
)
# Forces at a quick-release lever [N], TBIS 15194:2019, 4.3.9.5.
MOST_TO_CLOSE_N, LEAST_TO_OPEN_N = 200.0, 50.0


def quick_release_force(*, closing_n: float | None, opening_n: float | None = None) -> CheckResult:
    """Force to close (and to open) a quick-release lever, at its end, against the standard's limits.

    Source: TBIS 15194:2019, 4.3.9.5: at most 200 N to close, at least 50 N to open. That a lever which closes with
    less than 50 N is too loose is common practice.
    """
    working = [
        f"At most to close: {write_number(MOST_TO_CLOSE_N)} N; at least to open: {write_number(LEAST_TO_OPEN_N)} N"
    ]
    n = write_number
    limit, margin = MOST_TO_CLOSE_N, None
    known = [force for force in (closing_n, opening_n) if force is not None]
    if known and not at_least(min(known), LEAST_TO_OPEN_N):
        limit, margin = LEAST_TO_OPEN_N, min(known) - LEAST_TO_OPEN_N
        working.append(f"Margin: {n(min(known))} − {n(LEAST_TO_OPEN_N)} = {n(margin)} N")
        verdict, advice = Verdict.DOES_NOT_FIT, "Too loose: open the lever, tighten the nut, and close it again."
    elif closing_n is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Hook a luggage scale to the end of the lever and pull it shut: 10 kg on the scale are 98 N."
    else:
        margin = MOST_TO_CLOSE_N - closing_n
        working.append(f"Margin: {n(MOST_TO_CLOSE_N)} − {n(closing_n)} = {n(margin)} N")
        if at_most(closing_n, MOST_TO_CLOSE_N):
            verdict, advice = Verdict.FITS, "The lever is closed with clear effort."
        else:
            verdict, advice = Verdict.DOES_NOT_FIT, "Too tight: back the nut off by a quarter turn and close it again."
    if opening_n is not None:
        working.append(f"To open: {write_number(opening_n)} N")
    return CheckResult(
        check=QUICK_RELEASE_FORCE.name,
        verdict=verdict,
        value=closing_n,
        unit=Unit.NEWTON,
        limit=limit,
        margin=margin,
        working=tuple(working),
        source=str(LEVER_SOURCE),
        advice=advice,
    )


def _run_lever(inputs: Inputs) -> CheckResult:
    return quick_release_force(closing_n=number_or_none(inputs, "closing"), opening_n=number_or_none(inputs, "opening"))


QUICK_RELEASE_FORCE = Check(
    name="quick-release-force",
    family="wheels",
    title="Force of a quick-release lever",
    purpose=(
        "A lever that closes without effort holds nothing; one that can't be closed isn't closed. This tells the span."
    ),
    formula=r"F_{close} \le 200\;\mathrm{N} \qquad F_{open} \ge 50\;\mathrm{N}",
    inputs=(
        quantity("closing", "force at the end of the lever to close it", Unit.NEWTON, 1, 600, optional=True),
        quantity("opening", "force at the end of the lever to open it", Unit.NEWTON, 1, 600, optional=True),
    ),
    source=LEVER_SOURCE,
    run=_run_lever,
    at_verdict={
        Verdict.FITS: "Closed with clear effort. See that the lever points where nothing can catch it.",
        Verdict.DOES_NOT_FIT: (
            "Open it, turn the nut, close it again. If it won't come right, don't ride: see a mechanic."
        ),
        Verdict.MEASURE_FIRST: "Pull the end of the lever with a luggage scale: 10 kg are 98 N.",
    },
    example={"closing": "120 N", "opening": "80 N"},
    notes=(
        "The standard asks of a properly set lever at most 200 N to close and at least 50 N to open. The palm should "
        "feel it from half way on, and the lever leaves a print in the hand (common practice)."
    ),
)

CHECKS = (QUICK_RELEASE_FORCE,)
