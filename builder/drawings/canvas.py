"""Turn points and words into SVG: the line style that all drawings share, and the shapes that they are made of.

One user unit is one millimetre on paper, x to the right and y down; angles are degrees, clockwise from the right as
seen. A shape is SVG text; a drawing is shapes on a white ground. Lines are 0.7 mm for outlines and 0.35 mm for all
else (ISO 128 line group 0.7), text is never under 10 pt, and the one accent only ever repeats what a shape already
says, so that nothing is lost in greyscale.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from markupsafe import escape

Point = tuple[float, float]
Shape = str

THIN_MM = 0.35
THICK_MM = 0.7
INK = "#000000"
WHITE = "#ffffff"
TINT = "#e6e6e6"
SHADE = "#b5b5b5"
ACCENT = "#005fa8"
CLEAR = "none"

PAGE_MM = 90.0  # narrower than the text of every card that shows drawings at their size
LEAST_PT = 10.0
MM_PER_PT = 25.4 / 72


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """How a shape is drawn: line width [mm], line colour, fill, and dashes [mm]."""

    width_mm: float = THIN_MM
    stroke: str = INK
    fill: str = CLEAR
    dash_mm: tuple[float, ...] = ()

    def filled(self, fill: str) -> Pen:
        """The same line round another fill."""
        return replace(self, fill=fill)


THIN = Pen()
THICK = Pen(width_mm=THICK_MM)
DETAIL = Pen(fill=WHITE)
BODY = Pen(width_mm=THICK_MM, fill=WHITE)
HIDDEN = Pen(dash_mm=(1.6, 1.0))
CENTRE = Pen(dash_mm=(5.0, 1.0, 0.7, 1.0))
SOLID = Pen(width_mm=0.0, stroke=CLEAR, fill=INK)
ACT = Pen(width_mm=THICK_MM, stroke=ACCENT)
ACT_SOLID = Pen(width_mm=0.0, stroke=CLEAR, fill=ACCENT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A finished drawing: what it shows in words, its size on paper, and the shapes.

    `legend` names the numbered call-outs, the first one being number 1.
    """

    name: str
    title: str
    description: str
    width_mm: float
    height_mm: float
    body: Shape
    legend: tuple[str, ...] = ()

    @property
    def svg(self) -> str:
        """The SVG with its own name before its ids; enough where the drawing stands once on a page."""
        return self.to_svg()

    def to_svg(self, *, prefix: str = "", font_family: str = "sans-serif") -> str:
        """The SVG with `prefix` before its ids, so that many drawings can stand on one page."""
        mark = escape(prefix or self.name)
        named = "".join(f" {number} {words}." for number, words in enumerate(self.legend, start=1))
        width, height = written(self.width_mm), written(self.height_mm)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
            f'viewBox="0 0 {width} {height}" role="img" aria-labelledby="{mark}-title {mark}-desc" '
            f'font-family="{escape(font_family)}" stroke-linecap="round" stroke-linejoin="round">'
            f'<title id="{mark}-title">{escape(self.title)}</title>'
            f'<desc id="{mark}-desc">{escape(self.description + named)}</desc>'
            f'<rect width="{width}" height="{height}" fill="{WHITE}"/>{self.body}</svg>'
        )


