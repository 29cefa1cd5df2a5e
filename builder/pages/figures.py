"""Drawings beside steps and checks, made from the numbers of the bike by `builder.drawings`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from builder.drawings.canvas import Drawing
from builder.drawings.registry import draw
from builder.drawings.subject import DrawingError, Number
from builder.tailoring.tailored import ShownStep

FONT = "'Atkinson Hyperlegible Next', sans-serif"
Draw = Callable[[str, Mapping[str, Number]], Drawing]


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureView:
    """A drawing on a page: its SVG with its height, its title and the words of its numbered call-outs."""

    svg: Markup
    title: str
    height_mm: float
    legend: tuple[str, ...] = ()


def view_of(drawing: Drawing, prefix: str) -> FigureView:
    """`drawing` for a page; `prefix` keeps its ids apart from those of other drawings there."""
    return FigureView(
        svg=Markup(drawing.to_svg(prefix=prefix, font_family=FONT)),
        title=drawing.title,
        height_mm=drawing.height_mm,
        legend=drawing.legend,
    )


def figure_of(step: ShownStep) -> Drawing | None:
    """The drawing that a step asks for; None where it asks for none or its numbers are not known for this bike."""
    if not step.figure:
        return None
    try:
        return draw(step.figure, dict(step.figure_numbers))
    except DrawingError:
        return None
