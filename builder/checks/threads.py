"""Metric screw threads, the strength of their property classes, and the bearing face of a bolt's head.

Nothing here is a check by itself: `bolts`, `engagement` and others work with these values.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, cast, get_args

from builder.checks.result import InputError, Provenance, Source

THREAD_SOURCE = Source(
    title="ISO 261 and ISO 262, metric screw threads, general plan and selected sizes",
    locator="diameters and pitches",
    provenance=Provenance.FROM_MEMORY,
)
AREA_SOURCE = Source(
    title="ISO 898-1, mechanical properties of fasteners",
    locator="nominal stress area and the table of proof loads",
    provenance=Provenance.LOOKED_UP,
)
SOFT_CLASS_SOURCE = Source(
    title="ISO 898-1, mechanical properties of fasteners",
    locator="classes below 8.8, and 9.8",
    provenance=Provenance.FROM_MEMORY,
)
STAINLESS_SOURCE = Source(
    title="ISO 3506-1, stainless steel fasteners", locator="mechanical properties", provenance=Provenance.FROM_MEMORY
)
FACE_SOURCE = Source(
    title="ISO 4014 hexagon head and ISO 273 medium hole",
    locator="bearing face and clearance hole",
    provenance=Provenance.FROM_MEMORY,
)

# Nominal diameter -> pitches, the coarse one first; 0 where the diameter has no coarse pitch. ISO 261, from memory.
_PITCHES: Mapping[float, tuple[float, ...]] = MappingProxyType(
    {
        2: (0.4, 0.25),
        2.5: (0.45, 0.35),
        3: (0.5, 0.35),
        4: (0.7, 0.5),
        5: (0.8, 0.5),
        6: (1, 0.75),
        7: (1, 0.75),
        8: (1.25, 1, 0.75),
        9: (1.25, 1, 0.75),
        10: (1.5, 1.25, 1, 0.75),
        11: (1.5, 1, 0.75),
        12: (1.75, 1.5, 1.25, 1),
        14: (2, 1.5, 1.25, 1),
        15: (0, 1.5, 1),
        16: (2, 1.5, 1),
        17: (0, 1.5, 1),
        18: (2.5, 2, 1.5, 1),
        20: (2.5, 2, 1.5, 1),
        22: (2.5, 2, 1.5, 1),
        24: (3, 2, 1.5, 1),
        25: (0, 2, 1.5, 1),
        27: (3, 2, 1.5, 1),
        30: (3.5, 2, 1.5, 1),
    }
)
# Nominal diameter -> outer diameter of the hexagon head's bearing face (ISO 4014, grade A) and clearance hole (ISO 273,
# medium), in mm, from memory.
_FACES: Mapping[float, tuple[float, float]] = MappingProxyType(
    {
        2: (3.07, 2.4),
        2.5: (4.07, 2.9),
        3: (4.57, 3.4),
        4: (5.88, 4.5),
        5: (6.88, 5.5),
        6: (8.88, 6.6),
        7: (9.63, 7.6),
        8: (11.63, 9.0),
        10: (14.63, 11.0),
        12: (16.63, 13.5),
        14: (19.64, 15.5),
        16: (22.49, 17.5),
        18: (25.34, 20.0),
        20: (28.19, 22.0),
    }
)
_WRITTEN = re.compile(r"M\s*(\d+(?:[.,]\d+)?)(?:\s*[x×]\s*(\d+(?:[.,]\d+)?))?", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A metric ISO thread: nominal diameter and pitch."""

    diameter_mm: float
    pitch_mm: float
    coarse: bool

    def __str__(self) -> str:
        return f"M{self.diameter_mm:g}" if self.coarse else f"M{self.diameter_mm:g}x{self.pitch_mm:g}"

    @property
    def pitch_diameter_mm(self) -> float:
        """Flank diameter d₂ = d − 0.649519 P (ISO 724)."""
        return self.diameter_mm - 0.649519 * self.pitch_mm

    @property
    def core_diameter_mm(self) -> float:
        """Core diameter d₃ = d − 1.226869 P of the bolt's thread (ISO 898-1)."""
        return self.diameter_mm - 1.226869 * self.pitch_mm

    @property
    def stress_diameter_mm(self) -> float:
        """The mean of flank and core diameter, whose circle carries the tension (ISO 898-1)."""
        return (self.pitch_diameter_mm + self.core_diameter_mm) / 2

    @property
    def stress_area_mm2(self) -> float:
        """Nominal stress area A = π/4 · ((d₂ + d₃)/2)² (ISO 898-1)."""
        return math.pi / 4 * self.stress_diameter_mm**2


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyClass:
    """The strength of a bolt by the mark on its head, each figure the least that the standard allows."""

    name: str
    proof_mpa: float
    yield_mpa: float
    tensile_mpa: float
    source: Source = AREA_SOURCE


@dataclass(frozen=True, slots=True, kw_only=True)
class BearingFace:
    """The ring under a bolt's head that slides while it is tightened."""

    outer_mm: float
    hole_mm: float

    @property
    def mean_mm(self) -> float:
        """Mean diameter at which the friction under the head acts."""
        return (self.outer_mm + self.hole_mm) / 2


def _remembered(name: str, *, proof_mpa: float, yield_mpa: float, tensile_mpa: float) -> PropertyClass:
    return PropertyClass(
        name=name, proof_mpa=proof_mpa, yield_mpa=yield_mpa, tensile_mpa=tensile_mpa, source=SOFT_CLASS_SOURCE
    )


