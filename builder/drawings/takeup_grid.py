"""For every chainring and sprocket, how much of the derailleur's take-up the gear uses, with a mark and a word."""

from __future__ import annotations

from builder.drawings.canvas import (
    INK,
    PAGE_MM,
    THICK,
    THIN,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    arc_commands,
    box,
    circle,
    line,
    path,
    polygon,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import cross_mark
from builder.model.fields import Fact

_NAME = "takeup-grid"
_ROW = 6.2
_HEAD = 13.0
_FIRST_COLUMN = 12.0
WITHIN, LIMIT, SLACK, TIGHT = "within", "at limit", "slack", "tight"


def verdict(used: int, rated: int, short_teeth: int) -> str:
    """What a gear does with the take-up: `tight` if the chain is too short for it, `slack` beyond the rating."""
    if used < short_teeth:
        return TIGHT
    if used > rated:
        return SLACK
    return LIMIT if used == rated else WITHIN


def _mark(kind: str, centre: Point) -> Shape:
    x, y = centre
    match kind:
        case "within":
            return circle(centre, 1.7, THICK)
        case "at limit":
            half = path((*arc_commands(centre, 1.7, 0, 180), "Z"), Pen(fill=INK))
            return circle(centre, 1.7, THICK) + half
        case "slack":
            return polygon(((x - 2, y - 1.6), (x + 2, y - 1.6), (x, y + 1.9)), Pen(width_mm=0.7, fill=INK))
        case _:
            return cross_mark(centre, size=1.5)


def _make(arguments: Arguments) -> Drawing:
    rings, sprockets = arguments.teeth("rings"), arguments.teeth("sprockets")
    rated, short = arguments.whole("rated"), arguments.whole("links-short")
    column = (PAGE_MM - _FIRST_COLUMN) / len(rings)
    shapes: list[Shape] = [
        text((_FIRST_COLUMN + len(rings) * column / 2, 3.2), "chainring, teeth", bold=True),
        text((_FIRST_COLUMN / 2, 9.4), "spr.", bold=True),
    ]
    tally = dict.fromkeys((WITHIN, LIMIT, SLACK, TIGHT), 0)
    bottom = _HEAD + len(sprockets) * _ROW
    for number, ring in enumerate(rings):
        shapes.append(text((_FIRST_COLUMN + (number + 0.5) * column, 9.4), str(ring), size_pt=12, bold=True))
    for row, teeth in enumerate(sprockets):
        y = _HEAD + (row + 0.5) * _ROW
        shapes.append(text((_FIRST_COLUMN / 2, y), str(teeth), size_pt=12, bold=True))
        for number, ring in enumerate(rings):
            used = max(rings) + max(sprockets) - ring - teeth
            kind = verdict(used, rated, 2 * short)
            tally[kind] += 1
            x = _FIRST_COLUMN + number * column
            if kind != WITHIN:
                shapes.append(box((x, y - _ROW / 2), column, _ROW, Pen(stroke="none", width_mm=0, fill=TINT)))
            shapes.append(
                _mark(kind, (x + 3.2, y))
                + text((x + 10.6, y), str(used), anchor="end")
                + text((x + 11.5, y), kind, anchor="start", bold=kind in (SLACK, TIGHT), part="verdict")
            )
    for row in range(len(sprockets)):
        shapes.append(line((0.4, _HEAD + row * _ROW), (PAGE_MM - 0.4, _HEAD + row * _ROW), THIN))
    shapes += [
        line((_FIRST_COLUMN + number * column, 6.5), (_FIRST_COLUMN + number * column, bottom), THIN)
        for number in range(len(rings))
    ]
    shapes.append(line((0.4, _HEAD), (PAGE_MM - 0.4, _HEAD), THICK))
    shapes.append(line((0.4, bottom), (PAGE_MM - 0.4, bottom), THICK))
    counted = ", ".join(f"{count} {kind}" for kind, count in tally.items() if count)
    return Drawing(
        name=_NAME,
        title=f"Take-up of the derailleur in every gear, rated {rated} teeth",
        description=(
            "Rows are sprockets, columns are chainrings. Each gear shows the teeth of take-up that it uses, counted "
            f"from the largest chainring on the largest sprocket, and how that stands to {rated} teeth: {counted}."
        ),
        width_mm=PAGE_MM,
        height_mm=bottom + 1.0,
        body="".join(shapes),
    )


DRAWING = DrawingKind(
    name=_NAME,
    words="how much of the derailleur's take-up each gear uses",
    make=_make,
    parameters=(
        Parameter(
            name="rings",
            words="teeth of each chainring",
            whole=True,
            many=1,
            most=3,
            low=9,
            high=70,
            fact=Fact("crankset.rings"),
        ),
        Parameter(
            name="sprockets",
            words="teeth of each sprocket",
            whole=True,
            many=1,
            most=14,
            low=9,
            high=70,
            fact=Fact("cassette.sprockets"),
        ),
        Parameter(
            name="rated",
            words="take-up that the derailleur is rated for",
            whole=True,
            low=0,
            high=80,
            fact=Fact("rear-derailleur.capacity-teeth"),
        ),
        Parameter(
            name="links-short",
            words="links that the chain lacks on the largest chainring and sprocket",
            whole=True,
            default=0,
            low=0,
            high=20,
        ),
    ),
)
