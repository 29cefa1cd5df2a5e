"""Thread engagement: how deep a bolt must go into the part that it is screwed into."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.checks.threads import read_thread
from builder.model.facts import ThreadedMaterial
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number, write_quantity

SOURCE = Source(
    title="Workshop rule: so many diameters of thread by the material that holds it",
    provenance=Provenance.COMMON_PRACTICE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Engagement:
    """Engaged thread in bolt diameters: the least that is used anywhere, and what is usual."""

    least_diameters: float
    usual_diameters: float


def engagement_for(material: ThreadedMaterial) -> Engagement:
    """The spread of the workshop rule for a material. Common practice, no source; sources differ by a third."""
    match material:
        case ThreadedMaterial.STEEL:
            return Engagement(least_diameters=0.8, usual_diameters=1.0)
        case ThreadedMaterial.TITANIUM:
            return Engagement(least_diameters=1.0, usual_diameters=1.25)
        case ThreadedMaterial.BRASS:
            return Engagement(least_diameters=1.2, usual_diameters=1.5)
        case ThreadedMaterial.ALUMINIUM:
            return Engagement(least_diameters=1.2, usual_diameters=1.5)
        case ThreadedMaterial.MAGNESIUM:
            return Engagement(least_diameters=1.5, usual_diameters=2.0)
        case ThreadedMaterial.PLASTIC:
            return Engagement(least_diameters=2.0, usual_diameters=2.5)


@check(
    family=Family.BOLTS,
    title="Thread engagement",
    purpose="A bolt that bites too few turns tears the thread out of a light part. This says how deep it must go.",
    formula=r"L \ge k\,d",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "Enough thread carries the bolt.",
        Verdict.WITH_CARE: "Less than usual, within the spread of practice. Fit a longer bolt where the hole allows.",
        Verdict.DOES_NOT_FIT: "Don't tighten: the thread can strip. Fit a longer bolt, or have an insert fitted.",
        Verdict.MEASURE_FIRST: "Count the turns from first bite until the head touches: turns × pitch is the length.",
    },
    example={"thread": "M5", "material": "aluminium", "engaged": "9 mm"},
    drawing="thread-engagement",
    notes=(
        "Diameters of engaged thread by material, common practice: steel 0.8 to 1, titanium 1 to 1.25, brass and "
        "aluminium 1.2 to 1.5 (some say 2 for soft alloys), magnesium 1.5 to 2, plastic 2 to 2.5. A damaged thread, or "
        "one that was cut with too large a drill, holds less. A bolt must not touch the bottom of a blind hole."
    ),
    asked=Asked(force=Force.TELLS),
)
def thread_engagement(
    thread: Annotated[str, Meaning("thread of the bolt, such as M5 or M8x1"), Fact("fastener.thread")],
    material: Annotated[ThreadedMaterial, Meaning("material of the part with the inner thread"), Fact("fastener.into")],
    engaged_mm: Annotated[
        float | None, In(Unit.MILLIMETRE), Bounds(0.5, 80), Meaning("length of thread that is engaged")
    ],
) -> CheckResult:
    """Length of engaged thread against the least for the material.

    Source: common practice.
    """
    rule = engagement_for(material)
    of_bolt = read_thread(thread)
    d = of_bolt.diameter_mm
    least, usual = rule.least_diameters * d, rule.usual_diameters * d
    turns = usual / of_bolt.pitch_mm
    n = write_number
    working = [
        f"Usual in {material}: {n(rule.usual_diameters, 2)} × {n(d)} mm = {n(usual)} mm",
        f"Least in {material}: {n(rule.least_diameters, 2)} × {n(d)} mm = {n(least)} mm",
        f"In turns: {n(usual)} ÷ {n(of_bolt.pitch_mm, 2)} = {n(turns)} turns of the bolt",
    ]
    if engaged_mm is None:
        verdict, margin = Verdict.MEASURE_FIRST, None
        advice = (
            f"Count the whole turns from the first bite until the head touches, and multiply by "
            f"{write_quantity(of_bolt.pitch_mm, Unit.MILLIMETRE, 2)}."
        )
    else:
        margin = engaged_mm - least
        working.append(f"Above the least: {n(engaged_mm)} − {n(least)} = {n(margin)} mm")
        if at_least(engaged_mm, usual):
            verdict, advice = Verdict.FITS, "The thread is deep enough."
        elif at_least(engaged_mm, least):
            verdict = Verdict.WITH_CARE
            advice = f"Short: use a bolt that is {n(usual - engaged_mm)} mm longer if the hole is deep enough for it."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"The thread can strip: at least {write_quantity(least, Unit.MILLIMETRE)} must be engaged."
    return CheckResult(
        verdict=verdict,
        value=engaged_mm,
        unit=Unit.MILLIMETRE,
        limit=least,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(named("usual", usual, Unit.MILLIMETRE), named("turns", turns)),
    )
