"""A theme: its stylesheets, templates, faces and scripts, read once; the only part of the pages that touches files.

    folders laid over each other ─► one stylesheet a kind, one template a name, the files of the site

A theme is made of layers. The lowest is whole; each above it adds to the stylesheets below, or replaces them where it
says so, and puts templates and files in the place of those that are called the same.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType, TracebackType
from typing import Any

from jinja2 import (
    BaseLoader,
    Environment,
    StrictUndefined,
    Template,
    TemplateError,
    TemplateNotFound,
    TemplateSyntaxError,
)
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup

from builder.model.dress import Dress
from builder.model.sentences import sentence
from builder.pages.marks import MARKS
from builder.pages.reading_distance import Distances, distances_of

_TOKENS, _DARK, _EDGE, _CARD, _BLOCKS, _BANDS, _LARGE, _SITE, _RIDER = STYLESHEETS = (
    "tokens.css",
    "dark.css",
    "edge.css",
    "card.css",
    "blocks.css",
    "bands.css",
    "large.css",
    "site.css",
    "rider.css",
)
TEMPLATES = "templates"
_ASSETS = ("fonts/*", "vendor/*", "images/*", "*.js", "*.svg", "*.png")
_ICON = "leaf.svg"
# A face that nothing is known of may be wider than the shipped one by so much: then less is enlarged.
_UNKNOWN_WIDTH = "1.1"
_TYPES = {".svg": "image/svg+xml", ".png": "image/png"}
_SAID = re.compile(r"--([\w-]+):\s*([^;{}]+?)\s*;")
_LETTER_WIDTH = re.compile(r".*--letter-width:\s*(\d+(?:\.\d+)?)", re.DOTALL)
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)


class ThemeError(Exception):
    """A theme that can't be used; the message is one line that says what is missing where."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One folder of a theme, and what its `theme.yaml` says."""

    folder: Path
    dress: Dress = field(default=Dress())


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """What pages and cards are dressed in.

    `card_css` is the whole stylesheet of the cards; it is handed to the PDF writer once a process and not linked from
    each card. `blocks_css` is what the blocks of composed cards have beyond it, `bands_css` the whole stylesheet of
    their bands, and `large_css` what service sheets and wall charts have. `assets` are the files of the site by their
    path below its root. `folder` is where `url()` in a stylesheet starts from: what lies there in any layer is among
    the assets. `marks` are the small marks by name, `icon` is the site's own among the assets. `tokens` and `dark` are
    the values that hold on paper and light screens, and on a dark one. `digest` names all of it, where somebody worked
    that out.
    """

    name: str
    folder: Path
    card_css: str
    blocks_css: str
    bands_css: str
    large_css: str
    assets: Mapping[str, bytes]
    templates: Environment = field(compare=False, repr=False)
    marks: Mapping[str, Any] = field(default_factory=lambda: MARKS)
    icon: str = f"assets/{_ICON}"
    layers: tuple[Layer, ...] = ()
    tokens: Mapping[str, str] = field(default_factory=dict)
    dark: Mapping[str, str] = field(default_factory=dict)
    digest: str = ""

    def file(self, address: str) -> bytes | None:
        """The file that a stylesheet means by `address`."""
        return self.assets.get(f"assets/{address}")

    @property
    def distances(self) -> Distances:
        """From where its cards are read."""
        return distances_of(self.card_css)

    @property
    def letter_width(self) -> float:
        """How wide the letters of its face are against those of the shipped face, by which room is reckoned."""
        found = _LETTER_WIDTH.search(self.card_css)
        return 1.0 if found is None else float(found[1])


def known_by(theme: Theme) -> tuple[str, tuple[Theme, ...]]:
    """What stands for a theme in a memory: its digest, or itself where it has none."""
    return (theme.digest, ()) if theme.digest else ("", (theme,))


def load_theme(*layers: Layer | Path) -> Theme:
    """Read a theme, its lowest layer first.

    Raises:
        ThemeError: the lowest layer lacks a stylesheet or its templates, or a file can't be taken.
    """
    whole = tuple(one if isinstance(one, Layer) else Layer(folder=one) for one in layers)
    sheets = {name: _sheet(name, whole) for name in STYLESHEETS}
    sources: dict[str, str] = {}
    own: dict[str, str] = {}
    assets: dict[str, bytes] = {}
    for number, layer in enumerate(whole):
        for path in sorted((layer.folder / TEMPLATES).glob("*.html")):
            sources[path.name] = _read(path, layer.folder)
            if number:
                own[path.name] = str(path)
        for path in sorted(path for pattern in _ASSETS for path in layer.folder.glob(pattern)):
            assets[f"assets/{path.relative_to(layer.folder).as_posix()}"] = _bytes(path, layer.folder)
    if not sources:
        raise ThemeError(f"{whole[0].folder / TEMPLATES}: no templates")
    assets["assets/site.css"] = "\n".join((sheets[_TOKENS], sheets[_DARK], sheets[_SITE])).encode()
    assets["assets/rider.css"] = sheets[_RIDER].encode()
    marks, icon = _own_mark(whole)
    tokens = values_in(sheets[_TOKENS])
    return Theme(
        name=whole[-1].folder.name,
        folder=whole[-1].folder,
        card_css="\n".join((sheets[_TOKENS], sheets[_EDGE], sheets[_CARD])),
        blocks_css=sheets[_BLOCKS],
        bands_css="\n".join((sheets[_TOKENS], sheets[_EDGE], sheets[_BANDS])),
        large_css=sheets[_LARGE],
        assets=MappingProxyType(assets),
        templates=templates_of(sources, own),
        marks=marks,
        icon=icon,
        layers=whole,
        tokens=MappingProxyType(tokens),
        dark=MappingProxyType({**tokens, **values_in(sheets[_DARK])}),
    )


