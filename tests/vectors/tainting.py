"""A library whose every text is a vector of a published list, and the pages and cards that come of it.

library ─► each text that a person may write, replaced by the next vector ─► pages, a card, a service sheet ─► a browser
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from pathlib import Path
from typing import Any

from latex2mathml.converter import convert

from builder.build.printer import Printer
from builder.model.library import Library
from builder.pages.bike_page import JobsOfBike, bike_page, jobs_by_bike
from builder.pages.contents import Site
from builder.pages.form import Form
from builder.pages.front_page import front_page
from builder.pages.guide_page import guide_page
from builder.pages.lists import list_pages
from builder.pages.paper import Paper
from builder.pages.site import site_files
from builder.pages.upkeep_page import upkeep_page
from builder.proof.jobs import Job, Ready, work_out
from builder.sources.shapes import Keyed, Many, PartsByRole, Record, Shape, Text, fields_of
from builder.tailoring.upkeep import upkeep_of
from tests.build.ordering import FITS, SHORT
from tests.demo import library

VECTORS: tuple[str, ...] = tuple(json.loads((Path(__file__).parent / "vectors.json").read_text("utf-8"))["vectors"])
# What the program reads as more than a text: the reader of sources refuses anything else there.
_READ = frozenset(
    {
        "thread",
        "property_class",
        "key",
        "source",
        "latex",
        "at",
        "drawing",
        "signs",
        "how",
        "id",
        "step",
        "check",
        "unit",
        "rule",
        "figure",
    }
)


@dataclass
class Tainting:
    """Hands out vectors one after another, from a number on; counts the texts that it replaced."""

    turn: int
    texts: int = 0
    kinds: set[str] = field(default_factory=set)

    def text(self, shape: Text) -> str:
        """The next vector; one with braces, which a text that may show values is refused for, is passed over."""
        while True:
            vector = VECTORS[(self.turn + self.texts) % len(VECTORS)]
            self.texts += 1
            if not (shape.prose and ("{{" in vector or "}}" in vector)):
                return vector

    def value(self, shape: Shape, held: Any, name: str = "") -> Any:
        """The value with every text in it replaced."""
        match shape:
            case Text(collection="", date=False) if isinstance(held, str) and held and name not in _READ:
                return self.text(shape)
            case Many(item) if isinstance(held, tuple):
                return tuple(self.value(item, one, name) for one in held)
            case Keyed(_, inner) if isinstance(held, Mapping):
                return {key: self.value(inner, one, name) for key, one in held.items()}
            case PartsByRole():
                return {role: self.record(part) for role, part in held.items()}
            case Record() if is_dataclass(held):
                return self.record(held)
        return held

    def record(self, held: Any) -> Any:
        """The record with every text in it replaced."""
        changed = {}
        for one in fields_of(type(held)):
            before = getattr(held, one.name)
            after = self.value(one.shape, before, one.name)
            if after != before:
                changed[one.name] = after
                self.kinds.add(f"{type(held).__name__}.{one.name}")
        return replace(held, **changed)

    def library(self, of: Library) -> Library:
        """The library with every record so."""
        whole: dict[str, Any] = {}
        for one in fields(of):
            held = getattr(of, one.name)
            if isinstance(held, Mapping):
                whole[one.name] = {name: self.record(record) for name, record in held.items()}
            elif isinstance(held, tuple):
                whole[one.name] = tuple(self.record(record) for record in held)
            else:
                whole[one.name] = self.record(held)
        return Library(**whole)


def few() -> Library:
    """The library with one guide and one bike; the whole of its catalogue."""
    whole = library()
    return replace(whole, guides={SHORT: whole.guides[SHORT]}, bikes={FITS: whole.bikes[FITS]}, tried={})


def tainted_files(turn: int) -> tuple[dict[str, bytes], Tainting]:
    """Pages and cards by path, and what was replaced."""
    tainting = Tainting(turn)
    tainted = tainting.library(few())
    bike, guide = tainted.bikes[FITS], tainted.guides[SHORT]
    printer = Printer()
    done = [work_out(Job(guide=guide), tainted), work_out(Job(guide=guide, bike=bike), tainted)]
    ready = [one.tailored for one in done if isinstance(one, Ready)]
    site = Site(library=tainted, generic=tuple(ready[:1]), tailored=tuple(ready[1:]), typeset=convert)
    upkeep = upkeep_of(bike, tainted)
    theme = printer.theme
    pages = (
        front_page(site, theme),
        *list_pages(site, theme),
        *(guide_page(one, site, theme) for one in ready),
        bike_page(upkeep, jobs_by_bike(site).get(bike.id, JobsOfBike()), site, theme),
        upkeep_page(upkeep, site, theme),
    )
    files = {page.path: page.html.encode() for page in pages}
    files |= {path: text.encode() for path, text in site_files(site, [page.path for page in pages]).items()}
    for form, paper in ((Form.STEPS, Paper.A5), (Form.BRIEF, Paper.A5), (Form.TEACHING, Paper.A4)):
        html = printer.html(ready[-1], paper, tainted.workshop, form=form, standalone=True)
        files[f"card-{form.name.lower()}.html"] = html.encode()
    return {**theme.assets, **files}, tainting


def pages_of(files: Mapping[str, bytes]) -> Iterator[str]:
    """The paths that a reader opens."""
    return (path for path in files if path.endswith(".html"))
