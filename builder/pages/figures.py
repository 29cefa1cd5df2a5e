"""Drawings beside steps and checks, made from the numbers of the bike by `builder.drawings`."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from builder.drawings.canvas import Drawing
from builder.drawings.drawing_kind import DrawingError, Number
from builder.drawings.photograph import photograph
from builder.drawings.registry import draw
from builder.pages import paths
from builder.tailoring.tailored import ShownStep

FONT = "'Atkinson Hyperlegible Next', sans-serif"
Draw = Callable[[str, Mapping[str, Number]], Drawing]
# How drawings begin, and their letters with the rings round those that are call-outs: see `builder.drawings`.
_SIZE = re.compile(r'width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"')
_TEXT = re.compile(r'(<text x="[-\d.]+" y=")([-\d.]+)(" font-size=")([\d.]+)"')
_RING = re.compile(r'(<circle [^>]*r=")2\.7(")')
# How a drawing is named, where it says by what.
_NAMED = re.compile(r'aria-labelledby="([\w-]+)-title')
# The middle of a letter lies so far above its foot, as a share of its size.
_MIDDLE = 0.36


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureView:
    """A drawing on a page: its SVG with its size, its title and the words of its numbered call-outs."""

    svg: Markup
    title: str
    width_mm: float
    height_mm: float
    legend: tuple[str, ...] = ()


def view_of(drawing: Drawing, prefix: str) -> FigureView:
    """`drawing` for a page; `prefix` keeps its ids apart from those of other drawings there."""
    return FigureView(
        svg=Markup(drawing.to_svg(prefix=prefix, font_family=FONT)),
        title=drawing.title,
        width_mm=drawing.width_mm,
        height_mm=drawing.height_mm,
        legend=drawing.legend,
    )


def smaller(figure: FigureView, share: float, letters: float) -> FigureView:
    """The figure at a share of its size, its letters and call-outs larger by `letters` than the share makes them."""

    def sized(found: re.Match[str]) -> str:
        # A larger ring may reach a little over the edge.
        over = 2.7 * (letters - 1)
        width, height = ((float(found[place]) + 2 * over) * share for place in (1, 2))
        box = f"{-over:.2f} {-over:.2f} {float(found[3]) + 2 * over:.2f} {float(found[4]) + 2 * over:.2f}"
        return f'width="{width:.2f}mm" height="{height:.2f}mm" viewBox="{box}"'

    def lettered(found: re.Match[str]) -> str:
        foot, size = float(found[2]), float(found[4])
        return f'{found[1]}{foot + _MIDDLE * size * (letters - 1):.2f}{found[3]}{size * letters:.2f}"'

    svg = _SIZE.sub(sized, str(figure.svg), count=1)
    svg = _RING.sub(rf"\g<1>{2.7 * letters:.2f}\g<2>", _TEXT.sub(lettered, svg))
    wide, high = ((edge + 2 * 2.7 * (letters - 1)) * share for edge in (figure.width_mm, figure.height_mm))
    return replace(figure, svg=Markup(svg), width_mm=wide, height_mm=high)


def named_again(figure: FigureView) -> FigureView:
    """The figure with ids of its own, for a document that holds it twice."""
    svg = str(figure.svg)
    for name in _NAMED.findall(svg):
        for part in ("title", "desc"):
            svg = svg.replace(f"{name}-{part}", f"{name}-again-{part}")
    return replace(figure, svg=Markup(svg))


def figure_of(step: ShownStep) -> Drawing | None:
    """What a step shows beside it, drawn or taken; None where there is nothing, or a bike's numbers are not known."""
    if step.photo is not None and step.step.photo is not None:
        said = step.step.photo
        return photograph(
            href=f"{paths.PHOTOS}/{step.photo.name}",
            width_px=step.photo.width_px,
            height_px=step.photo.height_px,
            alt=said.alt,
            named=((one.text.rstrip("."), one.across_percent, one.down_percent) for one in said.call_outs),
        )
    if not step.figure:
        return None
    try:
        return draw(step.figure, dict(step.figure_numbers))
    except DrawingError:
        return None
