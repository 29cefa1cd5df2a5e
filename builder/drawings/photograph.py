"""A photograph with numbered call-outs, as a drawing: the picture stays a file beside the page."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import escape

from builder.drawings.canvas import PAGE_MM, Drawing, Point, box, written
from builder.drawings.marks import call_outs

# Higher than this a picture leaves no room for its step on a small card.
_HIGHEST_MM = 80.0
# A number stands so far from what it names, on the side that has room.
_AWAY_MM = 6.0
_EDGE_MM = 3.2


def photograph(
    *, href: str, width_px: int, height_px: int, alt: str, named: Iterable[tuple[str, float, float]]
) -> Drawing:
    """The drawing of a photograph that lies at `href`.

    Args:
        href: the picture's address from the page.
        width_px, height_px: its size, of which the shape alone counts.
        alt: what it shows, in words.
        named: the words of each call-out, and how far across and down its point lies [%].
    """
    share = min(PAGE_MM / width_px, _HIGHEST_MM / height_px)
    width, height = width_px * share, height_px * share
    rows = []
    for words, across_percent, down_percent in named:
        point = (across_percent / 100 * width, down_percent / 100 * height)
        rows.append((words, _beside(point, width, height), point))
    shapes, legend = call_outs(rows)
    picture = f'<image href="{escape(href)}" width="{written(width)}" height="{written(height)}"/>'
    frame = box((0.0, 0.0), width, height)
    return Drawing(
        name="photograph",
        title=alt,
        description="",
        width_mm=width,
        height_mm=height,
        body=picture + frame + shapes,
        legend=legend,
    )


def _beside(point: Point, width: float, height: float) -> Point:
    """Where the number of a point stands: up and outward, or down and inward where the edge is near."""
    x = point[0] + (_AWAY_MM if point[0] <= width - _AWAY_MM - _EDGE_MM else -_AWAY_MM)
    y = point[1] + (-_AWAY_MM if point[1] >= _AWAY_MM + _EDGE_MM else _AWAY_MM)
    return (min(max(x, _EDGE_MM), width - _EDGE_MM), min(max(y, _EDGE_MM), height - _EDGE_MM))