def written(value: float) -> str:
    """A coordinate with at most two decimals, and no negative zero: the same text on every machine."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _at(point: Point) -> str:
    return f"{written(point[0])} {written(point[1])}"


def _pen(pen: Pen, part: str) -> str:
    line = "" if pen.stroke == CLEAR else f' stroke="{pen.stroke}" stroke-width="{written(pen.width_mm)}"'
    dash = f' stroke-dasharray="{" ".join(map(written, pen.dash_mm))}"' if pen.dash_mm else ""
    name = f' data-part="{escape(part)}"' if part else ""
    return f' fill="{pen.fill}"{line}{dash}{name}'


def line(start: Point, end: Point, pen: Pen = THIN, part: str = "") -> Shape:
    """A straight line."""
    (x1, y1), (x2, y2) = start, end
    return f'<line x1="{written(x1)}" y1="{written(y1)}" x2="{written(x2)}" y2="{written(y2)}"{_pen(pen, part)}/>'


def circle(centre: Point, radius: float, pen: Pen = THIN, part: str = "") -> Shape:
    """A full circle."""
    return f'<circle cx="{written(centre[0])}" cy="{written(centre[1])}" r="{written(radius)}"{_pen(pen, part)}/>'


def ellipse(centre: Point, across: float, down: float, pen: Pen = THIN, part: str = "") -> Shape:
    """An upright ellipse with half-axes `across` and `down`."""
    (x, y) = centre
    return (
        f'<ellipse cx="{written(x)}" cy="{written(y)}" rx="{written(across)}" ry="{written(down)}"{_pen(pen, part)}/>'
    )


def box(corner: Point, width: float, height: float, pen: Pen = THIN, *, round_mm: float = 0.0, part: str = "") -> Shape:
    """An upright rectangle from its top left corner, its own corners rounded by `round_mm`."""
    x, y = corner
    corners = f' rx="{written(round_mm)}"' if round_mm else ""
    return (
        f'<rect x="{written(x)}" y="{written(y)}" width="{written(width)}" height="{written(height)}"'
        f"{corners}{_pen(pen, part)}/>"
    )


def polyline(points: Iterable[Point], pen: Pen = THIN, part: str = "") -> Shape:
    """Straight lines from point to point."""
    return f'<polyline points="{" ".join(map(_at, points))}"{_pen(pen, part)}/>'


def polygon(points: Iterable[Point], pen: Pen = THIN, part: str = "") -> Shape:
    """Straight lines from point to point and back to the first."""
    return f'<polygon points="{" ".join(map(_at, points))}"{_pen(pen, part)}/>'


def path(commands: Iterable[str], pen: Pen = THIN, part: str = "", *, holes: bool = False) -> Shape:
    """A path of commands made by `move`, `to`, `bend`, `sweep` and `CLOSE`; with `holes`, inner loops stay open."""
    rule = ' fill-rule="evenodd"' if holes else ""
    return f'<path d="{" ".join(commands)}"{rule}{_pen(pen, part)}/>'


CLOSE = "Z"


def move(point: Point) -> str:
    """Path command: begin at `point`."""
    return f"M{_at(point)}"


def to(point: Point) -> str:
    """Path command: straight to `point`."""
    return f"L{_at(point)}"


def bend(first: Point, second: Point, end: Point) -> str:
    """Path command: a cubic curve to `end`, led by two control points."""
    return f"C{_at(first)} {_at(second)} {_at(end)}"


def sweep(radius: float, end: Point, *, clockwise: bool = True, long: bool = False) -> str:
    """Path command: a circular arc to `end`."""
    return f"A{written(radius)} {written(radius)} 0 {int(long)} {int(clockwise)} {_at(end)}"


def smooth(points: Sequence[Point], *, closed: bool = False) -> tuple[str, ...]:
    """Path commands for a soft curve through all points (Catmull-Rom, as cubic curves)."""
    count = len(points)
    steps = count if closed else count - 1

    def near(index: int) -> Point:
        return points[index % count] if closed else points[min(max(index, 0), count - 1)]

    commands = [move(points[0])]
    for index in range(steps):
        before, start, end, after = (near(index + shift) for shift in (-1, 0, 1, 2))
        first = (start[0] + (end[0] - before[0]) / 6, start[1] + (end[1] - before[1]) / 6)
        second = (end[0] - (after[0] - start[0]) / 6, end[1] - (after[1] - start[1]) / 6)
        commands.append(bend(first, second, end))
    return (*commands, CLOSE) if closed else tuple(commands)


def arc(centre: Point, radius: float, begin_deg: float, end_deg: float, pen: Pen = THIN, part: str = "") -> Shape:
    """A circular arc from one angle to another, clockwise if the second is greater."""
    return path(arc_commands(centre, radius, begin_deg, end_deg), pen, part)


def arc_commands(centre: Point, radius: float, begin_deg: float, end_deg: float, *, joined: bool = False) -> list[str]:
    """Path commands of an arc; `joined` goes straight to its start from where the path stands."""
    start, end = round_at(centre, radius, begin_deg), round_at(centre, radius, end_deg)
    first = to(start) if joined else move(start)
    return [first, sweep(radius, end, clockwise=end_deg > begin_deg, long=abs(end_deg - begin_deg) > 180)]


def round_at(centre: Point, radius: float, angle_deg: float) -> Point:
    """The point at `angle_deg` on a circle."""
    angle = math.radians(angle_deg)
    return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))


def group(shapes: Iterable[Shape], *, shift: Point = (0.0, 0.0), turn_deg: float = 0.0, part: str = "") -> Shape:
    """Shapes turned about the origin, then moved, together."""
    moves = f"translate({_at(shift)})" if shift != (0.0, 0.0) else ""
    turns = f"rotate({written(turn_deg)})" if turn_deg else ""
    transform = f' transform="{" ".join(filter(None, (moves, turns)))}"' if moves or turns else ""
    name = f' data-part="{escape(part)}"' if part else ""
    return f"<g{transform}{name}>{''.join(shapes)}</g>"


def text(
    at: Point,
    words: str,
    *,
    size_pt: float = LEAST_PT,
    anchor: str = "middle",
    bold: bool = False,
    colour: str = INK,
    plate: bool = False,
    part: str = "",
) -> Shape:
    """One line of words, its capitals centred on the height of `at`; `plate` clears the ground behind it.

    `anchor` is `start`, `middle` or `end`. A size under 10 pt is a mistake in the drawing's code.
    """
    if size_pt < LEAST_PT:
        raise ValueError(f"text of {size_pt:g} pt is under the least size of {LEAST_PT:g} pt")
    size_mm = size_pt * MM_PER_PT
    weight = ' font-weight="bold"' if bold else ""
    name = f' data-part="{escape(part)}"' if part else ""
    ground = ""
    if plate:
        width = text_width_mm(words, size_pt=size_pt, bold=bold) + 1.0
        left = at[0] - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        left += {"start": -0.5, "middle": 0.0, "end": 0.5}[anchor]
        clear = Pen(stroke=CLEAR, width_mm=0, fill=WHITE)
        ground = box((left, at[1] - 0.58 * size_mm), width, 1.16 * size_mm, clear, part="ground")
    return (
        f'{ground}<text x="{written(at[0])}" y="{written(at[1] + 0.36 * size_mm)}" font-size="{written(size_mm)}" '
        f'text-anchor="{anchor}"{weight} fill="{colour}"{name}>{escape(words)}</text>'
    )


def lines_of_text(
    at: Point, lines: Sequence[str], *, size_pt: float = LEAST_PT, anchor: str = "middle", bold: bool = False
) -> Shape:
    """Several lines of words, the first one centred on the height of `at`."""
    step = 1.25 * size_pt * MM_PER_PT
    x, y = at
    return "".join(
        text((x, y + index * step), words, size_pt=size_pt, anchor=anchor, bold=bold)
        for index, words in enumerate(lines)
    )


_NARROW = frozenset("iIjlft.,:;'|!()[]/ ")
_WIDE = frozenset("mwMW%@")


def text_width_mm(words: str, *, size_pt: float = LEAST_PT, bold: bool = False) -> float:
    """How wide a line of words may become [mm], a little more than in the usual sans faces."""
    ems = sum(0.37 if char in _NARROW else 0.95 if char in _WIDE else 0.64 for char in words)
    return ems * size_pt * MM_PER_PT * (1.08 if bold else 1.0)
