"""Torque at a lever: a wrench with an adaptor, a hand without a torque wrench, and the units that torque comes in."""

from __future__ import annotations

import math
from typing import Annotated

from builder.checks.check import Family, check
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.model.fields import Bounds, In, Meaning
from builder.model.units import Unit, factor_to, write_number, write_quantity

ADAPTOR_SOURCE = Source(
    title="US Army TM 9-254, general maintenance procedures",
    locator="figures 45 and 46, effective length with an adaptor",
    provenance=Provenance.LOOKED_UP,
)
LEVER_SOURCE = Source(title="Definition of torque: force times lever arm", provenance=Provenance.DERIVABLE)
UNITS_SOURCE = Source(title="NIST SP 811 (2008)", locator="appendix B.8", provenance=Provenance.DERIVABLE)

STANDARD_GRAVITY = 9.80665
# Pull of one hand at a lever. Common practice, no source: books on work place design give 200 to 300 N for one arm.
COMFORTABLE_N = 250.0
HARDLY_FELT_N = 20.0
TOO_MUCH_N = 400.0


# --- a wrench with an adaptor --------------------------------------------------------------------


def effective_length_mm(wrench_mm: float, adaptor_mm: float, angle_deg: float) -> float:
    """Length from the hand to the fastener along the wrench [mm]: wrench + adaptor · cos(angle). Source: TM 9-254."""
    return wrench_mm + adaptor_mm * math.cos(math.radians(angle_deg))


def adaptor_setting_nm(torque_nm: float, wrench_mm: float, adaptor_mm: float, angle_deg: float = 0.0) -> float:
    """What a torque wrench with an adaptor is set to [N·m]: torque · wrench / effective length.

    Raises:
        InputError: the adaptor points so far back that it reaches the hand.

    Source: TM 9-254, figure 46.
    """
    length = effective_length_mm(wrench_mm, adaptor_mm, angle_deg)
    if length < 0.1 * wrench_mm:
        raise InputError("adaptor: it points back nearly to the hand; turn it to the side or use a longer wrench")
    return torque_nm * wrench_mm / length


@check(
    family=Family.TORQUE_TOOLS,
    title="Torque wrench with an adaptor",
    purpose=(
        "An open-ended adaptor moves the fastener away from the wrench's square drive, so that the scale no longer "
        "shows the torque at the fastener. This gives the value to set."
    ),
    formula=r"T_{set} = T\,\frac{L}{L + A\cos\alpha}",
    source=ADAPTOR_SOURCE,
    at_verdict={
        Verdict.FITS: "Set the wrench to the value and hold it at the middle of its grip.",
        Verdict.WITH_CARE: (
            "The adaptor points back, so the setting is more than the torque wanted. Make sure that the wrench reaches "
            "it, and that adaptor and hand have room."
        ),
    },
    example={"torque": "40 N·m", "wrench": "350 mm", "adaptor": "50 mm", "angle": "0 deg"},
    drawing="adaptor",
    notes=(
        "Lengths run from the middle of the grip, where the hand pulls, to the square drive, and from there to the "
        "middle of the fastener. At 90° the setting is the torque itself. The effective length must stay above "
        "a tenth of the wrench; a socket on an extension bar needs no correction."
    ),
)
def adaptor_setting(
    torque_nm: Annotated[float, In(Unit.NEWTON_METRE), Bounds(0.1, 500), Meaning("torque wanted at the fastener")],
    wrench_mm: Annotated[
        float, In(Unit.MILLIMETRE), Bounds(50, 2000), Meaning("middle of the grip to the square drive")
    ],
    adaptor_mm: Annotated[
        float, In(Unit.MILLIMETRE), Bounds(0, 500), Meaning("square drive to the fastener, 0 for a socket")
    ],
    angle_deg: Annotated[
        float, In(Unit.DEGREE), Bounds(0, 180), Meaning("between wrench and adaptor, 0 straight on")
    ] = 0.0,
) -> CheckResult:
    """The setting of a torque wrench with an adaptor.

    Raises:
        InputError: the adaptor is as long as the wrench, or reaches back to the hand.

    Source: TM 9-254, figures 45 and 46.
    """
    if adaptor_mm >= wrench_mm:
        raise InputError(
            f"adaptor: {adaptor_mm:g} mm is not shorter than the wrench, {wrench_mm:g} mm; are the two swapped?"
        )
    setting = adaptor_setting_nm(torque_nm, wrench_mm, adaptor_mm, angle_deg)
    length = effective_length_mm(wrench_mm, adaptor_mm, angle_deg)
    reach = length - wrench_mm
    n = write_number
    shown = write_quantity(setting, Unit.NEWTON_METRE, 2)
    shorter = not at_most(setting, torque_nm)
    advice = f"Set the wrench to {shown} and hold it at the middle of its grip."
    if shorter:
        advice += " That is more than the torque wanted: make sure that the wrench reaches it."
    sign = "−" if reach < 0 else "+"
    return CheckResult(
        verdict=Verdict.WITH_CARE if shorter else Verdict.FITS,
        value=setting,
        unit=Unit.NEWTON_METRE,
        working=(
            f"Reach of the adaptor along the wrench: {n(adaptor_mm)} mm × cos {n(angle_deg)}° = {n(reach, 2)} mm",
            f"Effective length: {n(wrench_mm)} {sign} {n(abs(reach), 2)} = {n(length, 2)} mm",
            f"Share of the wrench: {n(wrench_mm)} ÷ {n(length, 2)} = {n(wrench_mm / length, 4)}",
            f"Setting: {n(torque_nm, 2)} N·m × {n(wrench_mm / length, 4)} = {shown}",
        ),
        advice=advice,
        values=(named("effective-length", length, Unit.MILLIMETRE),),
    )


