"""Sprockets: the pitch circle, the stack on the freehub body, and the line that the chain runs in."""

from __future__ import annotations

import math

from builder.checks.chain_geometry import pitch_diameter_mm
from builder.checks.inputs import teeth
from builder.checks.judging import at_least, at_most, named, number, quantity, whole
from builder.checks.result import Check, CheckResult, Input, Inputs, Kind, Provenance, Source, Verdict
from builder.model.units import Unit, write_number

_FAMILY = "Sprockets and chain"
# ISO 606, chain 081 as on single-speed bicycles; derailleur chains roll on the same diameter.
_ROLLER_MM = 7.75
# How far the smallest sprocket should stand proud of the body, so that the lockring clamps sprockets, not the body.
_LEAST_PROUD_MM, _MOST_PROUD_MM = 0.1, 1.5
_STRAIGHT_DEG = 1.0
_WIDEST_ANGLE_DEG = 3.5


def _sprocket_diameter(inputs: Inputs) -> CheckResult:
    count = whole(inputs, "teeth")
    diameter = pitch_diameter_mm(count)
    angle = 180 / count
    return CheckResult(
        check="sprocket-diameter",
        verdict=Verdict.FITS,
        value=diameter,
        unit=Unit.MILLIMETRE,
        working=(
            f"Half the angle from tooth to tooth: 180° / {count} = {write_number(angle, 4)}°",
            f"Its sine: sin {write_number(angle, 4)}° = {write_number(math.sin(math.radians(angle)), 6)}",
            f"Pitch circle diameter: 12.7 mm / {write_number(math.sin(math.radians(angle)), 6)}"
            f" = {write_number(diameter, 2)} mm",
            f"Root diameter, where the rollers sit: {write_number(diameter, 2)} − {_ROLLER_MM}"
            f" = {write_number(diameter - _ROLLER_MM, 2)} mm",
        ),
        source=str(SPROCKET_DIAMETER.source),
        advice="The pitch circle runs through the chain's pins, a little inside the tips of the teeth.",
        values=(
            named("radius", diameter / 2, Unit.MILLIMETRE),
            named("root-diameter", diameter - _ROLLER_MM, Unit.MILLIMETRE),
        ),
    )


SPROCKET_DIAMETER = Check(
    name="sprocket-diameter",
    family=_FAMILY,
    title="Pitch circle of a sprocket",
    purpose=(
        "Every length of chain starts here: the circle on which the chain's pins lie when it is wrapped round a "
        "sprocket or a chainring. It also tells whether a large sprocket will clear the spokes or a guide pulley."
    ),
    formula=r"d = \frac{p}{\sin\left(\frac{180^\circ}{z}\right)}",
    inputs=(teeth("teeth", "teeth of the sprocket or the chainring", low=6, high=150),),
    source=Source(
        title="ISO 606, Short-pitch transmission precision roller and bush chains",
        locator="pitch circle diameter of sprockets; pitch 12.7 mm",
        provenance=Provenance.FROM_MEMORY,
    ),
    run=_sprocket_diameter,
    at_verdict={Verdict.FITS: "Use the diameter as it stands."},
    example={"teeth": "40"},
    drawing="pitch-circle",
    notes=(
        "d is the pitch circle diameter in mm, p the pitch of 12.7 mm (half an inch), z the number of teeth. The root "
        "diameter takes a roller of 7.75 mm off (ISO 606, chain 081, from memory)."
    ),
)


def sprocket_spacer_mm(body_mm: float, stack_mm: float, spacers_mm: float = 0.0) -> float:
    """Width of spacer that brings the stack level with the end of the freehub body [mm]; 0 where none is wanted."""
    return max(0.0, body_mm - stack_mm - spacers_mm)


def _sprocket_stack(inputs: Inputs) -> CheckResult:
    body, stack, spacers = number(inputs, "body"), number(inputs, "stack"), number(inputs, "spacers")
    total = stack + spacers
    proud = total - body
    wanted = sprocket_spacer_mm(body, stack, spacers)
    working = [
        f"Sprockets and spacers together: {write_number(stack, 2)} + {write_number(spacers, 2)}"
        f" = {write_number(total, 2)} mm",
        f"Against the body: {write_number(total, 2)} − {write_number(body, 2)} = {write_number(proud, 2)} mm proud",
    ]
    if not at_least(proud, _LEAST_PROUD_MM):
        verdict = Verdict.DOES_NOT_FIT
        least = write_number(_LEAST_PROUD_MM - proud, 2)
        working.append(f"Spacer wanted behind the stack: {least} mm at least, to stand {_LEAST_PROUD_MM} mm proud")
        advice = (
            f"The lockring would press on the body and leave the sprockets loose. Put a spacer of at least {least} mm "
            "behind the stack; take the next size that is sold."
        )
    elif at_most(proud, _MOST_PROUD_MM):
        verdict, advice = Verdict.FITS, "The lockring clamps the sprockets. Tighten it to its torque."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            "The stack stands far out. Take a spacer away if one is fitted; otherwise count the turns of the lockring: "
            "it must take at least three full turns by hand before it bears."
        )
    return CheckResult(
        check="sprocket-stack",
        verdict=verdict,
        value=total,
        unit=Unit.MILLIMETRE,
        limit=body + _LEAST_PROUD_MM,
        margin=proud - _LEAST_PROUD_MM,
        working=tuple(working),
        source=str(SPROCKET_STACK.source),
        advice=advice,
        values=(named("stands-proud", proud, Unit.MILLIMETRE), named("spacer-wanted", wanted, Unit.MILLIMETRE)),
    )


