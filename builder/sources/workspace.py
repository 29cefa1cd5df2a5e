"""Read a whole workspace, laid over the library that is shipped: the only way from files to a `Library`."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from builder.diagnostics.diagnostic import Diagnostic, Gravity, nearest, ordered
from builder.model import catalogue
from builder.model.bike import Bike
from builder.model.guide import Guide, Procedure
from builder.model.library import Library
from builder.model.parts import KINDS, Part
from builder.model.position import Position
from builder.sources.reading import Misread, read_name
from builder.sources.records import NamedPart, PartsOfBike, read_record
from builder.sources.references import check_references
from builder.sources.shapes import kind_for
from builder.sources.text import decode
from builder.sources.yaml_tree import Listing, Node, Table, Tree, read_tree

# The files of the catalogue that hold records by id: the file's name, the library's collection, the kind of record.
CATALOGUE: Mapping[str, tuple[str, type]] = {
    "tools": ("tools", catalogue.Tool),
    "heads": ("heads", catalogue.Head),
    "consumables": ("consumables", catalogue.Consumable),
    "fasteners": ("fasteners", catalogue.Fastener),
    "cautions": ("cautions", catalogue.Caution),
    "states": ("states", catalogue.State),
    "attributes": ("attributes", catalogue.Attribute),
    "measurements": ("measurements", catalogue.Measurement),
    "values": ("named_texts", catalogue.NamedText),
    "glossary": ("glossary", catalogue.Term),
    "verbs": ("verbs", catalogue.Verb),
    "sources": ("sources", catalogue.Citation),
}
_EXCLUSIONS, _WORKSHOP, _IMAGES = "exclusions", "workshop", "images"
_FOLDERS = ("bikes", "catalogue", _IMAGES, "parts", "procedures")


@dataclass(frozen=True, slots=True, kw_only=True)
class Loaded:
    """What a workspace came to: the records that could be read, every mistake, and the files' texts for quoting."""

    library: Library
    diagnostics: tuple[Diagnostic, ...] = ()
    texts: Mapping[str, str] = field(default_factory=dict)


def _shipped(name: str) -> Path:
    inside = Path(__file__).parent.parent / "_library" / name
    return inside if inside.is_dir() else Path(__file__).parent.parent.parent / name


def shipped_library() -> Path:
    """The folder of the guides that come with the program: inside the installed package, or beside it in a checkout."""
    return _shipped("guides")


def shipped_themes() -> Path:
    """The folder of the themes that come with the program."""
    return _shipped("themes")


def load(workspace: Path | None = None, library: Path | None = None) -> Loaded:
    """Read the library's folder and lay `workspace` over it, record by record.

    A record with a mistake is left out, and what names it is not told as unknown. Nothing is raised for what stands in
    the files.
    """
    reader = _Reader()
    reader.folder(library or shipped_library())
    if workspace is not None and workspace.resolve() != (library or shipped_library()).resolve():
        reader.folder(workspace)
    return reader.finished()


