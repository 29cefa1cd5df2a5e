"""The arithmetic of a tightened bolt after VDI 2230: torque to preload, proof load, and the torque at 90 % of yield."""

from __future__ import annotations

import math

from builder.checks.result import Provenance, Source
from builder.checks.threads import BearingFace, PropertyClass, Thread
from builder.model.units import Unit, write_number, write_quantity

SOURCE = Source(
    title="VDI 2230 Part 1, highly stressed bolted joints, with the strengths of ISO 898-1 and ISO 3506-1",
    locator="tightening torque and assembly preload at 90 % of yield",
    provenance=Provenance.LOOKED_UP_SECONDARY,
)
# A lightly oiled bolt, thread and head alike; VDI 2230 tables run from 0.08 to 0.24 (friction classes, from memory).
USUAL_FRICTION = 0.12
YIELD_SHARE = 0.9


def torque_per_preload_mm(thread: Thread, face: BearingFace, friction: float) -> float:
    """Torque that each kilonewton of preload takes [N·m/kN, which is mm].

    Formula: 0.16 P + 0.58 d₂ μ + μ D/2, with D the mean diameter of the bearing face. Source: VDI 2230.
    """
    return 0.16 * thread.pitch_mm + 0.58 * thread.pitch_diameter_mm * friction + face.mean_mm / 2 * friction


def preload_kn(torque_nm: float, thread: Thread, face: BearingFace, friction: float) -> float:
    """Tension in the bolt at a tightening torque [kN]. Source: VDI 2230."""
    return torque_nm / torque_per_preload_mm(thread, face, friction)


def proof_load_kn(thread: Thread, strength: PropertyClass) -> float:
    """Tension that the bolt bears without lasting stretch [kN]: proof stress times stress area. Source: ISO 898-1."""
    return strength.proof_mpa * thread.stress_area_mm2 / 1000


def torsion_factor(thread: Thread, friction: float) -> float:
    """How much the twist of tightening adds to the pull, as the ratio of combined stress to tension.

    Formula: √(1 + 3 · (1.5 · d₂/d₀ · (P/(π d₂) + 1.155 μ))²). Source: VDI 2230.
    """
    slope = thread.pitch_mm / (math.pi * thread.pitch_diameter_mm) + 1.155 * friction
    twist = 1.5 * thread.pitch_diameter_mm / thread.stress_diameter_mm * slope
    return math.sqrt(1 + 3 * twist**2)


def assembly_preload_kn(thread: Thread, strength: PropertyClass, friction: float) -> float:
    """Preload at which pull and twist together use 90 % of the yield strength [kN]. Source: VDI 2230."""
    return YIELD_SHARE * strength.yield_mpa * thread.stress_area_mm2 / torsion_factor(thread, friction) / 1000


def assembly_torque_nm(thread: Thread, strength: PropertyClass, face: BearingFace, friction: float) -> float:
    """Tightening torque that gives the assembly preload [N·m]. Source: VDI 2230."""
    return assembly_preload_kn(thread, strength, friction) * torque_per_preload_mm(thread, face, friction)


def thread_working(thread: Thread, face: BearingFace, friction: float) -> tuple[str, ...]:
    """From the thread to the torque that each kilonewton of preload takes, a line an operation."""
    n = write_number
    d, p, d2, d3 = thread.diameter_mm, thread.pitch_mm, thread.pitch_diameter_mm, thread.core_diameter_mm
    lever = torque_per_preload_mm(thread, face, friction)
    parts = (0.16 * p, 0.58 * d2 * friction, face.mean_mm / 2 * friction)
    mu = n(friction, 3)
    return (
        f"Flank diameter: {n(d)} − 0.649519 × {n(p, 2)} = {n(d2, 3)} mm",
        f"Core diameter: {n(d)} − 1.226869 × {n(p, 2)} = {n(d3, 3)} mm",
        f"Stress diameter: ({n(d2, 3)} + {n(d3, 3)}) ÷ 2 = {n(thread.stress_diameter_mm, 3)} mm",
        f"Stress area: 0.7854 × {n(thread.stress_diameter_mm, 3)}² = {n(thread.stress_area_mm2, 2)} mm²",
        f"Mean diameter under the head: ({n(face.outer_mm, 2)} + {n(face.hole_mm, 2)}) ÷ 2 = {n(face.mean_mm, 2)} mm",
        f"Slope of the thread: 0.16 × {n(p, 2)} = {n(parts[0], 3)} mm",
        f"Friction in the thread: 0.58 × {n(d2, 3)} × {mu} = {n(parts[1], 3)} mm",
        f"Friction under the head: {n(face.mean_mm, 2)} ÷ 2 × {mu} = {n(parts[2], 3)} mm",
        f"Together: {n(parts[0], 3)} + {n(parts[1], 3)} + {n(parts[2], 3)} = {n(lever, 3)} mm",
    )


def strength_working(thread: Thread, strength: PropertyClass) -> str:
    """The line that works out the proof load."""
    proof = write_quantity(proof_load_kn(thread, strength), Unit.KILONEWTON, 2)
    area = write_number(thread.stress_area_mm2, 2)
    return f"Proof load: {write_number(strength.proof_mpa)} MPa × {area} mm² ÷ 1000 = {proof}"


def yield_working(thread: Thread, strength: PropertyClass, face: BearingFace, friction: float) -> tuple[str, ...]:
    """From the twist of tightening to the torque at 90 % of yield, a line an operation."""
    n = write_number
    d2, d0 = thread.pitch_diameter_mm, thread.stress_diameter_mm
    slope = thread.pitch_mm / (math.pi * d2) + 1.155 * friction
    twist = 1.5 * d2 / d0 * slope
    factor = torsion_factor(thread, friction)
    most = assembly_preload_kn(thread, strength, friction)
    lever = torque_per_preload_mm(thread, face, friction)
    return (
        f"Slope and friction: {n(thread.pitch_mm, 2)} ÷ (3.1416 × {n(d2, 3)}) + 1.155 × {n(friction, 3)} = "
        f"{n(slope, 4)}",
        f"Twist against pull: 1.5 × {n(d2, 3)} ÷ {n(d0, 3)} × {n(slope, 4)} = {n(twist, 4)}",
        f"Combined stress: √(1 + 3 × {n(twist, 4)}²) = {n(factor, 3)} times the pull alone",
        f"Preload at 90 % of yield: 0.9 × {n(strength.yield_mpa)} MPa × {n(thread.stress_area_mm2, 2)} mm² ÷ "
        f"{n(factor, 3)} ÷ 1000 = {write_quantity(most, Unit.KILONEWTON, 2)}",
        f"Torque for it: {n(most, 2)} kN × {n(lever, 3)} mm = {write_quantity(most * lever, Unit.NEWTON_METRE, 1)}",
    )
