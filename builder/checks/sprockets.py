"""Sprockets: the pitch circle, the stack on the freehub body, and the line that the chain runs in."""

from __future__ import annotations

import math
from typing import Annotated

from builder.checks.chain_geometry import pitch_diameter_mm
from builder.checks.check import Asked, Family, check
from builder.checks.inputs import SprocketPitch
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

# ISO 606, chain 081 as on single-speed bicycles; derailleur chains roll on the same diameter.
_ROLLER_MM = 7.75
# How far the smallest sprocket should stand proud of the body, so that the lockring clamps sprockets, not the body.
_LEAST_PROUD_MM, _SURELY_PROUD_MM, _MOST_PROUD_MM = 0.1, 1.0, 2.0
# Spacers and bodies of one kind differ by so much among makers. Common practice.
_SPACER_STEP_MM = 0.25
_STRAIGHT_DEG = 1.0
_WIDEST_ANGLE_DEG = 3.5


@check(
    family=Family.SPROCKETS,
    title="Pitch circle of a sprocket",
    purpose=(
        "Every length of chain starts here: the circle on which the chain's pins lie when it is wrapped round a "
        "sprocket or a chainring. It also tells whether a large sprocket will clear the spokes or a guide pulley."
    ),
    formula=r"d = \frac{p}{\sin\left(\frac{180^\circ}{z}\right)}",
    source=Source(
        title="ISO 606, Short-pitch transmission precision roller and bush chains",
        locator="pitch circle diameter of sprockets; pitch 12.7 mm",
        provenance=Provenance.FROM_MEMORY,
    ),
    at_verdict={Verdict.FITS: "Use the diameter as it stands."},
    example={"teeth": "40"},
    drawing="pitch-circle",
    notes=(
        "d is the pitch circle diameter in mm, p the pitch of 12.7 mm (half an inch), z the number of teeth. The root "
        "diameter takes a roller of 7.75 mm off (ISO 606, chain 081, from memory)."
    ),
)
def sprocket_diameter(
    teeth: Annotated[int, In(Unit.TEETH), Bounds(6, 150), Meaning("teeth of the sprocket or the chainring")],
) -> CheckResult:
    """Pitch circle diameter of a sprocket [mm]. Source: ISO 606, from memory."""
    diameter = pitch_diameter_mm(teeth)
    angle = 180 / teeth
    return CheckResult(
        verdict=Verdict.FITS,
        value=diameter,
        unit=Unit.MILLIMETRE,
        working=(
            f"Half the angle from tooth to tooth: 180° / {teeth} = {write_number(angle, 4)}°",
            f"Its sine: sin {write_number(angle, 4)}° = {write_number(math.sin(math.radians(angle)), 6)}",
            f"Pitch circle diameter: 12.7 mm / {write_number(math.sin(math.radians(angle)), 6)}"
            f" = {write_number(diameter, 2)} mm",
            f"Root diameter, where the rollers sit: {write_number(diameter, 2)} − {_ROLLER_MM}"
            f" = {write_number(diameter - _ROLLER_MM, 2)} mm",
        ),
        advice="The pitch circle runs through the chain's pins, a little inside the tips of the teeth.",
        values=(
            named("radius", diameter / 2, Unit.MILLIMETRE),
            named("root-diameter", diameter - _ROLLER_MM, Unit.MILLIMETRE),
        ),
    )


def _n(value: float) -> str:
    return write_number(value, 2)


def sprocket_spacer_mm(body_mm: float, stack_mm: float, spacers_mm: float = 0.0) -> float:
    """Width of spacer that brings the stack level with the end of the freehub body [mm]; 0 where none is wanted."""
    return max(0.0, body_mm - stack_mm - spacers_mm)