# --- a lever and a hand --------------------------------------------------------------------------


def lever_force_n(torque_nm: float, lever_mm: float) -> float:
    """Force at the end of a lever, square to it [N]: torque / length."""
    return torque_nm / (lever_mm / 1000)


@check(
    family=Family.TORQUE_TOOLS,
    title="Hand force at a lever",
    purpose=(
        "Without a torque wrench, a lever of known length and a luggage scale come nearest. A bare hand errs by a "
        "third or more either way."
    ),
    formula=r"F = \frac{T}{L}",
    source=LEVER_SOURCE,
    at_verdict={
        Verdict.WITH_CARE: (
            "Possible by hand, best with a luggage scale at the end of the lever. Have brakes, steering, wheels and "
            "carbon parts tightened with a torque wrench."
        ),
        Verdict.DOES_NOT_FIT: "Too little to feel, or too much to hold: use a torque wrench.",
    },
    example={"torque": "40 N·m", "lever": "250 mm"},
    drawing="lever",
    notes=(
        "The pull must be square to the lever. Limits of one hand, common practice, no source: less than 20 N is "
        "hardly felt, up to 250 N is a firm pull, above 400 N nobody holds steady."
    ),
)
def lever_force(
    torque_nm: Annotated[float, In(Unit.NEWTON_METRE), Bounds(0.1, 500), Meaning("torque wanted at the fastener")],
    lever_mm: Annotated[float, In(Unit.MILLIMETRE), Bounds(20, 2000), Meaning("fastener to the hand, along the lever")],
) -> CheckResult:
    """The hand force that gives a torque, and whether a hand can judge it. Never better than 'with care'.

    Source: definition of torque; the limits of a hand are common practice.
    """
    force = lever_force_n(torque_nm, lever_mm)
    scale = force / STANDARD_GRAVITY
    near_most = TOO_MUCH_N - force <= force - HARDLY_FELT_N
    n = write_number
    hang = f"Pull with a luggage scale until it reads {write_quantity(scale, Unit.KILOGRAM)}, square to the lever."
    if not at_most(force, TOO_MUCH_N):
        verdict, advice = Verdict.DOES_NOT_FIT, "Too much for one hand: take a longer lever or a torque wrench."
    elif force < HARDLY_FELT_N:
        verdict, advice = (
            Verdict.DOES_NOT_FIT,
            "Too little for a hand to judge: take a torque wrench or a shorter lever.",
        )
    elif not at_most(force, COMFORTABLE_N):
        verdict, advice = Verdict.WITH_CARE, f"A hard pull. {hang} A longer lever is safer."
    else:
        verdict, advice = Verdict.WITH_CARE, hang
    return CheckResult(
        verdict=verdict,
        value=force,
        unit=Unit.NEWTON,
        limit=TOO_MUCH_N if near_most else HARDLY_FELT_N,
        margin=TOO_MUCH_N - force if near_most else force - HARDLY_FELT_N,
        working=(
            f"Lever in metres: {n(lever_mm)} mm ÷ 1000 = {n(lever_mm / 1000, 3)} m",
            f"Force: {n(torque_nm, 2)} N·m ÷ {n(lever_mm / 1000, 3)} m = {write_quantity(force, Unit.NEWTON)}",
            f"On a luggage scale: {n(force)} N ÷ 9.80665 = {write_quantity(scale, Unit.KILOGRAM)}",
        ),
        advice=advice,
        values=(named("scale-reading", scale, Unit.KILOGRAM),),
    )


# --- units ---------------------------------------------------------------------------------------


@check(
    family=Family.TORQUE_TOOLS,
    title="Units of torque",
    purpose="Parts and wrenches are marked in newton metres, inch pounds, foot pounds or kilogram-force centimetres.",
    formula=r"1\;\mathrm{in\,lbf} = 0.112985\;\mathrm{N\,m} \qquad 1\;\mathrm{ft\,lbf} = 1.355818\;\mathrm{N\,m}",
    source=UNITS_SOURCE,
    at_verdict={Verdict.FITS: "Compare the unit with the one on the wrench's scale before you set it."},
    example={"torque": "55 in·lbf"},
    notes="Inch pounds and foot pounds differ by twelve: a mix-up strips a bolt. The factors follow from exact ones.",
)
def torque_units(
    torque_nm: Annotated[float, In(Unit.NEWTON_METRE), Bounds(0.01, 1000), Meaning("torque in any unit")],
) -> CheckResult:
    """A torque in the units that are printed on parts: N·m, in·lbf, ft·lbf, kgf·cm. Source: NIST SP 811."""
    inch, foot, kgf = (torque_nm / factor_to(unit, Unit.NEWTON_METRE) for unit in ("in·lbf", "ft·lbf", "kgf·cm"))
    n = write_number
    return CheckResult(
        verdict=Verdict.FITS,
        value=torque_nm,
        unit=Unit.NEWTON_METRE,
        working=(
            f"In newton metres: {n(torque_nm, 3)} N·m",
            f"In inch pounds: {n(torque_nm, 3)} ÷ 0.112985 = {n(inch)} in·lbf",
            f"In foot pounds: {n(torque_nm, 3)} ÷ 1.355818 = {n(foot, 2)} ft·lbf",
            f"In kilogram-force centimetres: {n(torque_nm, 3)} ÷ 0.0980665 = {n(kgf)} kgf·cm",
        ),
        advice="Compare with the unit on the wrench's scale before you set it.",
        values=(named("inch-pounds", inch), named("foot-pounds", foot), named("kilogram-force-centimetres", kgf)),
    )


# --- the entries ---------------------------------------------------------------------------------