def _stainless(grade: str, tensile_mpa: float, yield_mpa: float) -> PropertyClass:
    # ISO 3506 gives no proof load: the 0.2 % proof strength stands in for it.
    return PropertyClass(
        name=grade, proof_mpa=yield_mpa, yield_mpa=yield_mpa, tensile_mpa=tensile_mpa, source=STAINLESS_SOURCE
    )


# The marks of the classes, as a bolt's head carries them.
ClassName = Literal[
    "4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9",
    "A1-50", "A1-70", "A1-80", "A2-50", "A2-70", "A2-80", "A4-50", "A4-70", "A4-80"
]  # fmt: skip
_CLASSES: Mapping[str, PropertyClass] = MappingProxyType(
    {
        entry.name: entry
        for entry in (
            _remembered("4.6", proof_mpa=225, yield_mpa=240, tensile_mpa=400),
            _remembered("4.8", proof_mpa=310, yield_mpa=340, tensile_mpa=420),
            _remembered("5.6", proof_mpa=280, yield_mpa=300, tensile_mpa=500),
            _remembered("5.8", proof_mpa=380, yield_mpa=420, tensile_mpa=520),
            _remembered("6.8", proof_mpa=440, yield_mpa=480, tensile_mpa=600),
            PropertyClass(name="8.8", proof_mpa=580, yield_mpa=640, tensile_mpa=800),
            _remembered("9.8", proof_mpa=650, yield_mpa=720, tensile_mpa=900),
            PropertyClass(name="10.9", proof_mpa=830, yield_mpa=940, tensile_mpa=1040),
            PropertyClass(name="12.9", proof_mpa=970, yield_mpa=1100, tensile_mpa=1220),
            *(
                _stainless(f"{steel}-{strength}", tensile_mpa, yield_mpa)
                for steel in ("A1", "A2", "A4")
                for strength, tensile_mpa, yield_mpa in ((50, 500, 210), (70, 700, 450), (80, 800, 600))
            ),
        )
    }
)
CLASS_NAMES: tuple[str, ...] = get_args(ClassName)
# Above 16 mm a bolt of class 8.8 is rated a little higher (ISO 898-1, from memory).
_LARGE_8_8 = _remembered("8.8", proof_mpa=600, yield_mpa=660, tensile_mpa=830)
_LARGE_ABOVE_MM = 16


def thread_or_none(written: str) -> Thread | None:
    """The thread that `written` names (`M6`, `M8x1`, `M8×1`), or None where it isn't a metric thread of ISO 261."""
    found = _WRITTEN.fullmatch(written.strip())
    if found is None:
        return None
    diameter = float(found[1].replace(",", "."))
    pitches = _PITCHES.get(diameter)
    if pitches is None:
        return None
    pitch = float(found[2].replace(",", ".")) if found[2] else pitches[0]
    if pitch == 0 or pitch not in pitches:
        return None
    return Thread(diameter_mm=diameter, pitch_mm=pitch, coarse=pitch == pitches[0])


def read_thread(written: str) -> Thread:
    """The metric thread that `written` names: `M6` (coarse pitch), `M8x1`.

    Raises:
        InputError: not a metric thread of ISO 261; the message names the pitches that the diameter has.
    """
    thread = thread_or_none(written)
    if thread is not None:
        return thread
    found = _WRITTEN.fullmatch(written.strip())
    if found is None:
        raise InputError(f"'{written}' is not a plain metric thread; write for instance 'M6' or 'M8x1'")
    pitches = _PITCHES.get(float(found[1].replace(",", ".")))
    if pitches is None:
        sizes = ", ".join(f"M{size:g}" for size in _PITCHES)
        raise InputError(f"'{written}' is not a metric size; the sizes are {sizes}")
    known = ", ".join(f"M{float(found[1].replace(',', '.')):g}x{pitch:g}" for pitch in pitches if pitch)
    raise InputError(f"'{written}' is not a standard pitch; this diameter has {known}")


def known_class(written: str) -> ClassName:
    """The property class that is marked `written`, such as `8.8` or `A2-70`.

    Raises:
        InputError: no such class; the message lists them.
    """
    name = written.strip().upper().replace(",", ".")
    for known in get_args(ClassName):
        if name == known:
            return cast(ClassName, known)
    raise InputError(f"'{written}' is not a property class; the classes are {', '.join(CLASS_NAMES)}")


def read_class(written: str, thread: Thread) -> PropertyClass:
    """The strength of the property class marked `written` for a bolt of this thread.

    Raises:
        InputError: no such class; the message lists them.
    """
    name = known_class(written)
    if name == "8.8" and thread.diameter_mm > _LARGE_ABOVE_MM:
        return _LARGE_8_8
    return _CLASSES[name]


def standard_face(thread: Thread) -> BearingFace | None:
    """The bearing face under a standard hexagon head in a medium hole, or None where no standard head has this size."""
    face = _FACES.get(thread.diameter_mm)
    return None if face is None else BearingFace(outer_mm=face[0], hole_mm=face[1])


def bearing_face(thread: Thread, face_mm: float | None = None, hole_mm: float | None = None) -> BearingFace:
    """The bearing face under a head: as given [mm], and for what is not given that of the standard hexagon head.

    Raises:
        InputError: no standard head has this size, or the hole is as large as the face.
    """
    standard = standard_face(thread)
    outer = face_mm if face_mm is not None else (standard.outer_mm if standard else None)
    hole = hole_mm if hole_mm is not None else (standard.hole_mm if standard else None)
    if outer is None or hole is None:
        raise InputError(f"{thread} has no standard head; give 'face' and 'hole', the diameters under the bolt's head")
    if hole >= outer:
        raise InputError(f"the hole ({hole:g} mm) must be smaller than the bearing face ({outer:g} mm)")
    return BearingFace(outer_mm=outer, hole_mm=hole)
