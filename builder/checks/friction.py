"""A friction lever: no clicks to agree with, but enough cable to pull for all sprockets."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.inputs import CableRatio, SideBySide, SprocketPitch
from builder.checks.judging import at_least, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number


@check(
    family=Family.SPROCKETS,
    title="Friction lever and its cable",
    purpose=(
        "A lever without clicks goes with any sprockets, if it winds up enough cable to move the derailleur from the "
        "first sprocket to the last."
    ),
    formula=r"a_{whole}\,r \ge (n - 1)\,t",
    source=Source(title="Cable wound up, times the derailleur's ratio", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Use the lever; the rider finds each sprocket by ear.",
        Verdict.DOES_NOT_FIT: "Take a lever with a larger barrel, or fewer sprockets.",
    },
    example={"pull": "30 mm", "ratio": "1.7", "pitch": "5 mm", "sprockets": "7"},
    notes=(
        "a is the cable that the lever winds up from stop to stop, r the derailleur's movement for each unit of cable, "
        "n the number of sprockets, t their spacing."
    ),
    asked=Asked(surely={"rear-shifter.indexing": ("friction",)}, cures=("rear-shifter",)),
)
def friction_lever(
    pull_mm: Annotated[
        float, Meaning("cable that the lever winds up from stop to stop"), Fact("rear-shifter.whole-pull")
    ],
    ratio: CableRatio,
    pitch_mm: SprocketPitch,
    sprockets: SideBySide,
) -> CheckResult:
    """How far the lever moves the derailleur, against the width of the sprockets [mm]. Source: common practice."""
    moved, wanted = pull_mm * ratio, (sprockets - 1) * pitch_mm
    fits = at_least(moved, wanted)
    n = write_number
    return CheckResult(
        verdict=Verdict.FITS if fits else Verdict.DOES_NOT_FIT,
        value=moved,
        unit=Unit.MILLIMETRE,
        limit=wanted,
        margin=moved - wanted,
        working=(
            f"The derailleur moves: {n(pull_mm)} mm × {n(ratio, 2)} = {n(moved)} mm",
            f"First to last sprocket: ({sprockets} − 1) × {n(pitch_mm, 2)} = {n(wanted)} mm",
        ),
        advice=(
            "The lever reaches every sprocket."
            if fits
            else f"The lever stops {n(wanted - moved)} mm short of the last sprocket."
        ),
        values=(named("to-spare", moved - wanted, Unit.MILLIMETRE),),
    )