@check(
    family=Family.SPROCKETS,
    title="Sprocket stack on the freehub body",
    purpose=(
        "A cassette that is narrower than the freehub body leaves the sprockets loose under a tight lockring. This "
        "shows whether a spacer belongs behind it, and how wide."
    ),
    formula=r"s = w + a - b",
    source=Source(
        title="The lockring must bear on the sprockets, not on the body",
        locator="1.0 to 2.0 mm proud is this workshop guide's own choice; the maker's list goes first",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Fit the stack and tighten the lockring to its torque.",
        Verdict.WITH_CARE: "Look in the maker's list which spacer belongs there; count the lockring's turns.",
        Verdict.DOES_NOT_FIT: "Put a spacer behind the stack; never close the gap with lockring torque.",
    },
    example={"body": "36.8 mm", "stack": "35.4 mm", "spacers": "0 mm"},
    drawing="sprocket-stack",
    notes=(
        "s is how far the stack stands proud of the body, w the width of the stack, a the spacers, b the body, all in "
        "mm. Measure with a depth gauge, lockring off. When done, no sprocket moves by hand. A body of 36.75 mm takes "
        "what is made for one of 34.95 mm with 1.85 mm behind it, besides the 1.0 mm that some makers of ten sprockets "
        "ask for (common practice, no source)."
    ),
    asked=Asked(unless={"rear-hub.sprocket-mount": ("screw-on", "three-lug")}, cures=("sprocket-spacer",)),
)
def sprocket_stack(
    body_mm: Annotated[
        float,
        Meaning("length of the freehub body, from its shoulder to the end of its splines"),
        Fact("rear-hub.body-length"),
    ],
    stack_mm: Annotated[
        float,
        Meaning("width of the sprockets with their own spacers, back face to lockring face"),
        Fact("cassette.stack"),
    ],
    spacers_mm: Annotated[
        float,
        In(Unit.MILLIMETRE),
        Bounds(0, 10),
        Meaning("spacers that lie behind the stack"),
        Fact("worked-out.spacers"),
    ] = 0.0,
    made_for_mm: Annotated[
        float | None,
        Meaning("length of the body that the sprockets are made for, by their maker"),
        Fact("cassette.made-for-body"),
    ] = None,
    maker_spacer_mm: Annotated[
        float | None, Meaning("spacer that their maker lays behind them on that body"), Fact("cassette.maker-spacer")
    ] = None,
) -> CheckResult:
    """Whether the lockring clamps the sprockets on this body, and which spacer belongs behind them [mm].

    Where the maker says for which body the sprockets are made, the spacer is what this body is longer, and what the
    maker lays behind them besides. Else the stack itself is held against the body.

    Source: common practice, no source.
    """
    total = stack_mm + spacers_mm
    proud = total - body_mm
    working = [
        f"Sprockets and spacers together: {_n(stack_mm)} + {_n(spacers_mm)} = {_n(total)} mm",
        f"Against the body: {_n(total)} − {_n(body_mm)} = {_n(proud)} mm proud",
    ]
    if made_for_mm is None:
        limit, margin = body_mm + _LEAST_PROUD_MM, proud - _LEAST_PROUD_MM
        wanted = sprocket_spacer_mm(body_mm, stack_mm, spacers_mm)
        verdict, advice = _by_stack(proud, spacers_mm, working)
    else:
        behind = body_mm - made_for_mm + (maker_spacer_mm or 0.0)
        working.append(
            f"Spacer by the maker: {_n(body_mm)} − {_n(made_for_mm)} + {_n(maker_spacer_mm or 0.0)} = {_n(behind)} mm"
        )
        limit, margin = body_mm, min(behind, spacers_mm - behind) + _SPACER_STEP_MM
        wanted = max(0.0, behind - spacers_mm)
        verdict, advice = _by_maker(behind, spacers_mm)
    return CheckResult(
        verdict=verdict,
        value=total,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=margin if verdict is not Verdict.WITH_CARE else None,
        working=tuple(working),
        advice=advice,
        values=(named("stands-proud", proud, Unit.MILLIMETRE), named("spacer-wanted", wanted, Unit.MILLIMETRE)),
    )


def _by_stack(proud_mm: float, spacers_mm: float, working: list[str]) -> tuple[Verdict, str]:
    """The verdict where only the stack's own width is known."""
    if not at_least(proud_mm, _LEAST_PROUD_MM):
        least = _n(_LEAST_PROUD_MM - proud_mm)
        working.append(f"Spacer wanted behind the stack: {least} mm at least, to stand {_LEAST_PROUD_MM} mm proud")
        return Verdict.DOES_NOT_FIT, (
            f"The lockring would press on the body and leave the sprockets loose. Put a spacer of at least {least} mm "
            "behind the stack; take the next size that is sold."
        )
    if not spacers_mm and not at_least(proud_mm, _SURELY_PROUD_MM):
        return Verdict.WITH_CARE, (
            "The stack stands out so little that it may be made for a shorter body: look in the sprockets' list which "
            "spacer belongs behind them on this body, and try every sprocket by hand when the lockring is tight."
        )
    if at_most(proud_mm, _MOST_PROUD_MM):
        return Verdict.FITS, "The lockring clamps the sprockets. Tighten it to its torque."
    return Verdict.WITH_CARE, (
        "The stack stands far out: some are made so. Lay behind it only what its maker asks for, and count the turns "
        "of the lockring: it must take at least three full turns by hand before it bears."
    )


