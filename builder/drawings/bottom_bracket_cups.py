"""The cups of a bottom bracket: which way each is turned, or how they are pressed in."""

from __future__ import annotations

from builder.drawings.canvas import (
    BODY,
    CENTRE,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    box,
    circle,
    line,
    polygon,
    round_at,
    text,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, act_of_the_step
from builder.drawings.fasteners import thread
from builder.drawings.marks import act_arrow, call_outs, heading, seen_from, turn_arrow
from builder.drawings.smaller import reduced
from builder.model.fields import Fact

_NAME = "bottom-bracket-cups"
_PLAN_Y = 20.0
_FACE_Y = 77.0


def _cup(x: float, *, clockwise: bool, part: str) -> Shape:
    """A cup from outside with its notches, and the way it tightens."""
    points: list[Point] = []
    for index in range(16):
        angle = 22.5 * index
        points += [
            round_at((x, _FACE_Y), radius, angle + turn)
            for radius, turn in ((11.6, -6.5), (10.0, -4.5), (10.0, 4.5), (11.6, 6.5))
        ]
    begin, end = (-150.0, 60.0) if clockwise else (-30.0, -240.0)
    return "".join(
        (
            polygon(points, BODY.filled(SHADE), "cup"),
            circle((x, _FACE_Y), 8.2, BODY),
            circle((x, _FACE_Y), 6.4, Pen(fill=TINT)),
            circle((x, _FACE_Y), 4.4, BODY),
            turn_arrow((x, _FACE_Y), 16.0, begin, end, part=part),
        )
    )


def _shell(kind: str) -> Shape:
    """Shell and cups from above, drive side at the right."""
    y = _PLAN_Y
    shapes = [box((27.0, y - 9.0), 36.0, 18.0, BODY.filled(TINT), part="shell")]
    pressed = kind == "pressed"
    for way in (-1, 1):
        left = 63.0 if way > 0 else 27.0 - 12.0
        if pressed:
            shapes.append(box((left, y - 7.0), 12.0, 14.0, BODY))
        else:
            left_hand = way > 0 and kind == "threaded-left-right"
            shapes.append(thread((left, y), 12.0, 7.0, left_hand=left_hand, pitch=1.9))
        outer = 75.0 if way > 0 else 10.0
        shapes.append(box((outer, y - 9.6), 5.0, 19.2, BODY.filled(SHADE), round_mm=0.8))
    shapes.append(line((3.0, y), (PAGE_MM - 3.0, y), CENTRE))
    return "".join(shapes)


def _make(arguments: Arguments) -> Drawing:
    kind = arguments.word("shell")
    pressed = kind == "pressed"
    act = arguments.word("act")
    tighten = act == "tighten"
    left_x, right_x = 22.0, 68.0
    hands = {"threaded-left-right": ("right-hand", "left-hand"), "threaded-both-right": ("right-hand", "right-hand")}
    shapes: list[Shape] = [seen_from((PAGE_MM / 2, 4.0), "from above, front at the top"), _shell(kind)]
    rows: list[tuple[str, Point, Point]] = [("shell of the frame", (45.0, 36.5), (45.0, _PLAN_Y + 7.0))]
    if pressed:
        y = _PLAN_Y
        shapes += [
            act_arrow((2.5, y - 5.0), (10.0, y - 5.0)),
            act_arrow((PAGE_MM - 2.5, y - 5.0), (PAGE_MM - 10.0, y - 5.0)),
        ]
        rows += [
            ("bearing cup of the left side, pressed in square with a press", (16.0, 36.5), (20.0, y + 5.0)),
            ("bearing cup of the drive side, pressed in the same way", (74.0, 36.5), (70.0, y + 5.0)),
        ]
        told = "Both cups are pressed into the shell, square to it; nothing is turned."
        height = 41.0
    else:
        left_hand, right_hand = hands[kind]
        right_clockwise = (right_hand == "right-hand") == tighten
        ways = {True: "clockwise", False: "anticlockwise"}
        shapes += [
            heading((PAGE_MM / 2, 46.0), f"to {act}"),
            seen_from((PAGE_MM / 2, 53.5), "seen from outside each cup"),
            _cup(left_x, clockwise=tighten, part="turn-other-side"),
            _cup(right_x, clockwise=right_clockwise, part="turn-drive-side"),
            *(
                text((x, _FACE_Y + down), words)
                for x, side, clockwise in ((left_x, "left side", tighten), (right_x, "drive side", right_clockwise))
                for down, words in ((21.5, side), (28.5, ways[clockwise]))
            ),
        ]
        rows += [
            (f"cup of the left side, {left_hand} thread", (16.0, 36.0), (20.0, _PLAN_Y + 5.0)),
            (f"cup of the drive side, {right_hand} thread", (74.0, 36.0), (70.0, _PLAN_Y + 5.0)),
        ]
        told = (
            f"To {act}, seen from outside, the cup of the drive side turns {ways[right_clockwise]}, the other cup "
            f"{ways[tighten]}."
        )
        height = _FACE_Y + 33.0
    numbers, legend = call_outs(rows)
    drawing = Drawing(
        name=_NAME,
        title="The cups of a bottom bracket",
        description=f"From above, drive side at the right. {told}",
        width_mm=PAGE_MM,
        height_mm=height,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="which way the cups of a bottom bracket turn",
    make=_make,
    things=("cup", "bottom-bracket", "right-cup-left-hand", "right-cup-right-hand", "left-cup"),
    width_mm=60.0,
    parameters=(
        Parameter(
            name="shell",
            words="kind of shell",
            choices=("threaded-left-right", "threaded-both-right", "pressed"),
            told=(("right-cup-left-hand", "threaded-left-right"), ("right-cup-right-hand", "threaded-both-right")),
            fact=Fact("frame.shell"),
        ),
        act_of_the_step("tighten"),
    ),
)
