"""The demo's site and cards, made once for all tests."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from latex2mathml.converter import convert

from builder.build.dressing import shipped
from builder.build.printer import Printer
from builder.build.store import kept_blocks
from builder.pages.card import card_html
from builder.pages.offline import digest_of, worker
from builder.pages.paper import Paper
from builder.pages.site import Page, Site, site_files, site_pages, with_codes
from builder.pages.theme import Theme, load_theme
from builder.printing.pdf import PdfWriter, Printed
from builder.sources.loaded import shipped_theme_names
from builder.tailoring import NotSuited, Tailored, tailor
from tests.demo import LEAD, lead_card, lead_plan, library

THEME = Path(__file__).parents[2] / "themes" / "bench"


THEMES = shipped_theme_names()


@cache
def theme(name: str = THEME.name) -> Theme:
    return load_theme(*shipped(name))


@cache
def generic_card() -> Tailored:
    return tailor(library().guides[LEAD], library())


def card_of(bike_id: str) -> Tailored:
    """The lead job for a bike; `generic` for the guide that is for any."""
    return generic_card() if bike_id == "generic" else lead_card(bike_id)


@cache
def html_of(bike_id: str, paper: Paper) -> str:
    return card_html(card_of(bike_id), theme(), paper, workshop=library().workshop)


@cache
def printer() -> Printer:
    """Prints in the house's dress, with the blocks that any process of this run laid out."""
    return Printer(theme=theme(), keeper=kept_blocks())


def writer() -> PdfWriter:
    return printer()._writer()


@cache
def printed(bike_id: str, paper: Paper) -> Printed:
    return writer().printed(html_of(bike_id, paper))


@cache
def site() -> Site:
    """What the demo's pages are made from: the lead job for any bike and for each of the fleet."""
    guide = library().guides[LEAD]
    made, refused = [], []
    for bike in library().bikes.values():
        if any(job.guide == LEAD for job in bike.jobs):
            try:
                made.append(lead_card(bike.id))
            except NotSuited as reason:
                refused.append((bike, guide, str(reason)))
    plans = {(bike.id, LEAD): lead_plan(bike.id) for bike, _, _ in refused}
    made_from = Site(
        library=library(),
        generic=(generic_card(),),
        tailored=tuple(made),
        refusals=tuple(refused),
        plans=plans,
        typeset=convert,
    )
    return with_codes(made_from, theme())


@cache
def pages(dress: str = THEME.name) -> dict[str, Page]:
    """Every page of the demo's site by its path."""
    return {page.path: page for page in site_pages(site(), theme(dress))}


def worker_of(files: Mapping[str, bytes]) -> str:
    """The script of the worker for a site of these files."""
    return worker({path: digest_of(data) for path, data in files.items()})


@cache
def files(dress: str = THEME.name) -> dict[str, bytes]:
    """The whole demo's site by path: pages, what stands beside them, the theme's assets."""
    beside = {path: text.encode() for path, text in site_files(site(), pages(dress)).items()}
    made = {page.path: page.html.encode() for page in pages(dress).values()} | beside | dict(theme(dress).assets)
    return made | {"sw.js": worker_of(made).encode()}
