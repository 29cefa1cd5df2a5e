"""Quick-release lever: is it closed with enough force, and not with too much?"""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, at_most
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number

LEVER_SOURCE = Source(
    title="TBIS 15194:2019, which follows EN 15194 and ISO 4210",
    locator="4.3.9.5 c and d, quick-release devices",
    provenance=Provenance.LOOKED_UP,
)
# Forces at a quick-release lever [N], TBIS 15194:2019, 4.3.9.5.
MOST_TO_CLOSE_N, LEAST_TO_OPEN_N = 200.0, 50.0


@check(
    family=Family.WHEELS,
    title="Force of a quick-release lever",
    purpose="A lever that closes without effort holds nothing; one that can't be closed isn't closed.",
    formula=r"F_{close} \le 200\;\mathrm{N} \qquad F_{open} \ge 50\;\mathrm{N}",
    source=LEVER_SOURCE,
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
    asked=Asked(force=Force.CONDITION, only={"{end}-hub.axle": ("quick-release",)}),
)
def quick_release_force(
    closing: Annotated[
        float | None, Meaning("force at the end of the lever to close it"), Fact("measured.{end}-lever-closing")
    ],
    opening: Annotated[
        float | None, Meaning("force at the end of the lever to open it"), Fact("measured.{end}-lever-opening")
    ],
) -> CheckResult:
    """Force to close and to open a quick-release lever [N], at its end, against the standard's limits.

    Source: TBIS 15194:2019, 4.3.9.5: at most 200 N to close, at least 50 N to open.
    """
    n = write_number
    working = [f"At most to close: {n(MOST_TO_CLOSE_N)} N; at least to open: {n(LEAST_TO_OPEN_N)} N"]
    limit, margin = MOST_TO_CLOSE_N, None
    if closing is not None:
        margin = MOST_TO_CLOSE_N - closing
        working.append(f"To close: {n(MOST_TO_CLOSE_N)} − {n(closing)} = {n(margin)} N to spare")
    if opening is not None:
        working.append(f"To open: {n(opening)} − {n(LEAST_TO_OPEN_N)} = {n(opening - LEAST_TO_OPEN_N)} N to spare")
    if opening is not None and not at_least(opening, LEAST_TO_OPEN_N):
        limit, margin = LEAST_TO_OPEN_N, opening - LEAST_TO_OPEN_N
        verdict, advice = Verdict.DOES_NOT_FIT, "Too loose: open the lever, tighten the nut, and close it again."
    elif closing is not None and not at_most(closing, MOST_TO_CLOSE_N):
        verdict, advice = Verdict.DOES_NOT_FIT, "Too tight: back the nut off by a quarter turn and close it again."
    elif opening is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Hook a luggage scale to the end of the lever and pull it open: it takes 50 N, 5.1 kg, or more."
    elif closing is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Hook a luggage scale to the end of the lever and pull it shut: 10 kg on the scale are 98 N."
    else:
        verdict, advice = Verdict.FITS, "The lever is closed with clear effort."
    return CheckResult(
        verdict=verdict,
        value=closing,
        unit=Unit.NEWTON,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
    )
