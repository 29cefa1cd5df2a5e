"""Chain growth: how much farther the rear axle moves from the bottom bracket over the suspension's travel."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.inputs import Chainstay
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, InputError, NamedValue, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

# Less than this changes no number of links: a quarter of a millimetre is a fiftieth of a link.
_NONE_MM = 0.25


def _n(value: float, decimals: int = 2) -> str:
    return write_number(value, decimals)


def _answer(unladen: float, longest: float, working: tuple[str, ...]) -> CheckResult:
    growth = longest - unladen
    grows = not at_most(growth, _NONE_MM)
    extra: tuple[NamedValue, ...] = (
        named("longest", longest, Unit.MILLIMETRE),
        named("links", 2 * growth / 12.7, Unit.LINKS),
    )
    return CheckResult(
        verdict=Verdict.WITH_CARE if grows else Verdict.FITS,
        value=growth,
        unit=Unit.MILLIMETRE,
        working=(*working, f"Growth: {_n(longest)} − {_n(unladen)} = {_n(growth)} mm"),
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


@check(
    family=Family.SPROCKETS,
    title="Chain growth from measurements",
    purpose=(
        "On a bike with rear suspension the axle moves away from the bottom bracket as the frame is compressed. A "
        "chain that is sized unladen can then be too short and tear the derailleur off."
    ),
    formula=r"g = \max(C_0, C_1, C_2) - C_0",
    source=_MEASURED_SOURCE,
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
    asked=Asked(force=Force.TELLS, only={"frame.suspension": ("full",)}, when_known=True),
)
def chain_growth(
    chainstay_mm: Chainstay,
    compressed_mm: Annotated[
        float, Meaning("the same distance with the suspension fully compressed"), Fact("frame.compressed-chainstay")
    ],
    middle_mm: Annotated[
        float | None, Meaning("the same distance at half the travel"), Fact("frame.halfway-chainstay")
    ] = None,
) -> CheckResult:
    """How much farther the axle is from the bottom bracket at the longest of the measured distances [mm].

    Source: by definition.
    """
    ways = (chainstay_mm, compressed_mm) if middle_mm is None else (chainstay_mm, middle_mm, compressed_mm)
    longest = max(ways)
    working = (
        f"Measured, unladen first: {', '.join(_n(value, 1) for value in ways)} mm",
        f"Longest: {_n(longest, 1)} mm",
    )
    return _answer(chainstay_mm, longest, working)


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


@check(
    family=Family.SPROCKETS,
    title="Chain growth from a single pivot",
    purpose=(
        "Where the rear wheel swings about one pivot, the growth follows from the place of the pivot, and nobody has "
        "to let the shock down to find it."
    ),
    formula=(
        r"g = \max_{0 \le t \le T} \sqrt{\left(\sqrt{a^2 - (u + t)^2} - x\right)^2 + (u + t + y)^2} - C"
        r", \quad u = h - y"
    ),
    source=_PIVOT_SOURCE,
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
    asked=Asked(force=Force.TELLS, when_known=True),
)
def pivot_growth(
    chainstay_mm: Chainstay,
    axle_above_mm: Annotated[
        float,
        In(Unit.MILLIMETRE),
        Bounds(-120, 120),
        Meaning("rear axle above the bottom bracket, unladen; below is negative"),
    ],
    pivot_ahead_mm: Annotated[
        float, In(Unit.MILLIMETRE), Bounds(-200, 200), Meaning("pivot ahead of the bottom bracket; behind is negative")
    ],
    pivot_above_mm: Annotated[
        float, In(Unit.MILLIMETRE), Bounds(-100, 300), Meaning("pivot above the bottom bracket; below is negative")
    ],
    travel_mm: Annotated[
        float, In(Unit.MILLIMETRE), Bounds(10, 260), Meaning("how far the rear axle rises when fully compressed")
    ],
) -> CheckResult:
    """How much farther the axle is from the bottom bracket over its arc about a single pivot [mm]. Plane geometry."""
    path = single_pivot_path(chainstay_mm, axle_above_mm, pivot_ahead_mm, pivot_above_mm, travel_mm)
    behind = math.sqrt(chainstay_mm**2 - axle_above_mm**2)
    top = axle_above_mm - pivot_above_mm + travel_mm
    reach = math.sqrt(path.arm_mm**2 - top**2)
    working = (
        f"Axle behind the bottom bracket: √({_n(chainstay_mm)}² − {_n(abs(axle_above_mm))}²) = {_n(behind)} mm",
        f"Arm, pivot to axle: √(({_n(behind)} + {_n(pivot_ahead_mm)})² + ({_n(axle_above_mm)} − {_n(pivot_above_mm)})²)"
        f" = {_n(path.arm_mm)} mm",
        f"Axle above the pivot when compressed: {_n(axle_above_mm)} − {_n(pivot_above_mm)} + {_n(travel_mm)}"
        f" = {_n(top)} mm",
        f"Axle behind the pivot then: √({_n(path.arm_mm)}² − {_n(abs(top))}²) = {_n(reach)} mm",
        f"Bottom bracket to axle then: √(({_n(reach)} − {_n(pivot_ahead_mm)})² + ({_n(top)} + {_n(pivot_above_mm)})²)"
        f" = {_n(path.compressed_mm)} mm",
        f"Longest over the travel: {_n(path.longest_mm)} mm, at {_n(path.travel_at_longest_mm, 0)} mm of travel",
    )
    result = _answer(chainstay_mm, path.longest_mm, working)
    at = named("travel-at-longest", path.travel_at_longest_mm, Unit.MILLIMETRE)
    return replace(result, values=(*result.values, at))