class _Reader:
    """Collects records, broken names and diagnostics while the files are read."""

    def __init__(self) -> None:
        self.found: dict[str, dict[str, Any]] = {}
        self.exclusions: dict[str, list[catalogue.Exclusion]] = {}
        self.workshop = catalogue.Workshop(name="")
        self.bikes: dict[str, dict[str, Any]] = {}
        self.broken: dict[str, set[str]] = {}
        self.diagnostics: list[Diagnostic] = []
        self.texts: dict[str, str] = {}

    # --- folders ---------------------------------------------------------------------------------

    def folder(self, folder: Path) -> None:
        """Read one folder in the shape of the library."""
        if not folder.is_dir():
            message = f"there is no folder '{folder}'"
            hint = "name the folder that holds the guides, or make one with 'spannerleaf new workspace'"
            self.diagnostics.append(Diagnostic(rule="no-folder", message=message, hints=(hint,)))
            return
        for path in sorted(folder.iterdir()):
            if path.name.startswith("."):
                continue
            if path.is_dir():
                self._subfolder(path)
            elif path.suffix == ".yaml":
                if path.stem == _WORKSHOP:
                    self._workshop(path)
                else:
                    self._single(path, "guides", Guide)
            elif path.suffix == ".yml":
                self._stray(path, f"write '{path.stem}.yaml': sources end in .yaml")

    def _subfolder(self, folder: Path) -> None:
        match folder.name:
            case "procedures":
                for path in self._sources(folder):
                    self._single(path, "procedures", Procedure)
            case "bikes":
                for path in self._sources(folder):
                    self._single(path, "bikes", Bike)
            case "parts":
                for kind_folder in sorted(path for path in folder.iterdir() if not path.name.startswith(".")):
                    self._parts(kind_folder)
            case "catalogue":
                for path in self._sources(folder):
                    self._catalogue(path)
            case name if name == _IMAGES:
                pass
            case name:
                near = nearest(name, _FOLDERS)
                hint = f"did you mean '{near}'?" if near else f"the folders are: {', '.join(_FOLDERS)}"
                self._stray(folder, hint)

    def _parts(self, folder: Path) -> None:
        if folder.is_file():
            self._stray(folder, "put it in a folder named after the kind of part, such as parts/chain/")
            return
        kind = KINDS.get(folder.name)
        if kind is None:
            near = nearest(folder.name, KINDS)
            hint = f"did you mean '{near}'?" if near else f"the kinds of part are: {', '.join(KINDS)}"
            self._stray(folder, hint)
            return
        for path in self._sources(folder):
            self._keyed(path, "parts", kind)

    def _catalogue(self, path: Path) -> None:
        if path.stem == _EXCLUSIONS:
            self._exclusions(path)
        elif path.stem in CATALOGUE:
            self._keyed(path, *CATALOGUE[path.stem])
        else:
            names = (*CATALOGUE, _EXCLUSIONS)
            near = nearest(path.stem, names)
            hint = f"did you mean '{near}.yaml'?" if near else f"the files are: {', '.join(names)}"
            self._stray(path, hint)

    def _sources(self, folder: Path) -> list[Path]:
        found = []
        for path in sorted(folder.iterdir()):
            if path.name.startswith("."):
                continue
            if path.suffix == ".yaml" and path.is_file():
                found.append(path)
            else:
                self._stray(path, "only files that end in .yaml are read here")
        return found

    def _stray(self, path: Path, hint: str) -> None:
        what = "folder" if path.is_dir() else "file"
        self.diagnostics.append(
            Diagnostic(
                rule=f"unknown-{what}",
                message=f"this {what} is not part of a workspace",
                at=Position(_shown(path), 1, 1),
                hints=(hint,),
            )
        )

    # --- files -----------------------------------------------------------------------------------

    def _tree(self, path: Path) -> Tree:
        file = _shown(path)
        try:
            raw = path.read_bytes()
        except OSError as error:
            wrong = Diagnostic(
                rule="unreadable", message=f"the file can't be read: {error.strerror}", at=Position(file, 1, 1)
            )
            self.diagnostics.append(wrong)
            return Tree(file, "", None)
        tree = read_tree(decode(file, raw))
        self.texts[file] = tree.text
        self.diagnostics.extend(tree.diagnostics)
        return tree

    def _name(self, name: str, at: Position, *, dotted: bool = False) -> bool:
        try:
            read_name(name, dotted=dotted)
        except Misread as error:
            self.diagnostics.extend(
                Diagnostic(rule="name", message=problem.message, at=at, label=problem.label, hints=problem.hints)
                for problem in error.problems
            )
            return False
        return True

    def _record(self, collection: str, name: str, kind: type, node: Node, at: Position) -> None:
        values, wrong = read_record(kind, node, at, {"id": name} if collection else {})
        self.diagnostics.extend(wrong)
        if values is None:
            self.broken.setdefault(collection, set()).add(name)
            return
        if collection == "bikes":
            self.bikes[name] = values
        else:
            self.found.setdefault(collection, {})[name] = kind(**values)

    def _single(self, path: Path, collection: str, kind: type) -> None:
        tree = self._tree(path)
        if tree.root is None or not self._name(path.stem, Position(tree.file, 1, 1)):
            self.broken.setdefault(collection, set()).add(path.stem)
            return
        self._record(collection, path.stem, kind, tree.root, Position(tree.file, 1, 1))

    def _keyed(self, path: Path, collection: str, kind: type) -> None:
        tree = self._tree(path)
        if tree.root is None:
            return
        if not isinstance(tree.root, Table):
            hint = "write each one as its id, a colon, and its own keys below it"
            wrong = Diagnostic(
                rule="wrong-shape", message="ids with their records are wanted here", at=tree.root.at, hints=(hint,)
            )
            self.diagnostics.append(wrong)
            return
        for name, entry in tree.root.entries.items():
            if self._name(name, entry.key.at, dotted=collection == "named_texts"):
                self._record(collection, name, kind, entry.value, entry.key.at)

    def _exclusions(self, path: Path) -> None:
        tree = self._tree(path)
        if tree.root is None:
            return
        if not isinstance(tree.root, Listing):
            wrong = Diagnostic(
                rule="wrong-shape",
                message="a list of exclusions is wanted here",
                at=tree.root.at,
                hints=("write '- never: {...}' and 'because:' for each",),
            )
            self.diagnostics.append(wrong)
            return
        kept: list[catalogue.Exclusion] = []
        for item in tree.root.items:
            values, wrong_ones = read_record(catalogue.Exclusion, item, item.at, {})
            self.diagnostics.extend(wrong_ones)
            if values is not None:
                kept.append(catalogue.Exclusion(**values))
        self.exclusions[tree.file] = kept

    def _workshop(self, path: Path) -> None:
        tree = self._tree(path)
        if tree.root is None:
            return
        values, wrong = read_record(catalogue.Workshop, tree.root, Position(tree.file, 1, 1), {})
        self.diagnostics.extend(wrong)
        if values is not None:
            self.workshop = catalogue.Workshop(**values)

    # --- the whole -------------------------------------------------------------------------------

    def finished(self) -> Loaded:
        """The library with every name followed."""
        collections = dict(self.found)
        parts: dict[str, Part] = collections.get("parts", {})
        collections["bikes"] = {}
        for name, values in self.bikes.items():
            bike = self._bike(values, parts)
            if bike is None:
                self.broken.setdefault("bikes", set()).add(name)
            else:
                collections["bikes"][name] = bike
        exclusions = tuple(item for items in self.exclusions.values() for item in items)
        library = Library(**collections, exclusions=exclusions, workshop=self.workshop)
        wrong = check_references(library, self.broken)
        return Loaded(library=library, diagnostics=ordered((*self.diagnostics, *wrong)), texts=self.texts)

    def _bike(self, values: dict[str, Any], parts: Mapping[str, Part]) -> Bike | None:
        written = values.get("parts", PartsOfBike({}, frozenset()))
        found: dict[Any, Part] = {}
        sound = True
        for role, part in written.parts.items():
            if not isinstance(part, NamedPart):
                found[role] = part
                continue
            known = parts.get(part.id)
            if known is not None and isinstance(known, kind_for(role)):
                found[role] = known
                continue
            sound = False
            if part.id not in self.broken.get("parts", set()):
                self.diagnostics.append(_wrong_part(part, role, parts))
        return Bike(**{**values, "parts": found, "without": written.without}) if sound else None


def _wrong_part(part: NamedPart, role: Any, parts: Mapping[str, Part]) -> Diagnostic:
    kind = kind_for(role)
    if part.id in parts:
        return Diagnostic(
            rule="wrong-kind",
            message=f"'{part.id}' is no {role.value}",
            at=part.at,
            label=f"it stands in {parts[part.id].places.at.file}",
            hints=("name a part of the kind that goes there, or write its facts here in place of the id",),
        )
    near = nearest(part.id, (name for name, known in parts.items() if isinstance(known, kind)))
    hints = (f"did you mean '{near}'?  ({parts[near].places.at.file}:{parts[near].places.at.line})",) if near else ()
    return Diagnostic(
        rule="unknown-name",
        message=f"unknown part '{part.id}'",
        at=part.at,
        label=f"there is no {role.value} of that name",
        hints=(*hints, "or write the part's own facts here, as keys below the role"),
        gravity=Gravity.ERROR,
    )


def _shown(path: Path) -> str:
    """The path as the user would write it: from the current folder where the file is below it."""
    try:
        return os.path.relpath(path) if path.resolve().is_relative_to(Path.cwd()) else str(path)
    except ValueError:  # another drive
        return str(path)
