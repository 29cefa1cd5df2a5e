"""The two ends of a chain, ready for their joiner: both inner for a quick link, inner and outer for a joining pin."""

from __future__ import annotations

from itertools import pairwise

from builder.drawings.canvas import (
    BODY,
    CENTRE,
    CLOSE,
    DETAIL,
    PAGE_MM,
    SHADE,
    SOLID,
    TINT,
    WHITE,
    Drawing,
    Pen,
    Point,
    Shape,
    box,
    circle,
    line,
    move,
    path,
    polygon,
    polyline,
    sweep,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter
from builder.drawings.marks import act_arrow, call_outs, heading
from builder.drawings.smaller import reduced
from builder.drawings.transmission import link_plate, roller
from builder.model.fields import Fact

_NAME = "chain-ends"
_PITCH = 11.0
_PLATE = 4.3
_ROLLER = 3.3
_SIDE_Y = 13.0
_PLAN_Y = 27.0
_JOINER_Y = 43.0
_PANEL = 52.0
_LEFT_END = 32.0  # the last pin or hole of the left end; the right end mirrors it
_RIGHT_END = PAGE_MM - _LEFT_END
_CUT = 3.0
_BREAK = ((-5.5, 0.5), (-1.8, -0.5), (1.8, 0.5), (5.5, -0.5))


def _stub(pin: float) -> float:
    """Where the link beyond the last drawn pin is cut off."""
    return _CUT if pin < PAGE_MM / 2 else PAGE_MM - _CUT


def _side_view(pins: tuple[float, ...], outer_first: bool, y: float, *, open_hole: bool = False) -> Shape:
    """A chain end from its side; `pins` runs from the free end inward. With `open_hole` the last outer pin is out."""
    inner: list[Shape] = []
    outer: list[Shape] = []
    stub = _stub(pins[-1])
    shade = BODY.filled(TINT) if (len(pins) % 2 == 1) != outer_first else BODY
    inner.append(box((min(pins[-1], stub), y - 2.5), abs(pins[-1] - stub), 5.0, shade))
    for index, (a, b) in enumerate(pairwise(pins)):
        is_outer = (index % 2 == 0) == outer_first
        kind = "outer-link" if is_outer else "inner-link"
        pen = BODY if is_outer else BODY.filled(TINT)
        (outer if is_outer else inner).append(
            link_plate((min(a, b), y), (max(a, b), y), _PLATE if is_outer else _PLATE - 0.5, pen, kind)
        )
    ends = [roller((pin, y), 1.6) if (not outer_first and index == 0) else "" for index, pin in enumerate(pins)]
    rivets = [
        circle((pin, y), 1.25, Pen(fill=WHITE if open_hole else SHADE))
        for index, pin in enumerate(pins)
        if index > 0 or outer_first
    ]
    if open_hole:
        rivets = [circle((pins[0], y), 1.25, DETAIL), *(circle((pin, y), 1.25, Pen(fill=SHADE)) for pin in pins[1:])]
    return "".join((*inner, *outer, *ends, *rivets))


def _plan_view(pins: tuple[float, ...], outer_first: bool, y: float, *, open_hole: bool = False) -> Shape:
    """The same end from above: inner plates hug the rollers, outer plates lie outside them."""
    shapes = []
    for index, (a, b) in enumerate(pairwise((*pins, _stub(pins[-1])))):
        is_outer = (index % 2 == 0) == outer_first
        left, right = max(min(a, b) - 3.4, _CUT), min(max(a, b) + 3.4, PAGE_MM - _CUT)
        gap = 3.1 if is_outer else 1.75
        for way in (-1, 1):
            top = y + way * gap - (1.15 if way < 0 else 0.0)
            pen = Pen(fill=WHITE if is_outer else TINT)
            shapes.append(box((left, top), right - left, 1.15, pen, round_mm=0.4))
    for index, pin in enumerate(pins):
        free = index == 0
        if not (free and outer_first):
            shapes.append(box((pin - _ROLLER, y - 1.7), 2 * _ROLLER, 3.4, DETAIL, round_mm=0.5))
        if not free or (outer_first and not open_hole):
            shapes.append(box((pin - 1.1, y - 5.0), 2.2, 10.0, Pen(fill=SHADE), round_mm=0.4))
            if not (free and outer_first):
                shapes.append(box((pin - _ROLLER, y - 1.7), 2 * _ROLLER, 3.4, DETAIL, round_mm=0.5))
    return "".join(shapes)


def _ends(right_is_outer: bool, y: float) -> Shape:
    """Both ends, from the side and from above, cut off at the edges of the drawing."""
    left = tuple(_LEFT_END - index * _PITCH for index in range(3))
    right = tuple(_RIGHT_END + index * _PITCH for index in range(3))
    shapes = []
    for pins, outer in ((left, False), (right, right_is_outer)):
        shapes.append(_side_view(pins, outer, y + _SIDE_Y, open_hole=outer))
        shapes.append(_plan_view(pins, outer, y + _PLAN_Y, open_hole=outer))
    blank = Pen(width_mm=0.0, stroke="none", fill=WHITE)
    for edge, way in ((_CUT, -1), (PAGE_MM - _CUT, 1)):
        shapes.append(box((edge if way > 0 else 0, y + _SIDE_Y - 6), _CUT, 12, blank))
        shapes.append(box((edge if way > 0 else 0, y + _PLAN_Y - 6), _CUT, 12, blank))
        for row in (_SIDE_Y, _PLAN_Y):
            shapes.append(polyline([(edge + shift, y + row + rise) for rise, shift in _BREAK]))
    shapes.append(line((_LEFT_END + 5, y + _SIDE_Y), (_RIGHT_END - 5, y + _SIDE_Y), CENTRE))
    return "".join(shapes)


def _link_half(left: Point, *, pin_right: bool) -> Shape:
    """Half of a quick link: a plate with a pin at one end and a keyhole at the other."""
    right = (left[0] + _PITCH, left[1])
    pin, hole = (right, left) if pin_right else (left, right)
    way = 1.0 if pin_right else -1.0
    x, y = hole
    neck = x + way * 3.4
    slot = path(
        (
            move((x, y - 0.75)),
            to((neck, y - 0.75)),
            sweep(1.35, (neck, y + 0.75), clockwise=pin_right, long=True),
            to((x, y + 0.75)),
            sweep(0.75, (x, y - 0.75), clockwise=pin_right),
            CLOSE,
        ),
        DETAIL,
    )
    plate = link_plate(left, right, _PLATE, BODY, "quick-link-half")
    return plate + slot + circle(pin, 1.5, Pen(fill=SHADE)) + circle(pin, 0.7, SOLID)


def _quick_link(y: float, words: str) -> tuple[Shape, list[tuple[str, Point, Point]]]:
    middle = PAGE_MM / 2
    row = y + _JOINER_Y
    shapes = (
        _ends(False, y),
        heading((middle, y + 3.4), "quick link"),
        _link_half((middle - 18.0, row), pin_right=True),
        _link_half((middle + 7.0, row), pin_right=False),
        act_arrow((middle - 12.5, row - 5.5), (middle - 7.5, row - 13.5)),
        act_arrow((middle + 12.5, row - 5.5), (middle + 7.5, row - 13.5)),
    )
    rows: list[tuple[str, Point, Point]] = [
        ("inner link at this end", (9.0, row), (_LEFT_END - 6.0, y + _PLAN_Y + 2.3)),
        ("inner link at that end too", (PAGE_MM - 9.0, row), (_RIGHT_END + 6.0, y + _PLAN_Y + 2.3)),
        (words, (middle, row), (middle - 4.9, row)),
    ]
    return "".join(shapes), rows


def _joining_pin(y: float) -> tuple[Shape, list[tuple[str, Point, Point]]]:
    middle = PAGE_MM / 2
    row = y + _JOINER_Y
    pin: list[Point] = [
        (middle - 12, row - 1.1),
        (middle + 0.5, row - 1.1),
        (middle + 0.5, row - 0.6),
        (middle + 1.3, row - 0.6),
        (middle + 1.3, row - 1.1),
        (middle + 9.5, row - 1.1),
        (middle + 12.5, row),
    ]
    below = [(x, 2 * row - pin_y) for x, pin_y in reversed(pin[:-1])]
    shapes = (
        _ends(True, y),
        heading((middle, y + 3.4), "joining pin"),
        polygon((*pin, *below), BODY.filled(SHADE), "joining-pin"),
        act_arrow((_LEFT_END + 5.5, y + _SIDE_Y), (_LEFT_END + 14.0, y + _SIDE_Y)),
        act_arrow((_RIGHT_END - 5.5, y + _SIDE_Y), (_RIGHT_END - 14.0, y + _SIDE_Y)),
    )
    rows: list[tuple[str, Point, Point]] = [
        ("inner link at one end", (9.0, row), (_LEFT_END - 6.0, y + _PLAN_Y + 2.3)),
        ("outer link at the other end, its hole open", (PAGE_MM - 9.0, row), (_RIGHT_END + 4.5, y + _PLAN_Y + 3.7)),
        ("joining pin; its guide end breaks off at the groove", (middle - 18.5, row), (middle - 8.0, row)),
    ]
    return "".join(shapes), rows


_LINK_WORDS = {
    "": "quick link, two halves",
    "quick-link": "quick link, two halves",
    "reusable-link": "quick link, two halves; may be used again if its maker says so",
    "single-use-link": "quick link, two halves; for one use, so fit a new one",
}


def _make(arguments: Arguments) -> Drawing:
    joiner = arguments.word("joiner")
    shapes: list[Shape] = []
    rows: list[tuple[str, Point, Point]] = []
    height = 0.0
    if joiner != "joining-pin":
        shape, found = _quick_link(height, _LINK_WORDS[joiner])
        shapes.append(shape)
        rows += found
        height += _PANEL
    if joiner in ("", "joining-pin"):
        shape, found = _joining_pin(height)
        shapes.append(shape)
        rows += found
        height += _PANEL
    numbers, legend = call_outs(rows)
    for_link = "For a quick link both ends are inner links. " if joiner != "joining-pin" else ""
    for_pin = "For a joining pin one end is an inner link, the other an outer link. " if height > _PANEL else ""
    if joiner == "joining-pin":
        for_pin = "For a joining pin one end is an inner link, the other an outer link. "
    drawing = Drawing(
        name=_NAME,
        title="The ends of a chain, ready to be joined",
        description=f"{for_link}{for_pin}Each end is shown from its side and from above.",
        width_mm=PAGE_MM,
        height_mm=height,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="what the ends of a chain must be for each kind of joiner",
    make=_make,
    things=(
        "chain",
        "quick-link",
        "joining-pin",
        "chain-pin",
    ),
    width_mm=60.0,
    parameters=(
        Parameter(
            name="joiner",
            words="the joiner; both kinds are drawn if not given",
            default="",
            choices=("", "quick-link", "reusable-link", "single-use-link", "joining-pin"),
            fact=Fact("worked-out.joiner"),
        ),
    ),
)
