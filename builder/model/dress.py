"""How pages and cards are dressed: what a theme's `theme.yaml` says beside its stylesheets and templates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from builder.model.fields import Bounds
from builder.model.position import Places


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A typeface of a theme: the family's name, the file of one weight below the theme's folder, and that weight."""

    family: str
    file: str
    weight: Annotated[int, Bounds(100, 900)] = 400
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dress:
    """A theme: the shipped one that it is based on, and what is its own.

    `mark` is the file of the workshop's mark, an SVG or a PNG. `tokens` are sizes, distances and colours in place of
    those in the shipped `tokens.css`, and `dark` colours in place of those for a dark screen. `fonts` go before the
    faces of the shipped theme. `replaces` names shipped stylesheets of which nothing is taken.
    """

    based_on: str = "bench"
    mark: str = ""
    tokens: Mapping[str, str] = field(default_factory=dict)
    dark: Mapping[str, str] = field(default_factory=dict)
    fonts: tuple[Face, ...] = ()
    replaces: tuple[str, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)
