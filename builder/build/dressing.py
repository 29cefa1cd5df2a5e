"""The theme that a workspace's pages and cards wear: a shipped one with the workspace's own `theme/` laid over it.

Everything that is wrong with it is a diagnostic with its place, so that nothing is found out by a page that fails.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from jinja2 import TemplateSyntaxError

from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.model.dress import Dress
from builder.model.library import Library
from builder.model.position import Position
from builder.pages.theme import STYLESHEETS, TEMPLATES, Layer, Theme, ThemeError, load_theme, values_in
from builder.pages.theme_colours import SAFETY, Faint, faint_pairs, is_colour
from builder.sources.dress import read_dress
from builder.sources.hints import choices
from builder.sources.layout import THEME_FILE, shown_path
from builder.sources.loaded import shipped_theme_names, shipped_themes

FOLDER = "theme"
# A mark stands within every page; a drawing of a few shapes has a few kilobytes.
_LARGEST_MARK = 24_000
_SIGNATURES = {".svg": b"<svg", ".png": b"\x89PNG\r\n\x1a\n"}
_FACES = (b"wOF2", b"wOFF", b"OTTO", b"\x00\x01\x00\x00")
# A value of a token is one value: nothing in it ends the declaration or fetches a file.
_VALUE = re.compile(r"(?:(?!url\(|expression\(|/\*|//)[^;{}<>@\\])+", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dressed:
    """The theme, and what there is to say about it. With an error there is the shipped theme alone."""

    theme: Theme
    findings: tuple[Diagnostic, ...] = ()
    texts: Mapping[str, str]


def dressed(library: Library, folders: Iterable[Path] = ()) -> Dressed:
    """The theme for what was read from `folders`: the last of them that has a `theme/` dresses it."""
    own = next((folder / FOLDER for folder in reversed(tuple(folders)) if (folder / FOLDER).is_dir()), None)
    dress = library.dress
    below = shipped(dress.based_on)
    plain = load_theme(*(below or shipped(Dress().based_on)))
    if own is None or not below:
        return Dressed(theme=plain, findings=() if below else (_unknown_base(dress),), texts={})
    found = [*_wrong_values(dress, plain), *_wrong_files(dress, own), *_wrong_templates(own, plain)]
    texts = {}
    try:
        theme = load_theme(*below, Layer(folder=own, dress=dress))
        if not any(one.gravity is Gravity.ERROR for one in found):
            found.extend(_faint(theme, own, dress))
        texts = {shown_path(path): path.read_text("utf-8", "replace") for path in own.glob(f"{TEMPLATES}/*.html")}
    except ThemeError as error:
        theme = plain
        if not any(one.gravity is Gravity.ERROR for one in found):
            found.append(Diagnostic(rule="theme", message=str(error), at=_place(dress, own, "")))
    return Dressed(theme=theme, findings=ordered(found), texts=texts)


def shipped(name: str) -> tuple[Layer, ...]:
    """The layers of a shipped theme, the lowest first; none where there is no such theme."""
    names = shipped_theme_names()
    layers: list[Layer] = []
    while name:
        if name not in names or any(layer.folder.name == name for layer in layers):
            return ()
        folder = shipped_themes() / name
        dress = read_dress(folder / THEME_FILE)
        layers.insert(0, Layer(folder=folder, dress=dress))
        name = dress.based_on
    return tuple(layers)


def _unknown_base(dress: Dress) -> Diagnostic:
    return Diagnostic(
        rule="unknown-name",
        message=f"unknown theme '{dress.based_on}'",
        at=dress.places.of("based-on"),
        label="no such theme is shipped",
        hints=(choices(dress.based_on, shipped_theme_names(), "the themes are"),),
    )


def _place(dress: Dress, own: Path, key: str) -> Position:
    """Where a value stands; for a theme without a `theme.yaml`, its folder."""
    at = dress.places.of(key)
    return at if at.file else Position(shown_path(own), 0, 0)


def _wrong_values(dress: Dress, shipped: Theme) -> Iterator[Diagnostic]:
    for kind, values, known in (("tokens", dress.tokens, shipped.tokens), ("dark", dress.dark, shipped.dark)):
        for name, value in values.items():
            at = dress.places.of(f"{kind}.{name}")
            if name in SAFETY:
                message = f"'{name}' is a safety colour, which stays what it is in every theme"
                yield Diagnostic(rule="theme", message=message, at=at, hints=("take it away",))
            elif name not in known:
                hint = choices(name, known, "the tokens are")
                yield Diagnostic(rule="unknown-name", message=f"unknown token '{name}'", at=at, hints=(hint,))
            elif not _VALUE.fullmatch(value):
                hint = "one value of CSS, such as '14.6pt' or '#16181a'; rules go into a stylesheet"
                yield Diagnostic(rule="theme", message=f"this is no value for '{name}'", at=at, hints=(hint,))
            elif is_colour(known[name]) and not is_colour(value):
                message = f"'{value}' is no colour whose contrast can be reckoned"
                yield Diagnostic(rule="theme", message=message, at=at, hints=("write it as '#rrggbb', in quotes",))
    for number, name in enumerate(dress.replaces):
        if name not in STYLESHEETS:
            at = dress.places.of(f"replaces.{number}")
            hint = choices(name, STYLESHEETS, "the stylesheets are")
            yield Diagnostic(rule="unknown-name", message=f"unknown stylesheet '{name}'", at=at, hints=(hint,))


def _wrong_files(dress: Dress, own: Path) -> Iterator[Diagnostic]:
    for face in dress.fonts:
        at = face.places.of("file")
        yield from _lacking(face.file, at, own, "font", ("woff2", "woff", "otf", "ttf"), _FACES)
        if not re.fullmatch(r"[\w .-]+", face.family):
            yield Diagnostic(
                rule="theme",
                message=f"'{face.family}' can't be the name of a family",
                at=face.places.of("family"),
                hints=("write letters, figures and spaces",),
            )
        if not face.file.startswith("fonts/"):
            yield Diagnostic(
                rule="theme", message="a font lies in 'fonts'", at=at, hints=(f"move it to {FOLDER}/fonts/",)
            )
    if dress.mark:
        at = dress.places.of("mark")
        yield from _lacking(dress.mark, at, own, "mark", ("svg", "png"), tuple(_SIGNATURES.values()), _LARGEST_MARK)


def _lacking(
    name: str, at: Position, own: Path, what: str, endings: tuple[str, ...], begins: tuple[bytes, ...], most: int = 0
) -> Iterator[Diagnostic]:
    """What is wrong with a file that the theme names."""
    path = own / name
    known = sorted(one.relative_to(own).as_posix() for ending in endings for one in own.rglob(f"*.{ending}"))
    if not path.resolve().is_relative_to(own.resolve()):
        message, hint = f"the {what} '{name}' lies outside the theme", f"copy it into {shown_path(own)}"
    elif path.suffix.lower().lstrip(".") not in endings:
        message, hint = f"a {what} is a file in {' or '.join(one.upper() for one in endings)}", "convert it"
    elif not path.is_file():
        message = f"there is no {what} '{name}' in {shown_path(own)}"
        hint = choices(name, known, "there are") if known else f"put it there as {shown_path(path)}"
    else:
        data = path.read_bytes()
        # An SVG may begin with a declaration and a comment.
        if not any(one in data[:1000] if one == b"<svg" else data.startswith(one) for one in begins):
            message, hint = f"'{name}' is not what its ending says", "save it anew in that format"
        elif most and len(data) > most:
            message = f"the {what} has {len(data) // 1000} kB, and stands on every page"
            hint = f"make it smaller than {most // 1000} kB"
        else:
            return
    yield Diagnostic(rule="theme", message=message, at=at, hints=(hint,))


def _wrong_templates(own: Path, shipped: Theme) -> Iterator[Diagnostic]:
    known = sorted(shipped.templates.list_templates())
    for path in sorted((own / TEMPLATES).glob("*")):
        shown = shown_path(path)
        if path.name not in known:
            # It may be one that the theme's own templates import.
            hint = choices(path.name, known, "the templates are")
            yield Diagnostic(
                rule="theme",
                message="no page is made with this template",
                at=Position(shown, 0, 0),
                gravity=Gravity.NOTE,
                hints=(hint,),
            )
        if path.suffix != ".html" or not path.resolve().is_relative_to(own.resolve()):
            continue
        try:
            shipped.templates.parse(path.read_text("utf-8", "replace"), path.name, shown)
        except TemplateSyntaxError as error:
            yield Diagnostic(rule="template", message=str(error.message), at=Position(shown, error.lineno, 1))
    for path in sorted(own.glob("*.css")):
        if path.name not in STYLESHEETS:
            yield Diagnostic(
                rule="theme",
                message="no page has this stylesheet",
                at=Position(shown_path(path), 0, 0),
                gravity=Gravity.WARNING,
                hints=(choices(path.name, STYLESHEETS, "the stylesheets are"),),
            )


def _faint(theme: Theme, own: Path, dress: Dress) -> Iterator[Diagnostic]:
    for one in faint_pairs(theme):
        yield Diagnostic(
            rule="contrast",
            message=(
                f"'{one.pair.ink}' on '{one.pair.ground}'{' on a dark screen' if one.dark else ''} has a contrast of "
                f"{one.ratio:.1f} to 1, under {one.pair.least:g} to 1"
            ),
            at=_of_pair(one, own, dress),
            hints=("make one of them darker or lighter; 'spannerleaf reckon contrast' tells the ratio of any two",),
        )


def _of_pair(faint: Faint, own: Path, dress: Dress) -> Position:
    """Where one of the two colours is written: in `theme.yaml`, or in a stylesheet of the theme's own."""
    kinds = ("dark", "tokens") if faint.dark else ("tokens",)
    for kind in kinds:
        for name in (faint.pair.ink, faint.pair.ground):
            if name in (dress.dark if kind == "dark" else dress.tokens):
                return dress.places.of(f"{kind}.{name}")
        path = own / f"{kind}.css"
        if path.is_file():
            for number, line in enumerate(path.read_text("utf-8", "replace").splitlines(), 1):
                if values_in(line).keys() & {faint.pair.ink, faint.pair.ground}:
                    return Position(shown_path(path), number, 1)
    return _place(dress, own, "")
