"""Round parts in round clamps: post in seat tube, bar in stem, stem on steerer."""

from __future__ import annotations

from enum import StrEnum

from builder.checks.judging import at_most, choice, number, number_or_none, quantity, word
from builder.checks.result import Check, CheckResult, Inputs, Provenance, Source, Verdict
from builder.model.units import Unit, write_number

SOURCE = Source(
    title="Workshop rule: clamp and part of one nominal diameter, or a shim made for the pair",
    provenance=Provenance.COMMON_PRACTICE,
)
# Posts come in steps of 0.2 mm, and a wrong step cracks or slips: half a step is the most that passes. Common practice.
SAME_MM = 0.1
_THINNEST_SHIM_MM = 0.5
_THICKEST_SHIM_MM = 5.0


class Joint(StrEnum):
    """Which round part sits in which clamp."""

    POST_IN_SEAT_TUBE = "post-in-seat-tube"
    BAR_IN_STEM = "bar-in-stem"
    STEM_ON_STEERER = "stem-on-steerer"


def clamp_diameter(*, joint: Joint, clamp_mm: float | None, part_mm: float) -> CheckResult:
    """Inner diameter of a clamp or tube against the diameter of the part in it; the value is the play between them.

    Args:
        joint: which parts they are.
        clamp_mm: inner diameter of stem or seat tube [mm], None where it has still to be measured.
        part_mm: outer diameter of bar, steerer or post [mm].

    Source: common practice.
    """
    n = write_number
    play = None if clamp_mm is None else clamp_mm - part_mm
    limit, margin = SAME_MM, None
    working = [f"Same nominal diameter: within {n(SAME_MM)} mm"]
    if clamp_mm is None or play is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Read the diameter stamped on the part, or measure the bore with a calliper at two places."
    else:
        shim = play / 2
        margin = SAME_MM - abs(play)
        working.append(f"Play: {n(clamp_mm, 2)} − {n(part_mm, 2)} = {n(play, 2)} mm")
        if at_most(abs(play), SAME_MM):
            verdict, advice = Verdict.FITS, "One nominal diameter."
        elif play < 0:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"The part is {n(-play, 2)} mm too thick: take one of {n(clamp_mm, 2)} mm. Never spread or sand."
        elif at_most(_THINNEST_SHIM_MM, shim) and at_most(shim, _THICKEST_SHIM_MM):
            working.append(f"Wall of a shim: {n(play, 2)} ÷ 2 = {n(shim, 2)} mm")
            limit, margin = 2 * _THICKEST_SHIM_MM, 2 * _THICKEST_SHIM_MM - play
            verdict = Verdict.WITH_CARE
            advice = f"Only with a shim made for this pair, {n(shim, 2)} mm thick, and never a piece of tin."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"It would slip or crack in the clamp: take a part of {n(clamp_mm, 2)} mm."
    return CheckResult(
        check=CLAMP_DIAMETER.name,
        verdict=verdict,
        value=play,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin,
        working=(f"Joint: {joint}", *working),
        source=str(SOURCE),
        advice=advice,
    )


def _run(inputs: Inputs) -> CheckResult:
    return clamp_diameter(
        joint=Joint(word(inputs, "joint")), clamp_mm=number_or_none(inputs, "clamp"), part_mm=number(inputs, "part")
    )


CLAMP_DIAMETER = Check(
    name="clamp-diameter",
    family="cockpit",
    title="Clamp and part diameter",
    purpose=(
        "A bar, a steerer or a seat post must have the diameter of its clamp: bolts don't make up for a wrong size."
    ),
    formula=r"|d_{clamp} - d_{part}| \le 0.1\;\mathrm{mm}",
    inputs=(
        choice("joint", "which parts they are", tuple(Joint)),
        quantity("part", "outer diameter of bar, steerer or post", Unit.MILLIMETRE, 15, 60),
        quantity("clamp", "inner diameter of stem or seat tube", Unit.MILLIMETRE, 15, 60, optional=True),
    ),
    source=SOURCE,
    run=_run,
    at_verdict={
        Verdict.FITS: "Clean both, use grease or paste as the makers say, tighten to the torque.",
        Verdict.WITH_CARE: "Take a shim that is made for the pair, as long as the clamp. None between carbon parts.",
        Verdict.DOES_NOT_FIT: "Take a part of the clamp's diameter. Bar, stem and post carry the rider.",
        Verdict.MEASURE_FIRST: "Read the stamped diameter, or measure with a calliper.",
    },
    example={"joint": "post-in-seat-tube", "part": "27.2 mm", "clamp": "27.2 mm"},
    notes=(
        "Usual bars: 25.4, 26.0, 31.8 and 35 mm; steerers 25.4 and 28.6 mm; posts 25.4 to 34.9 mm in steps of 0.2 mm. "
        "Common practice, no source. 25.4 and 26.0 mm look alike and don't go together."
    ),
)

CHECKS = (CLAMP_DIAMETER,)
