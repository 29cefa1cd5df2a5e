"""One bad guide does not stop the others: whose mistake each is, the library without them, and their old output.

mistakes ─► the guides and bikes that they stand in ─► the library without those ─► a build, beside their old files
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath

from markupsafe import escape

from builder.build.order import SetAside
from builder.build.output import Staging
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.guide import Step, Use
from builder.model.library import Library
from builder.pages import paths
from builder.pages.form import read_name
from builder.pages.strings_en import EN
from builder.sources.layout import Form, survey
from builder.sources.loaded import Loaded

_MARK = '<p class="stale" role="status">'


@dataclass(frozen=True, slots=True)
class _Owner:
    """The record that a file holds: its collection, and its id."""

    collection: str
    id: str


def split(
    loaded: Loaded, found: Iterable[Diagnostic], folders: Iterable[Path]
) -> tuple[tuple[SetAside, ...], tuple[Diagnostic, ...]]:
    """Which guides and bikes the errors among `found` stand in, and the errors that bear on everything."""
    owners = {
        file.shown: _Owner(file.contents.collection, file.path.stem)
        for folder in folders
        for file in survey(folder)[0]
        if file.contents.form is Form.ONE
    }
    by: dict[_Owner, list[Diagnostic]] = {}
    rest = []
    for one in found:
        if one.gravity is not Gravity.ERROR:
            continue
        spoiled = tuple(_spoiled(owners.get(one.at.file), loaded.library))
        for owner in spoiled:
            by.setdefault(owner, []).append(one)
        if not spoiled:
            rest.append(one)
    aside = (
        SetAside(
            guide=owner.id if owner.collection == "guides" else "",
            bike=owner.id if owner.collection == "bikes" else "",
            diagnostics=tuple(diagnostics),
        )
        for owner, diagnostics in by.items()
    )
    return tuple(aside), tuple(rest)


def _spoiled(owner: _Owner | None, library: Library) -> Iterator[_Owner]:
    """The guides and bikes that a mistake in a file spoils: a procedure's, all guides that use it."""
    if owner is None:
        return
    if owner.collection in ("guides", "bikes"):
        yield owner
    elif owner.collection == "procedures":
        users = {owner.id}
        while more := {
            name
            for name, procedure in library.procedures.items()
            if name not in users and users & _used(procedure.steps)
        }:
            users |= more
        for name, guide in library.guides.items():
            if users & _used((*(step for part in guide.work for step in part.steps), *guide.finish, *guide.test)):
                yield _Owner("guides", name)


def _used(items: Iterable[Step | Use]) -> set[str]:
    return {item.use for item in items if isinstance(item, Use)}


def without(loaded: Loaded, aside: Iterable[SetAside]) -> Loaded:
    """What was read without the guides and bikes that are set aside, and without their errors."""
    gone = tuple(aside)
    guides, bikes = {one.guide for one in gone}, {one.bike for one in gone}
    told = {diagnostic for one in gone for diagnostic in one.diagnostics}
    library = loaded.library
    left = replace(
        library,
        guides={name: one for name, one in library.guides.items() if name not in guides},
        bikes={name: one for name, one in library.bikes.items() if name not in bikes},
        tried={name: one for name, one in library.tried.items() if name not in guides},
    )
    # What is left is not what the digest names.
    return replace(
        loaded, library=left, digest="", diagnostics=tuple(one for one in loaded.diagnostics if one not in told)
    )


def keep_old(staging: Staging, out: Path, aside: Iterable[SetAside]) -> tuple[str, ...]:
    """Carry the old output of what is set aside into the next state, its pages marked, and tell every path."""
    gone = tuple(aside)
    kept = []
    for path in sorted(staging.made_before):
        if path in staging.paths or not any(is_of(one, path) for one in gone):
            continue
        try:
            data = (out / path).read_bytes()
        except OSError:  # somebody took it away
            continue
        staging.write(path, marked(data) if path.endswith(".html") else data)
        kept.append(path)
    return tuple(kept)


def is_of(one: SetAside, path: str) -> bool:
    """Whether a path of the output shows what is set aside: a guide, a bike, or a guide on a bike."""
    parts = PurePosixPath(path).parts
    inside = "/".join(parts[1:]) if parts[0] == "site" else path
    inside = inside.removeprefix("cards/")
    folder, _, name = inside.rpartition("/")
    of_bike = inside == paths.bike(one.bike) or folder in (f"bikes/{one.bike}", one.bike)
    if not one.guide:
        return of_bike
    stem = name.removesuffix(".html").removesuffix(".pdf")
    card = read_name(stem) if name.endswith(".pdf") else None
    of_guide = (stem if card is None else card[0]) == one.guide and not inside.startswith("checks/")
    return of_guide and (not one.bike or of_bike)


def pages_of(one: SetAside, stale: Iterable[str]) -> tuple[str, ...]:
    """The pages below the site's root that show what is set aside: its own, and those of an earlier build."""
    old = (path.removeprefix("site/") for path in stale if path.endswith(".html") and is_of(one, path))
    own = paths.guide(one.guide, one.bike) if one.guide else paths.bike(one.bike)
    return (own, *old)


def marked(page: bytes) -> bytes:
    """The page with a line ahead of everything that says that it is of an earlier build; once, however often."""
    if _MARK.encode() in page:
        return page
    before, body, after = page.partition(b"<body")
    opening, end, rest = after.partition(b">")
    if not end:
        return page
    return before + body + opening + end + f"{_MARK}{escape(EN.stale)}</p>".encode() + rest
