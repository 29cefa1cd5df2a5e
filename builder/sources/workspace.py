"""Read a whole workspace, laid over the library that is shipped: the only way from files to a `Library`."""

from __future__ import annotations

import os
import stat
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any

from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.model.bike import Bike
from builder.model.catalogue import Workshop
from builder.model.dress import Dress
from builder.model.facts import Role
from builder.model.library import Library
from builder.model.memory import Memory
from builder.model.parts import Part
from builder.model.position import Position
from builder.sources.layout import BIKE, COLLECTIONS, Form, SourceFile, survey
from builder.sources.loaded import Loaded, shipped_library, shipped_themes
from builder.sources.mentions import Mention, mentions
from builder.sources.nodes import Listing, Node, Scalar, Table
from builder.sources.photos import photos_of
from builder.sources.reading import Misread, read_name
from builder.sources.records import NamedPart, WrittenParts, read_record
from builder.sources.references import Known, check_mentions, one_of
from builder.sources.sense import check_sense
from builder.sources.text import decode
from builder.sources.yaml_tree import read_tree

__all__ = ["RESERVED", "Loaded", "load", "shipped_library", "shipped_themes"]

# What the output calls its own pages and folders, among the names of bikes and of guides.
RESERVED: Mapping[str, frozenset[str]] = {
    "bikes": frozenset({"generic", "sheets", "charts"}),
    "guides": frozenset({"torques-and-tools"}),
}
_LARGEST_BYTES = 1_000_000
# As many mistakes as are told of one file.
_MOST_TOLD = 100
_DEMO_FLEET = "demo-fleet"


def load(workspace: Path | None = None, library: Path | None = None, memory: Memory | None = None) -> Loaded:
    """Read the library's folder and lay `workspace` over it, record by record.

    A record with a mistake is left out, and what names it is not told as unknown. Nothing is raised for what stands in
    the files. With `memory` a record that is as it was is not read again.
    """
    remember = memory or Memory()
    below = library or shipped_library()
    folders = [below]
    if workspace is not None and workspace.resolve() != below.resolve():
        folders.append(workspace)
    layers = [_read_folder(folder, remember) for folder in folders]
    if len(layers) > 1 and not _shows_demo_fleet(layers[-1]):
        layers[0].drop("bikes")
    written: dict[tuple[str, str], Written] = {}
    for layer in layers:
        for key in layer.broken:  # what one's own file should say is not said by the one below it
            written.pop(key, None)
        written.update(layer.written)
    known = Known(_places(written.values()), frozenset(name for layer in layers for name in layer.unsure))
    found = [diagnostic for layer in layers for diagnostic in layer.diagnostics]
    read: dict[tuple[str, str], dict[str, Any]] = {}
    named: list[Mention] = []
    for key, record in written.items():
        one = remember.of("record", "", (record,), partial(_read_written, record))
        found.extend(one.wrong)
        named.extend(one.named)
        if one.values is not None:
            read[key] = one.values
    made = _library(written, read, remember)
    photos, wrong = photos_of(made, folders)
    made = replace(made, photos=tuple(remember.same(("photo", one.name), one) for one in photos))
    found.extend(wrong)
    found.extend(check_mentions(named, known, made))
    found.extend(check_sense(made, known))
    texts = {file: text for layer in layers for file, text in layer.texts.items()}
    under = frozenset(layers[0].texts) if len(layers) > 1 else frozenset()
    told = _not_too_many(ordered(_without_echoes(found)))
    return Loaded(library=made, diagnostics=told, texts=texts, laid_under=under)


def read_bike(raw: bytes, name: str, library: Library) -> Loaded:
    """A bike's file from anywhere, read as if it stood in the `bikes` of a library; that bike is all that it holds."""
    layer, shown = _Layer(), f"bikes/{name}.yaml"
    file = SourceFile(path=Path(shown), shown=shown, contents=BIKE)
    written = {(record.collection, record.id): record for record in _records_in(raw, file, layer)}
    places = {name: {id_: one.places.at for id_, one in getattr(library, name).items()} for name in COLLECTIONS}
    known, found, read = Known(places), list(layer.diagnostics), {}
    for key, record in written.items():
        values, wrong = read_record(record.kind, record.node, record.at)
        found.extend(wrong)
        found.extend(check_mentions(mentions(record.kind, record.node, record.text), known, library))
        if values is not None:
            read[key] = values
    bikes = {name: _bike(name, values, library.parts, Memory()) for (_, name), values in read.items()}
    alone = Library(bikes={name: bike for name, bike in bikes.items() if bike is not None})
    found.extend(check_sense(alone, known))
    told = _not_too_many(ordered(_without_echoes(found)))
    return Loaded(library=alone, diagnostics=told, texts=layer.texts)


def _shows_demo_fleet(layer: _Layer) -> bool:
    """Whether the workspace's own `workshop.yaml` keeps the demo's bikes, as it does where it says nothing of them."""
    for record in layer.written.values():
        if record.kind is Workshop and isinstance(record.node, Table) and _DEMO_FLEET in record.node.entries:
            value = record.node.entries[_DEMO_FLEET].value
            return not (isinstance(value, Scalar) and value.text == "false")
    return True


