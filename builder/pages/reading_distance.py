"""From how far away cards are read, as a theme says it, and how large type must be there."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

_SAID = re.compile(r"--read-(hand|stand|far):\s*([\d.]+)mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Distances:
    """From where a card is read [mm]: held in the hand, on the stand beside the work, or from farther away."""

    hand_mm: float = 430.0
    stand_mm: float = 500.0
    far_mm: float = 800.0

    def size_pt(self, distance_mm: float, stand_pt: float) -> float:
        """The size that looks as large from so far as `stand_pt` does on the stand, up to the next half point."""
        return math.ceil(round(2 * stand_pt * distance_mm / self.stand_mm, 6)) / 2


def distances_of(tokens: str) -> Distances:
    """The distances that a theme's tokens say; the usual ones where they say none."""
    said = {f"{name}_mm": float(value) for name, value in _SAID.findall(tokens)}
    return Distances(**said)
