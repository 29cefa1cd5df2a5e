"""A gear hub's limit: the least ratio of chainring to sprocket that its maker allows."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.inputs import SmallestRing, Teeth
from builder.checks.judging import at_least, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number


@check(
    family=Family.GEARS,
    title="Least ratio in front of a gear hub",
    purpose=(
        "The lower the ratio of chainring to sprocket, the harder the rider's legs twist the gears inside a hub. "
        "Its maker states how low the ratio may be; below it the hub breaks, and no guarantee holds."
    ),
    formula=r"\frac{R}{S} \ge i_{least}",
    source=Source(title="Limit that the maker of the hub states", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Use ring and sprocket.",
        Verdict.DOES_NOT_FIT: "Take a larger ring or a smaller sprocket, or a hub that allows less.",
        Verdict.MEASURE_FIRST: "Look the limit up in the papers of the hub's maker before a sprocket is bought.",
    },
    example={"ring": "38", "sprocket": "20", "least": "1.8"},
    notes="R is the ring, S the sprocket, i the ratio. The limit is often lower for heavy riders, cargo and motors.",
    asked=Asked(surely={"worked-out.transmission": ("hub-gear",)}, cures=("crankset",)),
)
def hub_gear_ratio(
    ring: SmallestRing,
    sprocket: Annotated[
        Teeth, Meaning("teeth of the sprocket"), Fact("cassette.sprockets", max, called="largest sprocket")
    ],
    least: Annotated[
        float | None, Meaning("least ratio that the hub's maker allows"), Fact("rear-hub.least-primary-ratio")
    ],
) -> CheckResult:
    """Ratio of ring to sprocket against the least that the hub allows. Source: the hub's maker."""
    ratio = ring / sprocket
    working = [f"Ratio: {ring} / {sprocket} = {write_number(ratio, 3)}"]
    if least is None:
        verdict, advice = Verdict.MEASURE_FIRST, "The hub's least ratio is not known: its maker states it."
    else:
        working.append(f"Above the least: {write_number(ratio, 3)} − {write_number(least, 3)}")
        if at_least(ratio, least):
            verdict, advice = Verdict.FITS, "The hub allows this ratio."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Too low for the hub: with this ring at most {int(ring / least)} teeth at the rear."
    return CheckResult(
        verdict=verdict,
        value=ratio,
        unit=Unit.ONE,
        limit=least,
        margin=None if least is None else ratio - least,
        working=tuple(working),
        advice=advice,
        values=(named("smallest-ring", float(-(-sprocket * (least or 0.0) // 1)), Unit.TEETH),),
    )
