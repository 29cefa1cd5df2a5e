"""Torque wrenches: does the range hold a fastener's torque, and how true is a setting?"""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.checks.torque_inputs import TorqueHigh, TorqueLow, WrenchHigh, WrenchLow, range_of
from builder.model.fields import Bounds, In, Meaning
from builder.model.units import Range, Unit, write_number, write_quantity, write_range

TOOL_SOURCE = Source(
    title="ISO 6789, hand torque tools, as a tool's manual restates it",
    locator="greatest permissible deviation; checked from 20 % of the maximum",
    provenance=Provenance.LOOKED_UP_SECONDARY,
)
# ISO 6789: the deviation is stated from 20 % of the tool's maximum; 4 % above 10 N·m of maximum, 6 % up to it.
RATED_FROM = 0.2
SMALL_TOOL_NM = 10.0
SMALL_TOOL_DEVIATION = 6.0
LARGE_TOOL_DEVIATION = 4.0


@check(
    family=Family.TORQUE_TOOLS,
    title="Does the torque wrench reach?",
    purpose="A card may only ask for a torque that a wrench of the workshop can be set to and is rated for.",
    formula=r"\max(T_{min},\; 0.2\,T_{max}) \le T \le T_{max}",
    source=TOOL_SOURCE,
    at_verdict={
        Verdict.FITS: "Set the wrench to the middle of the range.",
        Verdict.WITH_CARE: (
            "The wrench reaches only a part of the range, or only below a fifth of its maximum, where nobody vouches "
            "for it. Set the value given, or take a better suited wrench."
        ),
        Verdict.DOES_NOT_FIT: "No value of the range can be set on this wrench. Take another one.",
    },
    example={"torque-low": "35 N·m", "torque-high": "45 N·m", "wrench-low": "10 N·m", "wrench-high": "60 N·m"},
    drawing="wrench-range",
    notes=(
        "Torque wrenches are checked at 20, 60 and 100 % of their maximum; below 20 % no deviation is stated. "
        "A wrench is best between a third and four fifths of its range (common practice). Have it checked once a year."
    ),
    asked=Asked(force=Force.TELLS),
)
def wrench_range(
    torque_low_nm: TorqueLow,
    torque_high_nm: TorqueHigh,
    wrench_low_nm: WrenchLow,
    wrench_high_nm: WrenchHigh,
) -> CheckResult:
    """Whether a torque wrench reaches a fastener's range, within the part of its own that is rated.

    The value is what to set: the middle of the fastener's range, or the nearest to it that the wrench reaches. The
    limit is the nearer end of the wrench's scale.

    Source: ISO 6789, rated from 20 % of the maximum.
    """
    torque_nm = range_of("torque", torque_low_nm, torque_high_nm)
    wrench_nm = range_of("wrench", wrench_low_nm, wrench_high_nm)
    rated = Range(max(wrench_nm.low, RATED_FROM * wrench_nm.high), wrench_nm.high)
    middle = torque_nm.middle
    reached = min(max(middle, rated.low), rated.high)
    scale = min(max(middle, wrench_nm.low), wrench_nm.high)
    n = write_number
    rated_words = write_range(rated, Unit.NEWTON_METRE)
    if at_most(rated.low, middle) and at_most(middle, rated.high):
        setting, verdict = middle, Verdict.FITS
        advice = f"Set the wrench to {write_quantity(setting, Unit.NEWTON_METRE)}."
    elif torque_nm.holds(reached):
        setting, verdict = reached, Verdict.WITH_CARE
        advice = f"The wrench reaches only part of the range: set it to {write_quantity(setting, Unit.NEWTON_METRE)}."
    elif torque_nm.holds(scale):
        setting, verdict = scale, Verdict.WITH_CARE
        advice = "Below 20 % of its maximum nobody vouches for the wrench's deviation: a smaller wrench is better."
    else:
        setting, verdict = middle, Verdict.DOES_NOT_FIT
        advice = f"Take a torque wrench whose rated range holds {write_quantity(middle, Unit.NEWTON_METRE)}."
    low_margin, high_margin = setting - wrench_nm.low, wrench_nm.high - setting
    near_low = low_margin <= high_margin
    return CheckResult(
        verdict=verdict,
        value=setting,
        unit=Unit.NEWTON_METRE,
        limit=wrench_nm.low if near_low else wrench_nm.high,
        margin=low_margin if near_low else high_margin,
        working=(
            f"20 % of the wrench's maximum: 0.2 × {n(wrench_nm.high)} = {n(RATED_FROM * wrench_nm.high)} N·m",
            f"Rated range: {rated_words}, from the larger of {n(wrench_nm.low)} and "
            f"{n(RATED_FROM * wrench_nm.high)} N·m",
            f"Middle of the fastener's range: ({n(torque_nm.low, 2)} + {n(torque_nm.high, 2)}) ÷ 2 = "
            f"{n(middle, 2)} N·m",
            f"To set: {write_quantity(setting, Unit.NEWTON_METRE, 2)}",
        ),
        advice=advice,
        values=(named("rated-from", rated.low, Unit.NEWTON_METRE),),
    )


def permitted_deviation(wrench_max_nm: float) -> float:
    """Greatest permissible deviation of a setting torque tool [%], by its maximum torque. Source: ISO 6789."""
    return SMALL_TOOL_DEVIATION if at_most(wrench_max_nm, SMALL_TOOL_NM) else LARGE_TOOL_DEVIATION


