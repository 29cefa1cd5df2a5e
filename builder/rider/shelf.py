"""The library and the dress of its pages ↔ one file of data, so that no source is read again where they are used.

Templates go as the Python that they come to, of which the byte code may be there already.
"""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from jinja2 import BaseLoader, Environment, Template, TemplateNotFound
from markupsafe import Markup

from builder.checks.registry import CHECKS
from builder.model.library import Library
from builder.pages.marks import MARKS
from builder.pages.theme import Sources, Theme, templates_of
from builder.rider.packing import OneOfEach, library_in, packed_together, rest_in
from builder.rider.ready_made import Codes, compiled


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What guides are tailored from, and what their pages are made with. `version` is that of the program."""

    library: Library
    theme: Theme
    version: str = ""


class _Generated(BaseLoader):
    """Templates as the Python that they come to."""

    def __init__(self, texts: Mapping[str, str], codes: Codes) -> None:
        self._texts, self._codes = texts, codes

    def load(self, environment: Environment, name: str, globals: MutableMapping[str, Any] | None = None) -> Template:
        """The template of that name."""
        if name not in self._texts:
            raise TemplateNotFound(name)
        code = compiled(self._texts[name], self._codes)
        return environment.template_class.from_code(environment, code, {} if globals is None else globals, None)


def generated(templates: Environment) -> dict[str, str]:
    """Each template as the Python that it comes to, without the file where it stands."""
    loader = templates.loader
    assert isinstance(loader, Sources)
    return {name: templates.compile(text, name, None, raw=True) for name, text in sorted(loader.texts.items())}


class Mismatch(Exception):
    """The program lacks a check that the builder has, or has one more."""


def packed(shelf: Shelf, templates: Mapping[str, str] | None = None, copies: OneOfEach | None = None) -> bytes:
    """The shelf as one file; `templates` are the theme's as `generated` tells, and `copies` are kept, where known."""
    theme = shelf.theme
    rest = {
        "name": theme.name,
        "card_css": theme.card_css,
        "blocks_css": theme.blocks_css,
        "bands_css": theme.bands_css,
        "large_css": theme.large_css,
        "templates": generated(theme.templates) if templates is None else dict(templates),
        "house": str(theme.marks["house"]),
        "icon": theme.icon,
        "version": shelf.version,
        "checks": {name: check.inputs for name, check in CHECKS.items()},
    }
    return packed_together(shelf.library, rest, copies)


def unpacked(data: bytes, library: Library | None = None, codes: Codes | None = None) -> Shelf:
    """The shelf of a file that `packed` wrote; of one from elsewhere it must not be asked.

    What a check asks for is taken from the file, since it takes long to be read from annotations.

    `library` is the one in the file, where it was opened before; `codes` is byte code that was kept, templates' too.

    Raises:
        Mismatch: it was written beside another program, whose checks are others.
    """
    held = rest_in(data)
    if [*held["checks"]] != [*CHECKS]:
        raise Mismatch("the program and its data are of different builds: a check would be left out in silence")
    for name, inputs in held["checks"].items():
        CHECKS[name].know(inputs)
    templates = templates_of({})
    templates.loader = _Generated(held["templates"], {} if codes is None else codes)
    theme = Theme(
        name=held["name"],
        folder=Path(held["name"]),
        card_css=held["card_css"],
        blocks_css=held["blocks_css"],
        bands_css=held["bands_css"],
        large_css=held["large_css"],
        assets=MappingProxyType({}),
        templates=templates,
        marks=MappingProxyType({**MARKS, "house": Markup(held["house"])}),
        icon=held["icon"],
    )
    return Shelf(library=library if library is not None else library_in(data), theme=theme, version=held["version"])
