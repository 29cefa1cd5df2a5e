"""The files of the site, from what the jobs came to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from latex2mathml.converter import convert

from builder.build.cards import Card
from builder.build.fingerprint import version
from builder.build.rider_files import rider_files
from builder.model.library import Library
from builder.model.memory import Memory
from builder.pages import paths
from builder.pages.form import Form
from builder.pages.offline import worker
from builder.pages.site import CardLink, Printouts, Site, site_files, site_pages, with_codes
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.proof.jobs import Outcome, Ready, Refused


def website(
    library: Library,
    outcomes: Iterable[Outcome],
    cards: Iterable[Card],
    printouts: Printouts,
    theme: Theme,
    memory: Memory | None = None,
    *,
    rider: bool = False,
    photos: Mapping[str, bytes] = MappingProxyType({}),
) -> dict[str, bytes]:
    """Every file of the site by its path below the root: pages first, then the theme's assets.

    A page of which nothing changed since `memory` began is not made again. With `rider` it has the page on which a
    rider fits a guide to a bike. `photos` are those that steps show.
    """
    done = tuple(outcomes)
    ready = [outcome.tailored for outcome in done if isinstance(outcome, Ready)]
    links: dict[tuple[str, str], tuple[CardLink, ...]] = {}
    for card in cards:
        at = (card.guide, card.bike)
        links[at] = (*links.get(at, ()), _link(card))
    site = Site(
        library=library,
        generic=tuple(tailored for tailored in ready if tailored.bike is None),
        tailored=tuple(tailored for tailored in ready if tailored.bike is not None),
        refusals=tuple(
            (outcome.job.bike, outcome.job.guide, outcome.reason)
            for outcome in done
            if isinstance(outcome, Refused) and outcome.job.bike is not None
        ),
        cards=links,
        printouts=printouts,
        typeset=convert,
        version=version(),
        rider=rider,
        memory=memory or Memory(),
    )
    site = with_codes(site, theme)
    pages: dict[str, bytes] = {}
    made = site_pages(site, theme)
    written = (
        *((page.path, page.html.encode()) for page in made),
        *((path, text.encode()) for path, text in site_files(site, made).items()),
        *theme.assets.items(),
        *((f"{paths.PHOTOS}/{name}", data) for name, data in photos.items()),
        *(rider_files(site, theme).items() if rider else ()),
    )
    for path, data in written:
        if path in pages:  # the names that would collide are refused where sources are read
            raise ValueError(f"'{path}' is written twice")
        pages[path] = data
    if script := worker(pages):
        pages[paths.WORKER] = script.encode()
    return pages


def _link(card: Card) -> CardLink:
    """The link to a card: it says the paper, and the form where it is not the usual one."""
    form = EN.forms[card.form]
    label = f"{card.paper.label}, {form}" if form else card.paper.label
    return CardLink(paper=label, href=f"cards/{card.path}", steps=card.form is Form.STEPS)