def _by_maker(behind_mm: float, spacers_mm: float) -> tuple[Verdict, str]:
    """The verdict where the maker's figures tell what belongs behind the sprockets."""
    if not at_least(behind_mm, -_SPACER_STEP_MM):
        return Verdict.DOES_NOT_FIT, (
            "The sprockets are made for a longer body: on this one they stand out too far for the lockring. Take "
            "sprockets that are made for this body."
        )
    if not at_least(spacers_mm, behind_mm - _SPACER_STEP_MM):
        return Verdict.DOES_NOT_FIT, (
            f"Lay {_n(behind_mm - spacers_mm)} mm more behind the sprockets: without it they stay loose under a tight "
            "lockring."
        )
    if at_most(spacers_mm, behind_mm + _SPACER_STEP_MM):
        return Verdict.FITS, "What lies behind the sprockets is what their maker asks for on this body."
    return Verdict.WITH_CARE, "More lies behind the sprockets than their maker asks for: count the lockring's turns."


def chain_angle_deg(offset_mm: float, chainstay_mm: float) -> float:
    """Angle between the chain and the plane of the chainring [deg], by how far the sprocket lies to the side."""
    return math.degrees(math.atan2(offset_mm, chainstay_mm))


@check(
    family=Family.SPROCKETS,
    title="Line of the chain",
    purpose=(
        "A chain that runs slanted is noisy, wears its sprockets and may climb off the ring. This shows how far the "
        "chain slants on the sprocket that lies farthest to the side."
    ),
    formula=r"\alpha = \arctan\left(\frac{|f - r| + (n - 1) t / 2}{c}\right)",
    source=Source(
        title="Angle by plane geometry",
        locator="1° and 3.5° are this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Nothing to do.",
        Verdict.WITH_CARE: "It runs. Move the ring when spacers allow it, and keep off the far sprockets.",
        Verdict.DOES_NOT_FIT: "Move the chainring or choose another axle width before riding.",
    },
    example={"front": "49 mm", "rear": "45.5 mm", "chainstay": "430 mm", "pitch": "3.9 mm", "sprockets": "11"},
    drawing="chain-line",
    notes=(
        "f and r are the distances of ring and sprockets from the middle of the frame, n the number of sprockets, t "
        "their spacing, c the chainstay. With one sprocket the limit is 1°."
    ),
    asked=Asked(when_known=True),
)
def chain_line(
    front_mm: Annotated[
        float,
        Meaning("middle plane of the frame to the chainring (or the middle of the rings)"),
        Fact("crankset.chainline"),
    ],
    rear_mm: Annotated[
        float, Meaning("middle plane of the frame to the middle of the sprockets"), Fact("rear-hub.sprocket-line")
    ],
    chainstay_mm: Annotated[
        float, Meaning("centre of the bottom bracket to centre of the rear axle"), Fact("frame.chainstay")
    ],
    pitch_mm: SprocketPitch = 3.9,
    sprockets: Annotated[
        int, Bounds(1, 14), Meaning("how many sprockets stand side by side"), Fact("cassette.sprockets", len)
    ] = 11,
) -> CheckResult:
    """How far the chain slants on the sprocket that lies farthest to the side [deg]. Source: plane geometry."""
    half = (sprockets - 1) * pitch_mm / 2
    offset = front_mm - rear_mm
    farthest = abs(offset) + half
    angle = chain_angle_deg(farthest, chainstay_mm)
    middle = chain_angle_deg(abs(offset), chainstay_mm)
    limit = _WIDEST_ANGLE_DEG if sprockets > 1 else _STRAIGHT_DEG
    if not at_most(angle, limit):
        verdict, advice = Verdict.DOES_NOT_FIT, "The chain would run too slanted. Move the ring: spacers, axle width."
    elif at_most(middle, _STRAIGHT_DEG):
        verdict, advice = Verdict.FITS, "The ring stands in front of the middle of the sprockets."
    else:
        verdict = Verdict.WITH_CARE
        side = "outward of" if offset > 0 else "inward of"
        advice = (
            f"The ring stands {write_number(abs(offset), 1)} mm {side} the middle; the far sprockets will wear sooner."
        )
    return CheckResult(
        verdict=verdict,
        value=angle,
        unit=Unit.DEGREE,
        limit=limit,
        margin=limit - angle,
        working=(
            f"Ring to middle of the sprockets: {write_number(front_mm, 2)} − {write_number(rear_mm, 2)}"
            f" = {write_number(offset, 2)} mm",
            f"Half the width of the sprockets: ({sprockets} − 1) × {write_number(pitch_mm, 2)} / 2"
            f" = {write_number(half, 2)} mm",
            f"Farthest sprocket to the side: {write_number(abs(offset), 2)} + {write_number(half, 2)}"
            f" = {write_number(farthest, 2)} mm",
            f"Angle: arctan({write_number(farthest, 2)} / {write_number(chainstay_mm, 1)}) = {write_number(angle, 2)}°",
        ),
        advice=advice,
        values=(
            named("offset", offset, Unit.MILLIMETRE),
            named("farthest", farthest, Unit.MILLIMETRE),
            named("middle-angle", middle, Unit.DEGREE),
        ),
    )
