"""The four sides of a bike's two wheels, at each of which one rule holds of spokes and flanges."""

from __future__ import annotations

from itertools import product

from builder.model.fields import ENDS, Fact


def side_fact(path: str) -> Fact:
    """The fact of each side of each wheel: `path` with `{end}` and `{side}` in it."""
    return Fact(
        joints=tuple(
            (f"{end}-{side}", path.format(end=end, side=side)) for end, side in product(ENDS, ("left", "right"))
        )
    )