SPROCKET_STACK = Check(
    name="sprocket-stack",
    family=_FAMILY,
    title="Sprocket stack on the freehub body",
    purpose=(
        "A cassette that is narrower than the freehub body leaves the sprockets loose under a tight lockring. This "
        "shows whether a spacer belongs behind it, and how wide."
    ),
    formula=r"s = w + a - b",
    inputs=(
        quantity(
            "body", "length of the freehub body, from its shoulder to the end of its splines", Unit.MILLIMETRE, 15, 60
        ),
        quantity(
            "stack",
            "width of the sprockets with their own spacers, back face to lockring face",
            Unit.MILLIMETRE,
            10,
            60,
        ),
        quantity("spacers", "spacers that lie behind the stack", Unit.MILLIMETRE, 0, 10, default=0.0),
    ),
    source=Source(
        title="The lockring must bear on the sprockets, not on the body",
        locator="0.1 to 1.5 mm proud is this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    run=_sprocket_stack,
    at_verdict={
        Verdict.FITS: "Fit the stack and tighten the lockring to its torque.",
        Verdict.WITH_CARE: "Take a spacer out, or count the lockring's turns by hand before it bears.",
        Verdict.DOES_NOT_FIT: "Put a spacer behind the stack; never close the gap with lockring torque.",
    },
    example={"body": "36.8 mm", "stack": "35.4 mm", "spacers": "0 mm"},
    drawing="sprocket-stack",
    notes=(
        "s is how far the stack stands proud of the body, w the width of the stack, a the spacers, b the body, all in "
        "mm. Measure with a depth gauge, lockring off. When done, no sprocket moves by hand."
    ),
)


def chain_angle_deg(offset_mm: float, chainstay_mm: float) -> float:
    """Angle between the chain and the plane of the chainring [deg], by how far the sprocket lies to the side."""
    return math.degrees(math.atan2(offset_mm, chainstay_mm))


def _chain_line(inputs: Inputs) -> CheckResult:
    front, rear, chainstay = number(inputs, "front"), number(inputs, "rear"), number(inputs, "chainstay")
    pitch, sprockets = number(inputs, "pitch"), whole(inputs, "sprockets")
    half = (sprockets - 1) * pitch / 2
    offset = front - rear
    farthest = abs(offset) + half
    angle = chain_angle_deg(farthest, chainstay)
    middle = chain_angle_deg(abs(offset), chainstay)
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
        check="chain-line",
        verdict=verdict,
        value=angle,
        unit=Unit.DEGREE,
        limit=limit,
        margin=limit - angle,
        working=(
            f"Ring to middle of the sprockets: {write_number(front, 2)} − {write_number(rear, 2)}"
            f" = {write_number(offset, 2)} mm",
            f"Half the width of the sprockets: ({sprockets} − 1) × {write_number(pitch, 2)} / 2"
            f" = {write_number(half, 2)} mm",
            f"Farthest sprocket to the side: {write_number(abs(offset), 2)} + {write_number(half, 2)}"
            f" = {write_number(farthest, 2)} mm",
            f"Angle: arctan({write_number(farthest, 2)} / {write_number(chainstay, 1)}) = {write_number(angle, 2)}°",
        ),
        source=str(CHAIN_LINE.source),
        advice=advice,
        values=(
            named("offset", offset, Unit.MILLIMETRE),
            named("farthest", farthest, Unit.MILLIMETRE),
            named("middle-angle", middle, Unit.DEGREE),
        ),
    )


CHAIN_LINE = Check(
    name="chain-line",
    family=_FAMILY,
    title="Line of the chain",
    purpose=(
        "A chain that runs slanted is noisy, wears its sprockets and may climb off the ring. This shows how far the "
        "chain slants on the sprocket that lies farthest to the side."
    ),
    formula=r"\alpha = \arctan\left(\frac{|f - r| + (n - 1) t / 2}{c}\right)",
    inputs=(
        quantity(
            "front", "middle plane of the frame to the chainring (or the middle of the rings)", Unit.MILLIMETRE, 30, 75
        ),
        quantity("rear", "middle plane of the frame to the middle of the sprockets", Unit.MILLIMETRE, 30, 75),
        quantity("chainstay", "centre of the bottom bracket to centre of the rear axle", Unit.MILLIMETRE, 250, 900),
        quantity("pitch", "from one sprocket to the next, centre to centre", Unit.MILLIMETRE, 3, 7, default=3.9),
        Input(
            name="sprockets",
            words="how many sprockets stand side by side",
            kind=Kind.WHOLE,
            low=1,
            high=14,
            default=11,
        ),
    ),
    source=Source(
        title="Angle by plane geometry",
        locator="1° and 3.5° are this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    run=_chain_line,
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
)

CHECKS = (SPROCKET_DIAMETER, SPROCKET_STACK, CHAIN_LINE)
