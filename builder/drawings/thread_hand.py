"""Which way a thread turns to tighten and to loosen, seen from its head."""

from __future__ import annotations

from builder.drawings.canvas import BODY, PAGE_MM, SHADE, Drawing, Pen, Shape, box
from builder.drawings.drawing_kind import Arguments, DrawingKind, Parameter, act_of_the_step
from builder.drawings.fasteners import socket_head, thread
from builder.drawings.marks import call_outs, heading, seen_from, turn_arrow
from builder.drawings.smaller import reduced

_NAME = "thread-hand"
_HEAD_Y = 38.0
_RADIUS = 11.0
_ARROW = 16.0
_BOLT_Y = 66.0


def _panel(x: float, words: str, *, clockwise: bool) -> Shape:
    """One bolt from its head, with the way to turn it."""
    begin, end = (-150.0, 90.0) if clockwise else (-30.0, -270.0)
    return "".join(
        (
            heading((x, 14.5), words),
            socket_head((x, _HEAD_Y), _RADIUS, turn_deg=30),
            turn_arrow((x, _HEAD_Y), _ARROW, begin, end, part=f"turn-{words.split()[0]}"),
        )
    )


def _make(arguments: Arguments) -> Drawing:
    left_hand = arguments.word("hand") == "left"
    act = arguments.word("act")
    acts = ("tighten", "loosen") if act == "both" else (act,)
    places = (22.5, 67.5) if len(acts) == 2 else (PAGE_MM / 2,)
    shapes = [
        _panel(x, words, clockwise=(words == "tighten") != left_hand) for x, words in zip(places, acts, strict=True)
    ]
    shapes += [
        box((20.0, _BOLT_Y - 5.5), 9.0, 11.0, BODY, round_mm=1.0),
        thread((29.0, _BOLT_Y), 41.0, 3.4, left_hand=left_hand, pitch=2.2),
        box((20.0, _BOLT_Y - 2.2), 5.0, 4.4, Pen(fill=SHADE)),
    ]
    shapes.append(seen_from((PAGE_MM / 2, 4.8), "seen from the head"))
    hand = "left" if left_hand else "right"
    numbers, legend = call_outs(
        (
            ("head of the bolt; look at it from here", (7.0, _BOLT_Y), (20.0, _BOLT_Y)),
            (f"{hand}-hand thread", (PAGE_MM - 7.0, _BOLT_Y), (70.0, _BOLT_Y)),
        )
    )
    told = ", ".join(
        f"{words} {'clockwise' if (words == 'tighten') != left_hand else 'anticlockwise'}" for words in acts
    )
    drawing = Drawing(
        name=_NAME,
        title=f"{hand.capitalize()}-hand thread: which way to turn",
        description=f"Seen from the head of the bolt: {told}.",
        width_mm=PAGE_MM,
        height_mm=_BOLT_Y + 8.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.5)


DRAWING = DrawingKind(
    name=_NAME,
    words="which way a thread turns to tighten and to loosen",
    make=_make,
    things=("crank-bolt", "crank-bolts", "extracting-bolt"),
    width_mm=45.0,
    parameters=(
        Parameter(
            name="hand",
            words="hand of the thread",
            choices=("right", "left"),
            told=(("crank-bolts", "right"), ("extracting-bolt", "right")),
        ),
        act_of_the_step("both"),
    ),
)