def torque_band_nm(set_nm: float, deviation_percent: float) -> Range:
    """The true torques that a set value can mean [N·m]. Source: ISO 6789, taken as a share of the set value."""
    share = deviation_percent / 100
    return Range(set_nm * (1 - share), set_nm * (1 + share))


@check(
    family=Family.TORQUE_TOOLS,
    title="How true is the setting?",
    purpose="A wrench that clicks at 5 N·m may mean 4.7 or 5.3. This shows whether that still suits the fastener.",
    formula=r"T \left(1 - \frac{d}{100}\right) \le T_{true} \le T \left(1 + \frac{d}{100}\right)",
    source=TOOL_SOURCE,
    at_verdict={
        Verdict.FITS: "The setting can be relied on.",
        Verdict.WITH_CARE: (
            "The deviation can carry the true torque out of the range, or the setting is below a fifth of the wrench's "
            "maximum. Set nearer the middle, or take a closer wrench."
        ),
        Verdict.DOES_NOT_FIT: "The setting itself is outside the fastener's range. Set it anew.",
    },
    example={"set": "5 N·m", "wrench-high": "10 N·m", "torque-low": "4 N·m", "torque-high": "6 N·m"},
    drawing="wrench-range",
    notes=(
        "6 % for a wrench whose maximum is 10 N·m or less, 4 % above (ISO 6789). The standard takes the deviation "
        "relative to the reading of the reference device, so the band is nominal. A wrench that was dropped, or not "
        "checked for a year, may be far off."
    ),
    asked=Asked(force=Force.TELLS),
)
def torque_band(
    *,
    set_nm: Annotated[
        float | None,
        In(Unit.NEWTON_METRE),
        Bounds(0.1, 1000),
        Meaning("value that the wrench is set to; the middle of the fastener's range if left out"),
    ] = None,
    wrench_high_nm: WrenchHigh,
    torque_low_nm: TorqueLow | None = None,
    torque_high_nm: TorqueHigh | None = None,
    deviation_percent: Annotated[
        float | None, In(Unit.PERCENT), Bounds(0.1, 30), Meaning("greatest deviation, if the wrench's record says it")
    ] = None,
) -> CheckResult:
    """The band of true torque for a set value, held against the fastener's range where one is given.

    The value is half the width of the band.

    Raises:
        InputError: a setting above the wrench's maximum, half a range, or neither setting nor range.

    Source: ISO 6789.
    """
    if (torque_low_nm is None) != (torque_high_nm is None):
        raise InputError("give both 'torque-low' and 'torque-high', or neither")
    torque_nm = None
    if torque_low_nm is not None and torque_high_nm is not None:
        torque_nm = range_of("torque", torque_low_nm, torque_high_nm)
    if set_nm is None:
        if torque_nm is None:
            raise InputError("set is missing: value that the wrench is set to, for instance set=5 N·m")
        set_nm = min(torque_nm.middle, wrench_high_nm)
    if not at_most(set_nm, wrench_high_nm):
        raise InputError(f"set: {set_nm:g} N·m is above the wrench's maximum of {wrench_high_nm:g} N·m")
    deviation = permitted_deviation(wrench_high_nm) if deviation_percent is None else deviation_percent
    band = torque_band_nm(set_nm, deviation)
    n = write_number
    half = set_nm * deviation / 100
    shown = write_range(band, Unit.NEWTON_METRE, 2)
    working = [
        f"Deviation: {n(deviation)} % of {n(set_nm, 2)} N·m = {n(half, 3)} N·m",
        f"From: {n(set_nm, 2)} − {n(half, 3)} = {n(band.low, 2)} N·m",
        f"To: {n(set_nm, 2)} + {n(half, 3)} = {n(band.high, 2)} N·m",
    ]
    verdict, advice, limit, margin = Verdict.FITS, f"The true torque lies between {shown}.", None, None
    if torque_nm is not None:
        above, below = torque_nm.high - set_nm, set_nm - torque_nm.low
        limit, margin = (torque_nm.high, above) if above <= below else (torque_nm.low, below)
        room = margin - half
        wanted = write_range(torque_nm, Unit.NEWTON_METRE, 2)
        working.append(f"To the nearer end of the range: {n(margin, 2)} N·m; less the deviation: {n(room, 2)} N·m")
        if not torque_nm.holds(set_nm):
            verdict, advice = Verdict.DOES_NOT_FIT, f"Set the wrench within {wanted}."
        elif not at_most(0.0, room):
            verdict = Verdict.WITH_CARE
            advice = f"The wrench's deviation can leave {wanted}: set it nearer the middle, or take a closer wrench."
        else:
            advice = f"Whatever the wrench's deviation, the true torque stays within {wanted}."
    if not at_most(RATED_FROM * wrench_high_nm, set_nm) and verdict is Verdict.FITS:
        verdict = Verdict.WITH_CARE
        advice += " The setting is below 20 % of the wrench's maximum, where no deviation is stated."
    return CheckResult(
        verdict=verdict,
        value=half,
        unit=Unit.NEWTON_METRE,
        limit=limit,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=(
            named("low", band.low, Unit.NEWTON_METRE),
            named("high", band.high, Unit.NEWTON_METRE),
            named("deviation", deviation, Unit.PERCENT),
        ),
    )