@dataclass(frozen=True, slots=True)
class Written:
    """A record as it stands in a file; `id` is empty where records have none."""

    collection: str
    id: str
    kind: type
    node: Node
    at: Position
    text: str


@dataclass(frozen=True, slots=True)
class _Read:
    """A record by itself: its values where it has no mistake, its mistakes, and what it names."""

    values: dict[str, Any] | None
    wrong: tuple[Diagnostic, ...]
    named: tuple[Mention, ...]


def _read_written(record: Written) -> _Read:
    values, wrong = read_record(record.kind, record.node, record.at)
    return _Read(values, wrong, tuple(mentions(record.kind, record.node, record.text)))


@dataclass(slots=True)
class _Layer:
    """One folder as it was read."""

    written: dict[tuple[str, str], Written] = field(default_factory=dict)
    diagnostics: list[Diagnostic] = field(default_factory=list)
    texts: dict[str, str] = field(default_factory=dict)
    unsure: set[str] = field(default_factory=set)
    broken: set[tuple[str, str]] = field(default_factory=set)

    def drop(self, collection: str) -> None:
        """Forget the records of a collection."""
        self.written = {key: record for key, record in self.written.items() if record.collection != collection}


def _read_folder(folder: Path, remember: Memory) -> _Layer:
    files, strays = survey(folder)
    layer = _Layer(diagnostics=list(strays))
    for file in files:
        for record in _read_file(file, layer, remember):
            # Records without an id are told apart by where they stand.
            key = (record.collection, record.id or f"{record.at.file}:{record.at.line}:{record.at.column}")
            if file.contents.form is Form.LONE:
                key = (record.collection, "")
            if key in layer.written:
                layer.diagnostics.append(_twice(record, layer.written[key]))
            else:
                layer.written[key] = record
    return layer


def _read_file(file: SourceFile, layer: _Layer, remember: Memory) -> tuple[Written, ...]:
    contents = file.contents
    try:
        raw = bytes_of(file.path)
    except OSError as error:
        message = f"the file can not be read: {error.strerror or error}"
        layer.diagnostics.append(Diagnostic(rule="unreadable", message=message, at=Position(file.shown, 0, 0)))
        layer.unsure.add(contents.collection)
        layer.broken.add((contents.collection, _name_of(file)))
        return ()
    about = (file.shown, file.path.stem, contents.collection, contents.form, raw)
    records, own = remember.of("file", about, (), partial(_read_bytes, file, raw))
    layer.texts.update(own.texts)
    layer.diagnostics.extend(own.diagnostics)
    layer.unsure |= own.unsure
    layer.broken |= own.broken
    return records


def _name_of(file: SourceFile) -> str:
    return "" if file.contents.form is Form.LONE else file.path.stem


def _read_bytes(file: SourceFile, raw: bytes) -> tuple[tuple[Written, ...], _Layer]:
    """The records of a file, and what else there is to say of it."""
    layer = _Layer()
    return tuple(_records_in(raw, file, layer)), layer


def _records_in(raw: bytes, file: SourceFile, layer: _Layer) -> Iterator[Written]:
    contents, name = file.contents, _name_of(file)
    tree = read_tree(decode(file.shown, raw))
    layer.texts[file.shown] = tree.text
    layer.diagnostics.extend(tree.diagnostics)
    root = tree.root
    first = Position(file.shown, 1, 1)
    if root is None:
        layer.broken.add((contents.collection, name))
    match contents.form, root:
        case Form.ONE, _:
            layer.diagnostics.extend(_wrong_name(name, Position(file.shown, 0, 0), contents.collection))
            if root is None:
                layer.unsure.add(contents.collection)
            else:
                yield Written(contents.collection, name, contents.kind, root, first, tree.text)
        case _, None:
            layer.unsure.add(contents.collection)
        case Form.LONE, node if node is not None:
            yield Written(contents.collection, "", contents.kind, node, first, tree.text)
        case Form.LISTED, Listing(items):
            for item in items:
                yield Written(contents.collection, "", contents.kind, item, item.at, tree.text)
        case Form.KEYED, Table(entries):
            for name, entry in entries.items():
                layer.diagnostics.extend(_wrong_name(name, entry.key.at, contents.collection))
                yield Written(contents.collection, name, contents.kind, entry.value, entry.key.at, tree.text)
        case form, node if node is not None:
            layer.unsure.add(contents.collection)
            layer.diagnostics.append(_wrong_root(form, node, contents.collection))


def bytes_of(path: Path) -> bytes:
    """The bytes of a plain file of a size that a person can have written.

    Raises:
        OSError: it is none, or can't be read.
    """
    # Opened so that a queue without a writer does not hold the reading up; what is no plain file is not read at all.
    number = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with open(number, "rb") as file:
        status = os.fstat(number)
        if not stat.S_ISREG(status.st_mode):
            raise OSError("it is no plain file")
        if status.st_size > _LARGEST_BYTES:
            raise OSError(f"it is larger than {_LARGEST_BYTES // 1000} kB, more than a person writes")
        return file.read(_LARGEST_BYTES)


