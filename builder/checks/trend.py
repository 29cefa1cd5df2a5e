"""A straight line through dated points, with how sure it is: what a wear trend is drawn from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

# How many times the measured span a straight line is trusted ahead. Our own choice.
AHEAD = 4.0
# Two-sided 95 % points of Student's t for 1 to 18 degrees of freedom (tables of ISO 2854 and any handbook; from memory,
# held against scipy in the tests).
_T_95 = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131, 2.120,
    2.110, 2.101,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """The least-squares line `level + slope · (x − centre)` and the terms of its 95 % band; no band for two points."""

    centre: float
    level: float
    slope: float
    count: int
    spread: float
    scatter: float

    def at(self, x: float) -> float:
        """The line at `x`."""
        return self.level + self.slope * (x - self.centre)

    @property
    def has_band(self) -> bool:
        """Whether there are points enough to say how sure the line is."""
        return self.count > 2

    def half_band(self, x: float) -> float:
        """Half the height of the 95 % band of the line at `x`; 0 where there are too few points to know."""
        if not self.has_band:
            return 0.0
        t = _T_95[min(self.count - 2, len(_T_95)) - 1]
        return t * self.scatter * math.sqrt(1 / self.count + (x - self.centre) ** 2 / self.spread)

    def reaches(self, limit: float) -> float | None:
        """Where the line meets `limit`, or None if it is level or runs away from it."""
        if self.slope == 0:
            return None
        return self.centre + (limit - self.level) / self.slope

    def foreseen(self, limit: float, begin: float, last: float, *, grows: bool) -> float | None:
        """Where the line meets `limit` after the points from `begin` to `last`.

        None where it runs the wrong way, or where it would have to be trusted more than four times as far ahead as the
        points reach.
        """
        meets = self.reaches(limit)
        if meets is None or (self.slope > 0) is not grows or not last < meets <= last + AHEAD * (last - begin):
            return None
        return meets

    def window(self, limit: float) -> tuple[float | None, float | None]:
        """From where to where the 95 % band holds `limit` (Fieller's interval); None where that end is open.

        Source: E. C. Fieller, "Some problems in interval estimation", 1954 (from memory).
        """
        if not self.has_band or self.slope == 0:
            return None, None
        t = _T_95[min(self.count - 2, len(_T_95)) - 1]
        unsure = (t * self.scatter) ** 2
        away = self.level - limit
        square = self.slope**2 - unsure / self.spread
        root = (self.slope * away) ** 2 - square * (away**2 - unsure / self.count)
        if root < 0 or square == 0:
            return None, None
        ends = sorted((-self.slope * away + sign * math.sqrt(root)) / square for sign in (-1, 1))
        if square > 0:
            return self.centre + ends[0], self.centre + ends[1]
        meets = -away / self.slope
        return (self.centre + ends[1], None) if meets >= ends[1] else (None, None)


def fit(x: Sequence[float], y: Sequence[float], error: float = 0.0) -> Trend:
    """The least-squares line through at least two points at different places.

    `error` is the standard error of one reading: points that happen to lie on a line are not known better than that.
    """
    count = len(x)
    centre, level = sum(x) / count, sum(y) / count
    spread = sum((value - centre) ** 2 for value in x)
    slope = sum((a - centre) * (b - level) for a, b in zip(x, y, strict=True)) / spread
    left = sum((b - level - slope * (a - centre)) ** 2 for a, b in zip(x, y, strict=True))
    scatter = max(error, math.sqrt(left / (count - 2))) if count > 2 else 0.0
    return Trend(centre=centre, level=level, slope=slope, count=count, spread=spread, scatter=scatter)
