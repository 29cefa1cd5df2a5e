"""The way of the fluid when a hydraulic brake is bled from the caliper up to the lever."""

from __future__ import annotations

from builder.drawings.canvas import (
    ACCENT,
    BODY,
    CLOSE,
    DETAIL,
    PAGE_MM,
    SHADE,
    TINT,
    Drawing,
    Pen,
    Point,
    Shape,
    bend,
    box,
    circle,
    line,
    move,
    path,
    polygon,
    smooth,
    sweep,
    text,
    to,
)
from builder.drawings.drawing_kind import Arguments, DrawingKind
from builder.drawings.marks import act_arrow, call_outs, head
from builder.drawings.smaller import reduced

_NAME = "bleed-path"
_HOSE: tuple[Point, ...] = (
    (32.0, 35.0),
    (18.0, 36.0),
    (12.0, 48.0),
    (16.0, 64.0),
    (30.0, 74.0),
    (42.0, 82.0),
    (46.0, 90.0),
)


def _lever() -> Shape:
    """Handlebar, lever body with its port uppermost, blade."""
    return "".join(
        (
            box((58.0, 33.0), 28.0, 8.0, BODY.filled(SHADE), round_mm=1.0),
            box((54.0, 31.5), 6.0, 11.0, BODY, round_mm=1.0),
            path(
                (
                    move((32.0, 31.0)),
                    to((50.0, 29.0)),
                    bend((55.0, 28.6), (56.0, 33.0), (55.0, 37.0)),
                    to((54.0, 40.0)),
                    to((32.0, 39.0)),
                    CLOSE,
                ),
                BODY.filled(TINT),
                "lever-body",
            ),
            path(
                (
                    move((44.0, 39.6)),
                    bend((46.0, 47.0), (50.0, 49.0), (58.0, 49.0)),
                    to((78.0, 50.0)),
                    sweep(1.9, (78.0, 53.8)),
                    to((57.0, 53.0)),
                    bend((47.0, 53.0), (41.0, 50.0), (38.0, 39.3)),
                    CLOSE,
                ),
                BODY,
                "blade",
            ),
            circle((41.5, 42.0), 1.3, Pen(fill=SHADE)),
        )
    )


def _funnel() -> Shape:
    return "".join(
        (
            polygon(((32.0, 6.0), (54.0, 6.0), (54.0, 16.0), (46.0, 23.0), (40.0, 23.0), (32.0, 16.0)), DETAIL),
            polygon(
                ((32.0, 11.0), (54.0, 11.0), (54.0, 16.0), (46.0, 23.0), (40.0, 23.0), (32.0, 16.0)),
                Pen(stroke="none", width_mm=0, fill=TINT),
            ),
            line((32.0, 11.0), (54.0, 11.0)),
            polygon(
                ((32.0, 6.0), (54.0, 6.0), (54.0, 16.0), (46.0, 23.0), (40.0, 23.0), (32.0, 16.0)), Pen(width_mm=0.7)
            ),
            box((40.5, 23.0), 5.0, 6.6, BODY.filled(SHADE)),
            *(
                circle(place, size, DETAIL)
                for place, size in (((43.0, 20.0), 1.0), ((41.6, 16.0), 1.3), ((45.0, 13.6), 1.0))
            ),
        )
    )


def _caliper() -> Shape:
    return "".join(
        (
            path(
                (
                    move((38.0, 92.0)),
                    bend((38.0, 89.0), (42.0, 88.0), (46.0, 88.0)),
                    to((58.0, 88.0)),
                    bend((66.0, 88.0), (68.0, 94.0), (68.0, 99.0)),
                    bend((68.0, 106.0), (64.0, 108.0), (58.0, 108.0)),
                    to((44.0, 108.0)),
                    bend((39.0, 108.0), (38.0, 105.0), (38.0, 102.0)),
                    CLOSE,
                ),
                BODY.filled(TINT),
                "caliper",
            ),
            circle((52.0, 98.0), 6.4, BODY),
            circle((52.0, 98.0), 4.2, Pen(fill=SHADE)),
            box((66.6, 95.5), 5.4, 5.0, BODY.filled(SHADE)),
        )
    )


def _syringe() -> Shape:
    hose = ((72.0, 98.0), (80.0, 98.0), (82.0, 92.0), (80.0, 86.0))
    return "".join(
        (
            path(smooth(hose), Pen(width_mm=2.6)),
            path(smooth(hose), Pen(width_mm=1.6, stroke="#ffffff")),
            box((74.8, 64.0), 10.4, 22.0, DETAIL, round_mm=1.0),
            box((75.2, 72.0), 9.6, 13.6, Pen(stroke="none", width_mm=0, fill=TINT)),
            box((74.8, 64.0), 10.4, 22.0, Pen(width_mm=0.7), round_mm=1.0),
            box((75.2, 70.0), 9.6, 2.4, BODY.filled(SHADE)),
            box((79.0, 60.4), 2.0, 9.6, BODY),
            box((75.5, 58.8), 9.0, 1.8, BODY),
        )
    )


def _make(_: Arguments) -> Drawing:
    arrows = (
        head((12.6, 50.0), (13.6, 55.0), length=3.2, half_width=1.8, pen=Pen(fill=ACCENT, stroke="none", width_mm=0)),
        head((25.0, 71.2), (29.5, 74.4), length=3.2, half_width=1.8, pen=Pen(fill=ACCENT, stroke="none", width_mm=0)),
    )
    shapes = (
        path(smooth(_HOSE), Pen(width_mm=3.2), "hose"),
        path(smooth(_HOSE), Pen(width_mm=1.8, stroke="#ffffff")),
        path(smooth(_HOSE), Pen(width_mm=0.7, stroke=ACCENT, dash_mm=(1.6, 1.4))),
        *arrows,
        _lever(),
        _funnel(),
        _caliper(),
        _syringe(),
        act_arrow((87.7, 60.0), (87.7, 74.0)),
        act_arrow((60.0, 26.0), (60.0, 14.0)),
        text((63.5, 20.0), "air rises", anchor="start"),
    )
    numbers, legend = call_outs(
        (
            ("syringe with fresh fluid at the caliper, pressed slowly", (64.0, 72.0), (76.0, 78.0)),
            ("port of the caliper, opened for this only", (80.0, 106.0), (70.4, 99.0)),
            ("hose; the fluid goes up", (5.0, 66.0), (15.6, 63.0)),
            ("cup at the highest point, half full", (22.0, 12.0), (34.0, 14.0)),
            ("port of the lever, level and uppermost", (22.0, 24.0), (41.6, 26.6)),
            ("caliper; wheel and pads are out, a block holds the pistons", (28.0, 103.0), (41.0, 101.0)),
        )
    )
    drawing = Drawing(
        name=_NAME,
        title="Bleeding a hydraulic brake from below",
        description=(
            "Fresh fluid is pressed in slowly at the port of the caliper, the lowest point, goes up the hose, "
            "and comes "
            "out with the air into a cup on the port of the lever, the highest point. Where the maker shows "
            "another way, "
            "that way goes first."
        ),
        width_mm=PAGE_MM,
        height_mm=111.0,
        body="".join((*shapes, numbers)),
        legend=legend,
    )
    return reduced(drawing, 0.66)


DRAWING = DrawingKind(
    name=_NAME,
    words="the way of the fluid through a brake that is bled",
    make=_make,
    things=(
        "brake-fluid",
        "brake-hose",
        "bleed-port",
        "caliper-port",
        "lever-port",
    ),
    width_mm=60.0,
)