def values_in(css: str) -> dict[str, str]:
    """The tokens that a stylesheet declares, each with its last value."""
    return dict(_SAID.findall(_COMMENT.sub("", css)))


def faces_of(css: str) -> tuple[str, ...]:
    """The families that text is set in, in their order: the last `--face` says which."""
    named = values_in(css).get("face", "")
    return tuple(one.strip().strip("\"'") for one in named.split(",") if one.strip())


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


def templates_of(sources: Mapping[str, str], own: Mapping[str, str] = MappingProxyType({})) -> Environment:
    """The templates of a theme, by the names of their files; `own` says where those stand that a layer puts in place.

    A template of a layer that fails raises `ThemeError` with its place.
    """
    # A theme may come from anybody: its templates show what they are given, and reach nothing else.
    templates = _Sandbox(
        loader=Sources(sources, own),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    templates.template_class = _Placed
    templates.filters["sentence"] = sentence
    return templates


class Sources(BaseLoader):
    """Templates by name; those of a layer know the file in which they stand."""

    def __init__(self, texts: Mapping[str, str], own: Mapping[str, str]) -> None:
        self.texts, self.own = texts, own

    def get_source(
        self,
        environment: Environment,  # noqa: ARG002
        template: str,
    ) -> tuple[str, str | None, Callable[[], bool] | None]:
        """The text of a template, and its file where it has one."""
        if template not in self.texts:
            raise TemplateNotFound(template)
        return self.texts[template], self.own.get(template), None

    def list_templates(self) -> list[str]:
        """The names of all templates."""
        return sorted(self.texts)


class _Placed(Template):
    """A template whose mistakes are told with their place, where they stand in a layer's own."""

    def render(self, *args: Any, **kwargs: Any) -> str:
        """The text that comes of the template."""
        try:
            return super().render(*args, **kwargs)
        except Exception as error:
            loader = self.environment.loader
            own = frozenset(loader.own.values()) if isinstance(loader, Sources) else frozenset()
            place = _place(error, own)
            if not place:
                raise
            raise ThemeError(f"{place}: {_words(error)}") from error


def _place(error: Exception, own: frozenset[str]) -> str:
    """The innermost line of a layer's own templates at which something went wrong; '' where it was in none."""
    if isinstance(error, TemplateSyntaxError) and error.filename in own:
        return f"{error.filename}:{error.lineno}"
    found, at = "", error.__traceback__
    while isinstance(at, TracebackType):
        if at.tb_frame.f_code.co_filename in own:
            found = f"{at.tb_frame.f_code.co_filename}:{at.tb_lineno}"
        at = at.tb_next
    return found


def _words(error: Exception) -> str:
    said = (error.message if isinstance(error, TemplateError) else str(error)) or type(error).__name__
    return " ".join(said.split())


def _sheet(name: str, layers: tuple[Layer, ...]) -> str:
    """The stylesheet that all layers come to, each after those below it."""
    text = ""
    for number, layer in enumerate(layers):
        if name in layer.dress.replaces:
            text = ""
        path = layer.folder / name
        if number == 0 or path.exists() or path.is_symlink():
            text += ("\n" if text else "") + _read(path, layer.folder)
        text += _said(name, layer.dress, text)
    return text


def _said(name: str, dress: Dress, below: str) -> str:
    """What a layer's `theme.yaml` adds to a stylesheet."""
    if name == _DARK and dress.dark:
        return f"\n@media screen and (prefers-color-scheme: dark) {{\n{_root(dress.dark)}}}\n"
    if name != _TOKENS:
        return ""
    faces = "".join(
        f'@font-face {{ font-family: "{face.family}"; src: url("{face.file}"); font-weight: {face.weight}; '
        "font-display: swap }\n"
        for face in dress.fonts
    )
    tokens = dict(dress.tokens)
    if dress.fonts and "face" not in tokens:
        families = ", ".join(f'"{family}"' for family in dict.fromkeys(face.family for face in dress.fonts))
        # What stands behind the face below lends it the signs that few faces have: Greek letters, arrows.
        _, _, behind = values_in(below).get("face", "").partition(",")
        tokens["face"] = f"{families}, {behind.strip() or 'sans-serif'}"
        tokens.setdefault("letter-width", _UNKNOWN_WIDTH)
    return f"\n{faces}{_root(tokens)}" if tokens else ""


def _root(tokens: Mapping[str, str]) -> str:
    return ":root {\n" + "".join(f"  --{name}: {value};\n" for name, value in tokens.items()) + "}\n"


def _own_mark(layers: tuple[Layer, ...]) -> tuple[Mapping[str, Any], str]:
    """The marks with the workshop's own in place of the house, and the site's icon."""
    found = next((layer for layer in reversed(layers) if layer.dress.mark), None)
    if found is None:
        return MARKS, f"assets/{_ICON}"
    path = found.folder / found.dress.mark
    kind = _TYPES.get(path.suffix.lower())
    if kind is None:
        raise ThemeError(f"{path}: a mark is an SVG or a PNG")
    # As a picture: no script in it runs, and nothing that it names is fetched.
    data = base64.b64encode(_bytes(path, found.folder)).decode("ascii")
    own = Markup('<img class="mark mark-own" src="data:{};base64,{}" alt="">').format(kind, data)
    return MappingProxyType({**MARKS, "house": own}), f"assets/{found.dress.mark}"


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
