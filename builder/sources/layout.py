"""Which file of a workspace holds what, and which files and folders do not belong there.

<guide>.yaml              a guide               catalogue/<collection>.yaml   records by id
procedures/<name>.yaml    a procedure           catalogue/exclusions.yaml     a list
bikes/<bike>.yaml         a bike                workshop.yaml                 the workshop
parts/<kind>/*.yaml       parts by id           images/                       pictures
theme/theme.yaml          the theme
"""

from __future__ import annotations

import os
import typing
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from enum import Enum, auto
from pathlib import Path

from builder.diagnostics.diagnostic import Diagnostic, Gravity, nearest
from builder.model.bike import Bike
from builder.model.catalogue import Exclusion, Workshop
from builder.model.dress import Dress
from builder.model.guide import Guide, Procedure
from builder.model.library import Library
from builder.model.parts import KINDS, Part
from builder.model.position import Position
from builder.sources.hints import choices


class Form(Enum):
    """How the records of a file are written."""

    ONE = auto()  # one record, called by the name of the file
    KEYED = auto()  # records by id
    LISTED = auto()  # records without an id
    LONE = auto()  # one record without an id


@dataclass(frozen=True, slots=True)
class Contents:
    """What a file holds: the library's collection, the kind of record, and how its records are written."""

    collection: str
    kind: type
    form: Form


@dataclass(frozen=True, slots=True)
class SourceFile:
    """A file to read; `shown` is its path for the user."""

    path: Path
    shown: str
    contents: Contents


def _collections() -> Mapping[str, type]:
    """The library's collections of records by id, with the kind of record in each."""
    hints = typing.get_type_hints(Library)
    return {name: typing.get_args(hint)[1] for name, hint in hints.items() if typing.get_args(hint)[:1] == (str,)}


COLLECTIONS = _collections()
GUIDE = Contents("guides", Guide, Form.ONE)
PROCEDURE = Contents("procedures", Procedure, Form.ONE)
BIKE = Contents("bikes", Bike, Form.ONE)
WORKSHOP = Contents("workshop", Workshop, Form.LONE)
THEME = Contents("theme", Dress, Form.LONE)
PARTS: Mapping[str, Contents] = {kind: Contents("parts", part, Form.KEYED) for kind, part in KINDS.items()}
# The file of a collection is called like it, but for the values that texts show.
_FILE_NAME = {"named_texts": "values"}
CATALOGUE: Mapping[str, Contents] = {
    **{
        _FILE_NAME.get(collection, collection): Contents(collection, kind, Form.KEYED)
        for collection, kind in COLLECTIONS.items()
        if kind not in (Guide, Procedure, Bike, Part)
    },
    "exclusions": Contents("exclusions", Exclusion, Form.LISTED),
}
_FOLDERS = ("bikes", "catalogue", "images", "parts", "procedures", "theme")
THEME_FILE = "theme.yaml"
# Folders beside the sources that are nobody's business here: what was built, and schemas for an editor.
_FREE = frozenset({"images", "output", "themes", "schemas"})
_SUFFIX = ".yaml"
_READ_ME = frozenset({"README.md", "README.txt", "LICENSE"})
# How like '.yaml' an ending must be to be a slip of it: '.yml' and '.yalm' are, '.html' is not.
_MISNAMED = 0.75
_MOST_LOOKED_AT = 2000


@dataclass(slots=True)
class _Survey:
    root: str
    files: list[SourceFile] = field(default_factory=list)
    diagnostics: list[Diagnostic] = field(default_factory=list)

    def take(self, path: Path, shown: str, contents: Contents) -> None:
        self.files.append(SourceFile(path, shown, contents))

    def refuse(self, rule: str, message: str, shown: str, *hints: str) -> None:
        self.diagnostics.append(Diagnostic(rule=rule, message=message, at=Position(shown, 0, 0), hints=hints))

    def pass_over(self, path: Path, shown: str, hint: str) -> None:
        """A file that holds no source; one that only looks misnamed is a mistake, any other a note."""
        if get_close_matches(path.suffix.lower(), (_SUFFIX, ".yml"), n=1, cutoff=_MISNAMED):
            self.refuse("unknown-file", "this file is not read", shown, f"call it '{path.stem}{_SUFFIX}'")
        elif path.name not in _READ_ME:
            self.diagnostics.append(
                Diagnostic(
                    rule="unknown-file",
                    message="this file is not read",
                    at=Position(shown, 0, 0),
                    gravity=Gravity.NOTE,
                    hints=(hint,),
                )
            )


def survey(folder: Path) -> tuple[tuple[SourceFile, ...], tuple[Diagnostic, ...]]:
    """The files to read in `folder`, in the order of their names, and what does not belong there."""
    found = _Survey(os.path.realpath(folder))
    shown = shown_path(folder)
    if not folder.is_dir():
        hint = "name the folder that holds the sources, or make one with 'spannerleaf new workspace'"
        found.refuse("no-folder", "there is no such folder", shown, hint)
        return (), tuple(found.diagnostics)
    for path, name in _listed(folder, shown, found):
        if path.is_dir():
            _folder(path, name, found)
        elif path.suffix == _SUFFIX:
            found.take(path, name, WORKSHOP if path.stem == "workshop" else GUIDE)
        else:
            found.pass_over(path, name, f"source files end in '{_SUFFIX}'; it may stay where it is")
    return tuple(found.files), tuple(found.diagnostics)