def _wrong_name(name: str, at: Position, collection: str) -> Iterator[Diagnostic]:
    try:
        read_name(name, dotted=collection == "named_texts", what=f"{one_of(collection)}'s id")
    except Misread as error:
        for problem in error.problems:
            yield Diagnostic(rule="name", message=problem.message, at=at, label=problem.label, hints=problem.hints)
    if name in RESERVED.get(collection, ()):
        yield Diagnostic(
            rule="name",
            message=f"'{name}' can not be a {one_of(collection)}'s id: the output has a page or a folder of that name",
            at=at,
            hints=(f"write '{name}-1', or another name",),
        )


def _wrong_root(form: Form, node: Node, collection: str) -> Diagnostic:
    one = one_of(collection)
    listed = form is Form.LISTED
    found = {Scalar: "a single value", Listing: "a list", Table: "keys"}[type(node)]
    return Diagnostic(
        rule="value",
        message=f"{'a list' if listed else f'{one} ids with their keys below them'} should stand here, not {found}",
        at=node.at,
        hints=(f"begin each {one} with '- '",) if listed else (f"write each {one} as its id, ':' and its keys",),
    )


def _twice(record: Written, first: Written) -> Diagnostic:
    return Diagnostic(
        rule="duplicate-id",
        message=f"there are two {one_of(record.collection)}s called '{record.id}'",
        at=record.at,
        hints=("give each a name of its own",),
        related=((first.at, "the first one stands here"),),
    )


def _places(records: Iterable[Written]) -> Mapping[str, Mapping[str, Position]]:
    places: dict[str, dict[str, Position]] = {collection: {} for collection in COLLECTIONS}
    for record in records:
        if record.id:
            places[record.collection][record.id] = record.at
    return places


def _library(
    written: Mapping[tuple[str, str], Written], read: Mapping[tuple[str, str], dict[str, Any]], remember: Memory
) -> Library:
    """The records that could be read, each in its collection; a bike needs all its parts."""
    records: Any = {collection: {} for collection in COLLECTIONS}
    listed: list[Any] = []
    workshop, dress = Workshop(name=""), Dress()
    bikes: dict[str, dict[str, Any]] = {}
    for key, values in read.items():
        record = written[key]
        if record.kind is Bike:
            bikes[record.id] = values
        elif record.kind is Workshop:
            workshop = remember.same(key, remember.of("made", "", (values,), partial(Workshop, **values)))
        elif record.kind is Dress:
            dress = remember.of("made", "", (values,), partial(Dress, **values))
        elif record.id:
            make = partial(record.kind, **{**values, "id": record.id})
            made = remember.of("made", record.id, (values,), make)
            records[record.collection][record.id] = remember.same(key, made)
        else:
            listed.append(remember.same(key, remember.of("made", "", (values,), partial(record.kind, **values))))
    for name, values in bikes.items():
        bike = _bike(name, values, records["parts"], remember)
        if bike is not None:
            records["bikes"][name] = bike
    return Library(**records, exclusions=tuple(listed), workshop=workshop, dress=remember.same("dress", dress))


def _bike(name: str, values: dict[str, Any], known: Mapping[str, Part], remember: Memory) -> Bike | None:
    """The bike with its parts put in, or None where one of them is not to be had."""
    written = values.get("parts", WrittenParts({}, frozenset()))
    parts: dict[Role, Part] = {}
    for role, part in written.parts.items():
        if not isinstance(part, NamedPart):
            parts[role] = part
        elif part.id in known:
            parts[role] = known[part.id]
        else:
            return None
    make = partial(Bike, **{**values, "id": name, "parts": parts, "without": written.without})
    return remember.same(("bikes", name), remember.of("made", name, (values, *parts.values()), make))


def _without_echoes(found: Iterable[Diagnostic]) -> Iterator[Diagnostic]:
    """Where a value can't be told for what it is, nothing more is said of that place than the first thing."""
    said: set[tuple[str, int, int]] = set()
    for diagnostic in found:
        at = diagnostic.at
        place = (at.file, at.line, at.column)
        if diagnostic.rule in _FIRST_THINGS and diagnostic.gravity is Gravity.ERROR:
            said.add(place)
        elif place in said:
            continue
        yield diagnostic


def _not_too_many(found: tuple[Diagnostic, ...]) -> tuple[Diagnostic, ...]:
    """The first hundred of each file, and how many more there are."""
    told: list[Diagnostic] = []
    counts: Counter[str] = Counter()
    for diagnostic in found:
        counts[diagnostic.at.file] += 1
        if counts[diagnostic.at.file] <= _MOST_TOLD:
            told.append(diagnostic)
    more = ((file, count - _MOST_TOLD) for file, count in counts.items() if count > _MOST_TOLD)
    told.extend(
        Diagnostic(
            rule="too-many",
            message=f"{number} more {'mistake' if number == 1 else 'mistakes'} in this file are not shown",
            at=Position(file, 0, 0),
            hints=("mend those that are shown first",),
        )
        for file, number in more
    )
    return ordered(told)


_FIRST_THINGS = frozenset({"yaml-trap", "alias", "anchor", "tag", "empty-value", "syntax"})
