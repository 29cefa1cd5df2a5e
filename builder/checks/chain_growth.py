"""Chain growth: how much farther the rear axle moves from the bottom bracket over the suspension's travel."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from builder.checks.inputs import CHAINSTAY
from builder.checks.judging import at_most, named, number, number_or_none, quantity
from builder.checks.result import Check, CheckResult, InputError, Inputs, NamedValue, Provenance, Source, Verdict
from builder.model.units import Unit, write_number

_FAMILY = "Sprockets and chain"
# Less than this changes no number of links: a quarter of a millimetre is a fiftieth of a link.
_NONE_MM = 0.25


def _n(value: float, decimals: int = 2) -> str:
    return write_number(value, decimals)


def _answer(check: str, unladen: float, longest: float, working: tuple[str, ...], source: Source) -> CheckResult:
    growth = longest - unladen
    grows = not at_most(growth, _NONE_MM)
    extra: tuple[NamedValue, ...] = (
        named("longest", longest, Unit.MILLIMETRE),
        named("links", 2 * growth / 12.7, Unit.LINKS),
    )
    return CheckResult(
        check=check,
        verdict=Verdict.WITH_CARE if grows else Verdict.FITS,
        value=growth,
        unit=Unit.MILLIMETRE,
        working=(*working, f"Growth: {_n(longest)} − {_n(unladen)} = {_n(growth)} mm"),
        source=str(source),
        advice=(
            f"Size the chain where the axle is farthest away, with growth={_n(growth, 1)}mm: shock let down, frame "
            "compressed."
            if grows
            else "The axle is farthest away with the suspension unladen: size the chain there, and add nothing."
        ),
        values=extra,
    )


_MEASURED_SOURCE = Source(
    title="The longest of the measured axle distances", locator="by definition", provenance=Provenance.DERIVABLE
)


def _measured(inputs: Inputs) -> CheckResult:
    unladen, compressed = number(inputs, "chainstay"), number(inputs, "compressed")
    middle = number_or_none(inputs, "middle")
    measured = (unladen, compressed) if middle is None else (unladen, middle, compressed)
    longest = max(measured)
    working = (
        f"Measured, unladen first: {', '.join(_n(value, 1) for value in measured)} mm",
        f"Longest: {_n(longest, 1)} mm",
    )
    return _answer("chain-growth", unladen, longest, working, _MEASURED_SOURCE)


CHAIN_GROWTH = Check(
    name="chain-growth",
    family=_FAMILY,
    title="Chain growth from measurements",
    purpose=(
        "On a bike with rear suspension the axle moves away from the bottom bracket as the frame is compressed. A "
        "chain that is sized unladen can then be too short and tear the derailleur off."
    ),
    formula=r"g = \max(C_0, C_1, C_2) - C_0",
    inputs=(
        CHAINSTAY,
        quantity("compressed", "the same distance with the suspension fully compressed", Unit.MILLIMETRE, 250, 900),
        quantity("middle", "the same distance at half the travel", Unit.MILLIMETRE, 250, 900, optional=True),
    ),
    source=_MEASURED_SOURCE,
    run=_measured,
    at_verdict={
        Verdict.FITS: "Size the chain with the suspension unladen.",
        Verdict.WITH_CARE: "Give the growth to the chain-length check, or let the shock down and size it there.",
    },
    example={"chainstay": "435 mm", "compressed": "449 mm", "middle": "444 mm"},
    drawing="chain-growth",
    notes=(
        "C0 is the unladen distance, C1 the one at half the travel, C2 the one fully compressed. Measure from centre "
        "to centre, along a straight line. Let the air out of the shock, or take its spring pressure off, as its maker "
        "says. On some linkages the axle comes back at the end of the travel: measure the middle too."
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AxlePath:
    """The arc of a rear axle about a single pivot: where the axle is farthest from the bottom bracket."""

    unladen_mm: float
    compressed_mm: float
    longest_mm: float
    travel_at_longest_mm: float
    arm_mm: float


def single_pivot_path(
    chainstay_mm: float, axle_above_mm: float, pivot_ahead_mm: float, pivot_above_mm: float, travel_mm: float
) -> AxlePath:
    """The longest distance from the bottom bracket to an axle that swings about one pivot.

    The bottom bracket is the origin; the axle begins behind it.

    Args:
        chainstay_mm: bottom bracket to axle, unladen [mm].
        axle_above_mm: axle above the bottom bracket, unladen [mm]; below is negative.
        pivot_ahead_mm: pivot ahead of the bottom bracket [mm]; behind is negative.
        pivot_above_mm: pivot above the bottom bracket [mm].
        travel_mm: how far the axle rises [mm].

    Raises:
        InputError: the arm can't rise so far.

    Source: plane geometry, a point on a circle.
    """
    if abs(axle_above_mm) >= chainstay_mm:
        raise InputError(f"axle-above: {axle_above_mm:g} mm is more than the chainstay's {chainstay_mm:g} mm")
    axle_behind = math.sqrt(chainstay_mm**2 - axle_above_mm**2)
    back, up = axle_behind + pivot_ahead_mm, axle_above_mm - pivot_above_mm
    arm = math.hypot(back, up)
    if back <= 0:
        raise InputError(f"pivot-ahead: at {pivot_ahead_mm:g} mm the pivot would lie behind the axle")
    if abs(up + travel_mm) >= arm:
        raise InputError(f"travel: an arm of {arm:.0f} mm about this pivot cannot rise by {travel_mm:g} mm")
    start, end = math.asin(up / arm), math.asin((up + travel_mm) / arm)

    def distance(angle: float) -> float:
        return math.hypot(arm * math.cos(angle) - pivot_ahead_mm, arm * math.sin(angle) + pivot_above_mm)

    # Farthest where bottom bracket, pivot and axle lie in a line, if the travel passes there; else at one end.
    in_line = math.atan2(pivot_above_mm, -pivot_ahead_mm)
    angles = [start, end] + ([in_line] if start < in_line < end else [])
    farthest = max(angles, key=distance)
    return AxlePath(
        unladen_mm=chainstay_mm,
        compressed_mm=distance(end),
        longest_mm=max(distance(farthest), chainstay_mm),
        travel_at_longest_mm=arm * math.sin(farthest) - up,
        arm_mm=arm,
    )


_PIVOT_SOURCE = Source(
    title="Plane geometry, a point on a circle", locator="by definition", provenance=Provenance.DERIVABLE
)


def _pivot(inputs: Inputs) -> CheckResult:
    chainstay, above = number(inputs, "chainstay"), number(inputs, "axle-above")
    ahead, pivot_up, travel = number(inputs, "pivot-ahead"), number(inputs, "pivot-above"), number(inputs, "travel")
    path = single_pivot_path(chainstay, above, ahead, pivot_up, travel)
    behind = math.sqrt(chainstay**2 - above**2)
    top = above - pivot_up + travel
    reach = math.sqrt(path.arm_mm**2 - top**2)
    working = (
        f"Axle behind the bottom bracket: √({_n(chainstay)}² − {_n(abs(above))}²) = {_n(behind)} mm",
        f"Arm, pivot to axle: √(({_n(behind)} + {_n(ahead)})² + ({_n(above)} − {_n(pivot_up)})²)"
        f" = {_n(path.arm_mm)} mm",
        f"Axle above the pivot when compressed: {_n(above)} − {_n(pivot_up)} + {_n(travel)} = {_n(top)} mm",
        f"Axle behind the pivot then: √({_n(path.arm_mm)}² − {_n(abs(top))}²) = {_n(reach)} mm",
        f"Bottom bracket to axle then: √(({_n(reach)} − {_n(ahead)})² + ({_n(top)} + {_n(pivot_up)})²)"
        f" = {_n(path.compressed_mm)} mm",
        f"Longest over the travel: {_n(path.longest_mm)} mm, at {_n(path.travel_at_longest_mm, 0)} mm of travel",
    )
    result = _answer("pivot-growth", chainstay, path.longest_mm, working, _PIVOT_SOURCE)
    at = named("travel-at-longest", path.travel_at_longest_mm, Unit.MILLIMETRE)
    return replace(result, values=(*result.values, at))


PIVOT_GROWTH = Check(
    name="pivot-growth",
    family=_FAMILY,
    title="Chain growth from a single pivot",
    purpose=(
        "Where the rear wheel swings about one pivot, the growth follows from the place of the pivot, and nobody has "
        "to let the shock down to find it."
    ),
    formula=(
        r"g = \max_{0 \le t \le T} \sqrt{\left(\sqrt{a^2 - (u + t)^2} - x\right)^2 + (u + t + y)^2} - C"
        r", \quad u = h - y"
    ),
    inputs=(
        CHAINSTAY,
        quantity(
            "axle-above", "rear axle above the bottom bracket, unladen; below is negative", Unit.MILLIMETRE, -120, 120
        ),
        quantity("pivot-ahead", "pivot ahead of the bottom bracket; behind is negative", Unit.MILLIMETRE, -200, 200),
        quantity("pivot-above", "pivot above the bottom bracket; below is negative", Unit.MILLIMETRE, -100, 300),
        quantity("travel", "how far the rear axle rises when fully compressed", Unit.MILLIMETRE, 10, 260),
    ),
    source=_PIVOT_SOURCE,
    run=_pivot,
    at_verdict={
        Verdict.FITS: "Size the chain with the suspension unladen.",
        Verdict.WITH_CARE: "Give the growth to the chain-length check.",
    },
    example={
        "chainstay": "435 mm",
        "axle-above": "10 mm",
        "pivot-ahead": "20 mm",
        "pivot-above": "80 mm",
        "travel": "140 mm",
    },
    drawing="chain-growth",
    notes=(
        "C is the chainstay, h the axle above the bottom bracket, x and y the pivot ahead of and above it, a the arm "
        "from pivot to axle, T the travel. Not for linkages: there the axle moves on no circle; measure instead."
    ),
)

CHECKS = (CHAIN_GROWTH, PIVOT_GROWTH)
