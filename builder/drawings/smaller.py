"""A finished drawing made smaller, so that it can stand beside its text, with its letters as large as before."""

from __future__ import annotations

import re
from dataclasses import replace

from builder.drawings.canvas import Drawing, written

_LETTERS = re.compile(r'(<text x="[^"]+" y=")([^"]+)(" font-size=")([^"]+)"')
_RING = re.compile(r'( r=")([^"]+)("[^>]*data-part="call-out-ring")')
_PLATE = re.compile(
    r'<rect x="([^"]+)" y="([^"]+)" width="([^"]+)" height="([^"]+)"([^>]*data-part="ground")',
)


def reduced(drawing: Drawing, scale: float) -> Drawing:
    """The drawing at `scale` of its size, with its letters and the rings of its call-outs as large as they were.

    So it can stand beside its text and is still read from the same distance; its lines get thinner with it. `scale`
    has two decimals at most, as all that is written.
    """

    def letters(found: re.Match[str]) -> str:
        size = float(found[4])
        # Capitals are centred on their place, so that the base line sinks as the letters grow against the shapes.
        base = float(found[2]) + 0.36 * (size / scale - size)
        return f'{found[1]}{written(base)}{found[3]}{written(size / scale)}"'

    def plate(found: re.Match[str]) -> str:
        x, y, width, height = (float(found[index]) for index in range(1, 5))
        left, top = x + width / 2 * (1 - 1 / scale), y + height / 2 * (1 - 1 / scale)
        grown = " ".join(
            f'{name}="{written(size)}"'
            for name, size in (("x", left), ("y", top), ("width", width / scale), ("height", height / scale))
        )
        return f"<rect {grown}{found[5]}"

    body = _LETTERS.sub(letters, drawing.body)
    body = _RING.sub(lambda found: f"{found[1]}{written(float(found[2]) / scale)}{found[3]}", body)
    body = _PLATE.sub(plate, body)
    return replace(
        drawing,
        width_mm=drawing.width_mm * scale,
        height_mm=drawing.height_mm * scale,
        body=f'<g transform="scale({written(scale)})">{body}</g>',
    )