def shown_path(path: Path) -> str:
    """A path as the user would write it: from the current folder where it lies below that."""
    whole = os.path.abspath(path)
    here = os.getcwd()
    inside = whole == here or whole.startswith(here.rstrip(os.sep) + os.sep)
    return _shown(os.path.relpath(whole) if inside else whole)


def _shown(name: str) -> str:
    """A file's name with a sign in place of each character that a terminal would not show."""
    text = os.fsencode(name).decode("utf-8", "replace")
    return "".join(sign if sign.isprintable() else "\ufffd" for sign in text)


def _listed(folder: Path, shown: str, found: _Survey) -> list[tuple[Path, str]]:
    """What stands in a folder, but for hidden files."""
    try:
        paths = sorted(path for path in folder.iterdir() if not path.name.startswith("."))
    except OSError as error:
        found.refuse("unreadable", f"the folder can not be read: {error.strerror}", shown)
        return []
    start = "" if shown == "." else f"{shown}/"
    listed = []
    for path in paths:
        name = start + _shown(path.name)
        if path.is_symlink() and not _is_within(os.path.realpath(path), found.root):
            hint = "copy what it leads to into this folder; a source that comes from elsewhere would read your files"
            found.refuse("link", "this link leads out of the folder, and is not followed", name, hint)
        else:
            listed.append((path, name))
    return listed


def _is_within(real: str, root: str) -> bool:
    return real == root or real.startswith(root.rstrip(os.sep) + os.sep)


def _holds_sources(folder: Path) -> bool:
    """Whether a source lies not far below; a folder of somebody else's may be large, and is not gone through."""
    looked_at = 0
    for _base, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        if any(name.endswith(_SUFFIX) for name in files):
            return True
        looked_at += len(files) + len(folders)
        if looked_at > _MOST_LOOKED_AT:
            return False
    return False


def _folder(folder: Path, shown: str, found: _Survey) -> None:
    match folder.name:
        case "procedures":
            _sources(folder, shown, PROCEDURE, found)
        case "bikes":
            _sources(folder, shown, BIKE, found)
        case "parts":
            for path, name in _listed(folder, shown, found):
                _kind_of_part(path, name, found)
        case "theme":
            for path, name in _listed(folder, shown, found):
                if path.name == THEME_FILE:
                    found.take(path, name, THEME)
                elif path.suffix in (_SUFFIX, ".yml"):
                    found.refuse("unknown-file", "this file is not read", name, f"a theme says all in '{THEME_FILE}'")
        case "catalogue":
            for path, name in _yaml_files(folder, shown, found):
                if path.stem in CATALOGUE:
                    found.take(path, name, CATALOGUE[path.stem])
                else:
                    message = "the catalogue has no such file"
                    found.refuse("unknown-file", message, name, _meant(path.stem, CATALOGUE, "its files are", _SUFFIX))
        case name if name not in _FREE and (
            nearest(name, _FOLDERS) or folder.suffix == _SUFFIX or _holds_sources(folder)
        ):
            hint = _meant(name, _FOLDERS, "the folders with sources are")
            found.refuse("unknown-folder", "sources in this folder are not read", shown, hint)
        case _:
            pass


def _kind_of_part(path: Path, shown: str, found: _Survey) -> None:
    if path.name in PARTS and path.is_dir():
        _sources(path, shown, PARTS[path.name], found)
    elif path.is_dir():
        message = "there is no such kind of part"
        found.refuse("unknown-folder", message, shown, _meant(path.name, PARTS, "the kinds are"))
    elif path.suffix == _SUFFIX:
        hint = "put it into the folder of its kind of part, such as parts/chain/"
        found.refuse("unknown-file", "this file is not read", shown, hint)
    else:
        found.pass_over(path, shown, f"source files end in '{_SUFFIX}'; pictures belong in images/")


def _sources(folder: Path, shown: str, contents: Contents, found: _Survey) -> None:
    for path, name in _yaml_files(folder, shown, found):
        found.take(path, name, contents)


def _yaml_files(folder: Path, shown: str, found: _Survey) -> list[tuple[Path, str]]:
    files = []
    for path, name in _listed(folder, shown, found):
        if path.suffix == _SUFFIX and not path.is_dir():
            files.append((path, name))
        elif path.is_dir():
            found.refuse("unknown-folder", "sources in this folder are not read", name, "move them one folder up")
        else:
            found.pass_over(path, name, f"source files end in '{_SUFFIX}'; pictures belong in images/")
    return files


def _meant(name: str, known: Iterable[str], what: str, ending: str = "") -> str:
    return choices(name + ending, [f"{one}{ending}" for one in known], what)
