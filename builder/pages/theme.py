"""A theme: its stylesheets, templates, faces and script, read once; the only part of the pages that touches files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any

from jinja2 import DictLoader, Environment, StrictUndefined
from jinja2.sandbox import ImmutableSandboxedEnvironment

from builder.pages.markup import sentence

_TOKENS, _DARK, _CARD, _BLOCKS, _LARGE, _SITE = (
    "tokens.css",
    "dark.css",
    "card.css",
    "blocks.css",
    "large.css",
    "site.css",
)


class ThemeError(Exception):
    """A theme that can't be used; the message is one line that says what is missing where."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """What pages and cards are dressed in.

    `card_css` is the whole stylesheet of the cards; it is handed to the PDF writer once a process and not linked from
    each card. `blocks_css` is what the blocks of composed cards have beyond it, and
    `large_css` what service sheets and wall charts have. `assets` are the files of the site by
    their path below its root. `folder` is where `url()` in a stylesheet starts from.
    """

    name: str
    folder: Path
    card_css: str
    blocks_css: str
    large_css: str
    assets: Mapping[str, bytes]
    templates: Environment = field(compare=False, repr=False)


def load_theme(folder: Path) -> Theme:
    """Read the theme in `folder`.

    Raises:
        ThemeError: the folder lacks a stylesheet or its templates.
    """
    names = (_TOKENS, _DARK, _CARD, _BLOCKS, _LARGE, _SITE)
    tokens, dark, card, blocks, large, site = (_read(folder / name, folder) for name in names)
    sources = {path.name: _read(path, folder) for path in sorted((folder / "templates").glob("*.html"))}
    if not sources:
        raise ThemeError(f"{folder / 'templates'}: no templates")
    templates = templates_of(sources)
    assets = {"assets/site.css": "\n".join((tokens, dark, site)).encode()}
    for path in sorted(
        (
            *folder.glob("fonts/*"),
            *folder.glob("vendor/*"),
            *folder.glob("*.js"),
            *folder.glob("*.svg"),
            *folder.glob("rider.css"),
        )
    ):
        assets[f"assets/{path.relative_to(folder).as_posix()}"] = _bytes(path, folder)
    return Theme(
        name=folder.name,
        folder=folder,
        card_css=tokens + "\n" + card,
        blocks_css=blocks,
        large_css=large,
        assets=MappingProxyType(assets),
        templates=templates,
    )


class _Sandbox(ImmutableSandboxedEnvironment):
    """Jinja's sandbox, which remembers what it answers: the name of an attribute and the type alone decide it."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**options)
        self._answers: dict[tuple[type, str], bool] = {}

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """Whether a template may look at this attribute."""
        key = (type(obj), attr)
        if key not in self._answers:
            self._answers[key] = super().is_safe_attribute(obj, attr, value)
        return self._answers[key]


def templates_of(sources: Mapping[str, str]) -> Environment:
    """The templates of a theme, by the names of their files."""
    # A theme may come from anybody: its templates show what they are given, and reach nothing else.
    templates = _Sandbox(
        loader=DictLoader(sources),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    templates.filters["sentence"] = sentence
    return templates


def _read(path: Path, folder: Path) -> str:
    try:
        return _bytes(path, folder).decode("utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise ThemeError(f"{path}: the file is not UTF-8") from None


def _bytes(path: Path, folder: Path) -> bytes:
    """A file of the theme; one that lies elsewhere behind a link is not shown to the world."""
    try:
        if not path.resolve().is_relative_to(folder.resolve()):
            raise ThemeError(f"{path}: a link that leads out of the theme is not followed")
        return path.read_bytes()
    except OSError as error:
        raise ThemeError(f"{path}: {error.strerror}") from None
